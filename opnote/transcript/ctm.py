"""NIST CTM (time-marked conversations) -> pieces of speech (NIST Scoring Toolkit, description of the "ctm" format).

A line is ``recording channel start duration word [confidence [type [speaker]]]``; ``;;`` begins a comment.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from opnote.transcript.clock import finite
from opnote.transcript.reading import MendLog, Piece, Reading, SpokenWord
from opnote.transcript.utterances import Heard, by_time, utterances

_NUMBER = r"(?:[0-9]{1,9}(?:\.[0-9]{0,9})?|\.[0-9]{1,9})(?:[eE][-+]?[0-9]{1,2})?"
#: What stands where a time should: one that cannot be true, or a word for none.
_NO_TIME = rf"[-+]?(?:{_NUMBER}|[0-9]{{1,40}}|nan|inf)|\*|-|n/?a|none|null"
_FIELDS = (
    r"\s*(?P<recording>\S+)\s+(?P<channel>\S+)\s+(?P<start>{0})\s+(?P<length>{0})\s+(?P<word>\S+)"
    r"(?:\s+(?P<confidence>\S+)(?:\s+(?P<type>\S+)(?:\s+(?P<speaker>\S+))?)?)?\s*$"
)
_LINE = re.compile(_FIELDS.format(_NUMBER))
_TOLERATED = re.compile(_FIELDS.format(_NO_TIME), re.IGNORECASE)
_ALTERNATIVES = re.compile(r"\s*\S+\s+\S+\s+\S+\s+\S+\s+<ALT(?P<what>_BEGIN|_END|)>\s*$", re.IGNORECASE)
#: Words that stand for no speech: NIST's "@" and the empty words of decoders.
_NO_WORD = frozenset(("@", "<eps>", "<sil>", "sil", "<s>", "</s>"))
_NO_SPEAKER = frozenset(("unknown", "null", "<na>", "na"))
#: Types of entries that are sounds or remarks and no words (the column's other types are kinds of words).
_NO_WORD_TYPE = frozenset(("non-lex", "misc"))


@dataclass(frozen=True, slots=True)
class _Row:
    recording: str
    channel: str
    speaker: str | None
    line: int
    word: SpokenWord
    timed: bool


def is_ctm_line(line: str, *, tolerant: bool = False) -> bool:
    """Whether ``line`` can be a line of a CTM file: a word with its times, or the mark of an alternative.

    ``tolerant`` takes a time that cannot be true for one too, as the reader does.

    >>> is_ctm_line("dict_1 A 0.84 0.50 patella 0.79")
    True
    """
    told = _LINE.match(line) or _ALTERNATIVES.match(line) or (_TOLERATED.match(line) if tolerant else None)
    return told is not None


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
        match = _LINE.match(line) or _TOLERATED.match(line)
        if match is None:
            log.note(number, "a line that is no timed word is left out")
        elif (match["type"] or "").lower() in _NO_WORD_TYPE:
            log.note(number, "a sound that is no word is left out")
        elif not skipping and match["word"].lower() not in _NO_WORD:
            yield _row(match, number, log)


def _row(match: re.Match[str], number: int, log: MendLog) -> _Row:
    start_s, length_s = finite(match["start"]), finite(match["length"])
    timed = start_s is not None and length_s is not None and start_s >= 0 and length_s >= 0
    if not timed:
        log.note(number, "a word's time is no number of seconds; the word is kept without it", "time")
    confidence = finite(match["confidence"])
    if confidence is not None and not 0 <= confidence <= 1:
        confidence = None
    speaker = match["speaker"] if (match["speaker"] or "").lower() not in _NO_SPEAKER else None
    begin_s, end_s = (start_s or 0.0, (start_s or 0.0) + (length_s or 0.0)) if timed else (0.0, 0.0)
    word = SpokenWord(match["word"], round(begin_s, 3), round(end_s, 3), confidence)
    return _Row(match["recording"], match["channel"], speaker, number, word, timed)


def _recording(rows: Sequence[_Row]) -> list[Piece]:
    """The utterances of one recording; where it has several channels, each is a speaker, and times order their talk."""
    channels = _grouped(rows, lambda row: row.channel)
    several = len(channels) > 1
    pieces = [piece for channel in channels for piece in utterances(_heard(row, several=several) for row in channel)]
    return by_time(pieces) if several else pieces


def _heard(row: _Row, *, several: bool) -> Heard:
    return Heard(row.word, timed=row.timed, speaker=row.speaker or (row.channel if several else None), line=row.line)
