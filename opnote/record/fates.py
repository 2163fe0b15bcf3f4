"""What became of every word of a dictation: used, kept for the narrative, set aside with a reason, filler or unplaced."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from opnote.extract.model import Extraction
from opnote.language.talk import Talk
from opnote.record.model import Status
from opnote.spans import RawSpan

WORD = re.compile(r"\S+")
ASIDE = {  # why the words of a stance are set aside; "not done" is not: pertinent negatives stay in the description
    "option": "an option, not said to be done",
    "rule": "a general rule or teaching",
    "elsewhere": "another patient, an earlier operation or the other side",
    "question": "a question",
    "ghost": "words the recogniser put into silence",
}
BACK = "taken back by the speaker"
IDLE = "talk that says nothing of the operation"
LONGEST_CORRECTION = 14  # words from a value to the one that replaces it
COUNTING = frozenset({"ordinal", "suture size", "age"})  # read, and meant to fill no attribute
PLAIN = frozenset({"ordinal", "number"})  # of themselves they say nothing of the operation
SILENT_EDITS = frozenset({"layout", "filler", "restart"})


@dataclass(frozen=True, slots=True)
class Fate:
    """A dictated word (characters ``start`` to ``end``), what became of it, why, and the number of its statement."""

    start: int
    end: int
    status: Status
    reason: str
    statement: int


class Cover:
    """Characters of a text that some spans cover.

    >>> cover = Cover([RawSpan(0, 4)], length=9)
    >>> cover.touches(3, 6), cover.touches(4, 6), cover.fills(1, 4)
    (True, False, True)
    """

    def __init__(self, spans: Iterable[RawSpan], *, length: int) -> None:
        self._marks = bytearray(length)
        for span in spans:
            self._marks[span.start : span.end] = b"\x01" * (span.end - span.start)

    def touches(self, start: int, end: int) -> bool:
        """Whether one of the characters is covered."""
        return self._marks.find(1, start, end) >= 0

    def fills(self, start: int, end: int) -> bool:
        """Whether all of the characters are covered."""
        return self._marks.find(0, start, end) < 0


@dataclass(frozen=True)
class Traces:
    """What the stages left behind on the dictated characters of one source."""

    talk: Talk
    extraction: Extraction
    surgical: frozenset[str] = frozenset()

    @cached_property
    def used(self) -> Cover:
        """Words of the values that stand."""
        return self._cover(s for fact in self.extraction.facts if not fact.inherited and not fact.superseded for s in fact.spans)

    @cached_property
    def unplaced(self) -> Cover:
        """Quantities that the linker could tie to nothing, or to a thing that the record does not hold."""
        counted = (c.quantity for c in self.extraction.choices if c.quantity.kind not in COUNTING)
        spans = (self.talk.raw(quantity.start, quantity.end) for quantity in counted)
        held = self._cover(span for fact in self.extraction.facts for span in fact.spans)
        return self._cover(span for span in spans if not held.touches(span.start, span.end))

    @cached_property
    def silent(self) -> Cover:
        """Fillers, restarts and spoken layout words."""
        return self._cover(edit.raw for edit in self.talk.heard.edits if edit.kind in SILENT_EDITS)

    @cached_property
    def back(self) -> Cover:
        """Each corrected value and its correction, up to the value that stands."""
        pairs = ((c.old.start, c.new.start) for c in self.talk.corrected)
        return self._cover(self.talk.raw(old, new) for old, new in pairs if 0 < new - old <= LONGEST_CORRECTION)

    @cached_property
    def clinical(self) -> frozenset[int]:
        """Statements that speak of the operation: under a heading, or with a term, a surgical word, a quantity or a used value in them."""
        named = {m.start for m in self.talk.mentions} | {q.start for q in self.talk.quantities if q.kind not in PLAIN}
        return frozenset(
            statement.index
            for statement in self.talk.statements
            if statement.section
            or not self.surgical.isdisjoint(self.talk.words[statement.start : statement.end])
            or not named.isdisjoint(range(statement.start, statement.end))
            or self._spoken(self.talk.raw(statement.start, statement.end))
        )

    def _spoken(self, span: RawSpan) -> bool:
        return self.used.touches(span.start, span.end) or self.unplaced.touches(span.start, span.end)

    def _cover(self, spans: Iterable[RawSpan]) -> Cover:
        return Cover(spans, length=len(self.talk.heard.transcript.text))


def fates(talk: Talk, extraction: Extraction, surgical: frozenset[str] = frozenset()) -> Iterator[Fate]:
    """Every word of a source, in order, with what became of it; takes time in proportion to the words."""
    traces = Traces(talk, extraction, surgical)
    tokens = first_tokens(talk)
    at = 0
    for word in WORD.finditer(talk.heard.transcript.text):
        start, end = word.span()
        token = next((token for token in tokens[start:end] if token is not None), None)
        at = _statement_of(talk, token, at)
        status, reason = _status(traces, start, end, token, clinical=at in traces.clinical)
        yield Fate(start, end, status, reason, at)


def _status(traces: Traces, start: int, end: int, token: int | None, *, clinical: bool) -> tuple[Status, str]:
    """What became of one word: the strongest of what the stages say of it."""
    if traces.back.touches(start, end):
        return "set aside", BACK
    if traces.used.touches(start, end):
        return "used", ""
    if traces.silent.fills(start, end):
        return "filler", ""
    stance = traces.talk.stances[token].name if token is not None else "done"
    if stance in ASIDE:
        return "set aside", ASIDE[stance]
    if traces.unplaced.touches(start, end):
        return "unplaced", ""
    return ("narrative", "") if clinical else ("set aside", IDLE)


def first_tokens(talk: Talk) -> list[int | None]:
    """For each dictated character the first token that is read from it; None where nothing is."""
    tokens: list[int | None] = [None] * len(talk.heard.transcript.text)
    for token in talk.doc:
        raw = talk.raw(token.i, token.i + 1)
        for place in range(raw.start, raw.end):
            if tokens[place] is None:
                tokens[place] = token.i
    return tokens


def _statement_of(talk: Talk, token: int | None, at: int) -> int:
    """The statement a token stands in, from the one ``at`` which the word before stood: statements come in order."""
    if token is None:
        return at
    while at + 1 < len(talk.statements) and talk.statements[at].end <= token:
        at += 1
    return at
