"""What the words may be: the transcript's text with the edits that made it readable."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from opnote.spans import RawSpan, TextSpan
from opnote.transcript.model import Transcript

EditKind = Literal["layout", "filler", "restart", "repair"]


@dataclass(frozen=True, slots=True)
class Edit:
    """The dictated characters ``raw`` are read as ``read_as`` (empty: left out), and why (a lexicon id or a rule's name).

    layout   a spoken layout word ("comma", "new paragraph")
    filler   a word without content ("um", "you know")
    restart  words said and at once said again ("a a seven")
    repair   a mis-hearing for which one reading only is a term in its place
    """

    raw: RawSpan
    read_as: str
    kind: EditKind
    why: str
    ask: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """A doubtful word: what it may be, likeliest first, each with a weight of 0 to 1; a later stage picks or asks."""

    text: TextSpan
    options: tuple[tuple[str, float], ...]
    why: str


@dataclass(frozen=True)
class Heard:
    """The transcript's text after ``edits`` (in order, not overlapping); ``replay`` of the edits gives ``text`` exactly."""

    transcript: Transcript
    text: str
    edits: tuple[Edit, ...]
    readings: tuple[Reading, ...] = ()

    @cached_property
    def _pieces(self) -> tuple[list[int], list[tuple[int, int, int, int, bool]]]:
        pieces: list[tuple[int, int, int, int, bool]] = []
        raw = text = 0
        for edit in self.edits:
            if edit.raw.start > raw:
                width = edit.raw.start - raw
                pieces.append((text, text + width, raw, edit.raw.start, False))
                text += width
            pieces.append((text, text + len(edit.read_as), edit.raw.start, edit.raw.end, True))
            text += len(edit.read_as)
            raw = edit.raw.end
        pieces.append((text, text + len(self.transcript.text) - raw, raw, len(self.transcript.text), False))
        kept = [piece for piece in pieces if piece[1] > piece[0]] or pieces[-1:]
        return [piece[0] for piece in kept], kept

    def raw(self, span: TextSpan) -> RawSpan:
        """The dictated characters behind the read characters ``span``; an edited word maps to all it replaced."""
        starts, pieces = self._pieces

        def place(char: int, *, end: bool) -> int:
            text0, _, raw0, raw1, edited = pieces[max(0, bisect_right(starts, char) - 1)]
            if edited:
                return raw1 if end else raw0
            return min(raw1, raw0 + char - text0)

        start = place(span.start, end=False)
        if span.end <= span.start:
            return RawSpan(start, start)
        last = place(span.end - 1, end=True)
        _, _, _, _, edited = pieces[max(0, bisect_right(starts, span.end - 1) - 1)]
        return RawSpan(start, max(start, last if edited else last + 1))


def replay(text: str, edits: tuple[Edit, ...]) -> str:
    """The text that ``edits`` make of ``text``: the contract that keeps the explanation true to the deed."""
    out: list[str] = []
    at = 0
    for edit in edits:
        if edit.raw.start < at:
            raise ValueError(f"edits overlap or run backwards at character {edit.raw.start}")
        out += [text[at : edit.raw.start], edit.read_as]
        at = edit.raw.end
    return "".join([*out, text[at:]])
