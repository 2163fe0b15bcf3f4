"""NIST CTM (time-marked conversations) -> pieces of speech (NIST Scoring Toolkit, description of the "ctm" format).

A line is ``recording channel start duration word [confidence [type speaker]]``; ``;;`` begins a comment.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from opnote.transcript.clock import finite
from opnote.transcript.reading import MendLog, Piece, Reading, SpokenWord
from opnote.transcript.utterances import Heard, utterances

_NUMBER = r"[0-9]{1,9}(?:\.[0-9]{0,9})?|\.[0-9]{1,9}"
_LINE = re.compile(
    rf"\s*(?P<recording>\S+)\s+(?P<channel>\S+)\s+(?P<start>{_NUMBER})\s+(?P<length>{_NUMBER})\s+(?P<word>\S+)"
    r"(?:\s+(?P<confidence>\S+)(?:\s+(?P<type>\S+)(?:\s+(?P<speaker>\S+))?)?)?\s*$"
)
_ALTERNATIVES = re.compile(r"\s*\S+\s+\S+\s+\S+\s+\S+\s+<ALT(?P<what>_BEGIN|_END|)>\s*$", re.IGNORECASE)
#: Words that stand for no speech: NIST's "@" and the empty words of decoders.
_NO_WORD = frozenset(("@", "<eps>", "<sil>", "sil", "<s>", "</s>"))
_NO_SPEAKER = frozenset(("unknown", "null", "<na>"))


@dataclass(frozen=True, slots=True)
class _Row:
    recording: str
    channel: str
    speaker: str | None
    line: int
    word: SpokenWord


def is_ctm_line(line: str) -> bool:
    """Whether ``line`` can be a line of a CTM file: a word with its times, or the mark of an alternative.

    >>> is_ctm_line("dict_1 A 0.84 0.50 patella 0.79")
    True
    """
    return _LINE.match(line) is not None or _ALTERNATIVES.match(line) is not None


def read_ctm(text: str) -> Reading:
    """Read a CTM file; with several channels, each is a speaker and their utterances are put in the order of time."""
    log = MendLog()
    _note_cut(text, log)
    recordings = _grouped(_rows(text, log), lambda row: row.recording)
    if len(recordings) > 1:
        log.note(None, f"the file holds {len(recordings)} recordings; they are read one after the other, each with its own times")
    pieces = [piece for rows in recordings for piece in _recording(rows)]
    return Reading(tuple(pieces), log.mends())


def _note_cut(text: str, log: MendLog) -> None:
    """Note a last line that has no line end and fewer fields than every line above it."""
    *above, last = [line for line in text.split("\n") if line.strip() and not line.lstrip().startswith(";;")] or [""]
    fewest = min((len(line.split()) for line in above if is_ctm_line(line)), default=0)
    if not text.endswith("\n") and len(last.split()) < fewest:
        log.note(text.count("\n") + 1, "the file stops in the middle of a line", "cut")


def _grouped(rows: Iterable[_Row], key: Callable[[_Row], str]) -> list[list[_Row]]:
    groups: dict[str, list[_Row]] = {}
    for row in rows:
        groups.setdefault(key(row), []).append(row)
    return list(groups.values())


def _rows(text: str, log: MendLog) -> Iterator[_Row]:
    skipping = False
    for number, line in enumerate(text.split("\n"), start=1):
        if not line.strip() or line.lstrip().startswith(";;"):
            continue
        if (mark := _ALTERNATIVES.match(line)) is not None:
            skipping = mark["what"] == ""
            if skipping:
                log.note(number, "other readings of the words before are left out")
            continue
        match = _LINE.match(line)
        if match is None:
            log.note(number, "a line that is no timed word is left out")
        elif not skipping and match["word"].lower() not in _NO_WORD:
            yield _row(match, number)


def _row(match: re.Match[str], number: int) -> _Row:
    start_s = float(match["start"])
    confidence = finite(match["confidence"])
    if confidence is not None and not 0 <= confidence <= 1:
        confidence = None
    speaker = match["speaker"] if (match["speaker"] or "").lower() not in _NO_SPEAKER else None
    word = SpokenWord(match["word"], round(start_s, 3), round(start_s + float(match["length"]), 3), confidence)
    return _Row(match["recording"], match["channel"], speaker, number, word)


def _recording(rows: Sequence[_Row]) -> list[Piece]:
    """The utterances of one recording; where it has several channels, each is a speaker, and times order their talk."""
    channels = _grouped(rows, lambda row: row.channel)
    several = len(channels) > 1
    pieces = [piece for channel in channels for piece in utterances(_heard(row, several=several) for row in channel)]
    return sorted(pieces, key=lambda piece: piece.start_s or 0.0) if several else pieces


def _heard(row: _Row, *, several: bool) -> Heard:
    return Heard(row.word, timed=True, speaker=row.speaker or (row.channel if several else None), line=row.line)
