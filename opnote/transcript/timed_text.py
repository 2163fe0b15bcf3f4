"""Plain text with time marks ("[0:16]", "[1:02:30]", "00:01:23") -> pieces of speech. No standard: common practice of recorders."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from opnote.transcript.assemble import share_out
from opnote.transcript.marks import SQUARE, Mark, MarkKind, mark_kind, marks_in
from opnote.transcript.reading import MendLog, Piece, Reading
from opnote.transcript.speakers import speaker_names, split_name

_CUT_MARK = re.compile(r"\[[ ]?[0-9:.,]*\Z")

#: Numbered lines.
Paragraph = list[tuple[int, str]]


@dataclass(slots=True)
class _Stretch:
    """What stands under one mark, or in front of all: its paragraphs, each a list of numbered lines."""

    mark: Mark | None
    line: int
    gap: bool = False
    paragraphs: list[Paragraph] = field(default_factory=list)

    @property
    def start_s(self) -> float | None:
        return self.mark.start_s if self.mark else None


def read_timed_text(text: str) -> Reading:
    """Read a text with time marks; what stands under a mark lasts until the next one, what stands in front of all has no time."""
    log = MendLog()
    whole = _CUT_MARK.sub("", text)
    if len(whole) < len(text):
        log.note(text.count("\n") + 1, "the file stops in the middle of a time mark, which is left out", "cut")
    stretches = [stretch for stretch in _stretches(whole, mark_kind(whole) or SQUARE) if stretch.paragraphs or stretch.mark]
    names = _names(stretches)
    pieces: list[Piece] = []
    for stretch, following in zip(stretches, [*stretches[1:], None], strict=True):
        _note_irregular(stretch, log)
        pieces.extend(share_out(_turns(stretch, names), stretch.start_s, _end(stretch, following)))
    return Reading(tuple(pieces), log.mends())


def _stretches(text: str, kind: MarkKind) -> Iterator[_Stretch]:
    stretch, gap, fresh = _Stretch(None, 1), False, True
    for number, line in enumerate(text.split("\n"), start=1):
        if not line.strip():
            gap, fresh = True, True
            continue
        for mark, words in _split(line, kind):
            if mark is not None:
                yield stretch
                stretch, fresh = _Stretch(mark, number, gap), True
            gap = False
            if words.strip():
                stretch.paragraphs.extend([[]] if fresh else [])
                stretch.paragraphs[-1].append((number, words))
                fresh = False
    yield stretch


def _split(line: str, kind: MarkKind) -> Iterator[tuple[Mark | None, str]]:
    """The marks in a line, each with the words behind it; words in front of the first come with None."""
    marks = marks_in(line, kind)
    before = line[: marks[0].start] if marks else line
    if before.strip():
        yield None, before
    for index, mark in enumerate(marks):
        stop = marks[index + 1].start if index + 1 < len(marks) else len(line)
        yield mark, line[mark.end : stop]


def _names(stretches: Sequence[_Stretch]) -> frozenset[str]:
    """The speakers named behind the marks or, in a text with few marks, at the beginning of lines."""
    lines = [[words for paragraph in stretch.paragraphs for _, words in paragraph] for stretch in stretches]
    behind_marks = speaker_names((words[0] for words in lines if words), timed=True)
    return behind_marks | speaker_names(itertools.chain.from_iterable(lines), timed=True)


def _turns(stretch: _Stretch, names: frozenset[str]) -> list[Piece]:
    """A piece for each paragraph, and for each line within one that begins with a speaker's name."""
    pieces: list[Piece] = []
    speaker: str | None = None
    for paragraph in stretch.paragraphs:
        for index, (number, words) in enumerate(paragraph):
            name, rest = split_name(words, names)
            speaker = name or speaker
            if index == 0 or name is not None:
                pieces.append(Piece(rest, number, speaker=speaker, paragraph=stretch.gap if not pieces else True, named=name is not None))
            else:
                before = pieces[-1]
                pieces[-1] = Piece(
                    f"{before.text}\n{rest}", before.line, speaker=before.speaker, paragraph=before.paragraph, named=before.named
                )
    return pieces


def _end(stretch: _Stretch, following: _Stretch | None) -> float | None:
    """The end that the mark gives, or the next mark; none for the last mark, or where the next one is earlier."""
    if stretch.mark is None:
        return None
    end_s = stretch.mark.end_s if stretch.mark.end_s is not None else following.start_s if following else None
    return end_s if end_s is not None and end_s >= stretch.mark.start_s else None


def _note_irregular(stretch: _Stretch, log: MendLog) -> None:
    if stretch.mark is None:
        log.note(stretch.paragraphs[0][0][0], "words in front of the first time mark are kept without a time")
    elif not stretch.mark.regular:
        log.note(stretch.line, "a time mark with more than 59 minutes or seconds is read as it stands")
