"""The account: every word of a dictation in exactly one row, with what became of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from opnote.extract.model import Extraction
from opnote.language.talk import Talk
from opnote.record.model import AccountRow, Status
from opnote.spans import RawSpan
from opnote.transcript.model import Segment

ASIDE = {
    "option": "an option, not said to be done",
    "rule": "a general rule or teaching",
    "not done": "said not to be done",
    "elsewhere": "another patient, an earlier operation or the other side",
    "question": "a question",
    "ghost": "words the recogniser put into silence",
}
IN_NARRATIVE = frozenset({"not done"})  # pertinent negatives stay in the description
BACK = "taken back by the speaker"
LONGEST_CORRECTION = 14  # words from a value to the one that replaces it
COUNTING = frozenset({"ordinal", "suture size", "age"})  # read, and meant to fill no attribute
SILENT_EDITS = frozenset({"layout", "filler", "restart"})


@dataclass(frozen=True, slots=True)
class _Word:
    start: int
    end: int
    status: Status
    reason: str
    statement: int
    section: str


def account(talk: Talk, extraction: Extraction) -> Iterator[AccountRow]:
    """The rows of one source, in order."""
    words = list(_words(talk, extraction))
    transcript = talk.heard.transcript
    labels = {s.start: s for s in transcript.segments if s.named and s.speaker}
    for _, group in groupby(words, key=lambda w: (w.status, w.reason, w.statement, w.start in labels)):
        run = list(group)
        if run[0].start in labels:
            yield _label(labels[run[0].start], transcript.source, run[0])
        span = RawSpan(run[0].start, run[-1].end)
        start_s, end_s = transcript.seconds(span)
        yield AccountRow(
            status=run[0].status, reason=run[0].reason, source=transcript.source, start_s=start_s, end_s=end_s,
            chars=(span.start, span.end),
            quote=transcript.quote(span), read=_read(talk, span), statement=run[0].statement, section=run[0].section,
        )  # fmt: skip


def _label(segment: Segment, source: str, word: _Word) -> AccountRow:
    """A speaker's name that stands in the file before the words: nobody said it."""
    return AccountRow(
        status="set aside", reason="the speaker's name", source=source, start_s=segment.start_s, end_s=segment.start_s,
        chars=(segment.start, segment.start), quote=f"{segment.speaker}:", statement=word.statement, section=word.section,
    )  # fmt: skip


def _words(talk: Talk, extraction: Extraction) -> Iterator[_Word]:
    text = talk.heard.transcript.text
    used = _covered([span for fact in extraction.facts if not fact.inherited and not fact.superseded for span in fact.spans], len(text))
    left = [c.quantity for c in extraction.choices if c.won is None and c.quantity.kind not in COUNTING]
    unplaced = _covered([talk.raw(q.start, q.end) for q in left], len(text))
    silent = _covered([e.raw for e in talk.heard.edits if e.kind in SILENT_EDITS], len(text))
    back = _covered(_taken_back(talk), len(text))
    tokens = _tokens(talk, len(text))
    clinical = _clinical(talk, used, unplaced)
    statement = 0
    for found in re.finditer(r"\S+", text):
        start, end = found.span()
        token = next((tokens[i] for i in range(start, end) if tokens[i] >= 0), -1)
        statement = _statement_of(talk, token, statement)
        if any(back[start:end]) and not all(silent[start:end]):
            yield _Word(start, end, "set aside", BACK, statement, talk.statements[statement].section if talk.statements else "")
            continue
        status, reason = _status(talk, token, start, end, used, unplaced, silent, statement in clinical)
        yield _Word(start, end, status, reason, statement, talk.statements[statement].section if talk.statements else "")


def _taken_back(talk: Talk) -> list[RawSpan]:
    """The words of each corrected value and of its correction, up to the value that stands."""
    return [talk.raw(c.old.start, c.new.start) for c in talk.corrected if 0 < c.new.start - c.old.start <= LONGEST_CORRECTION]


def _status(
    talk: Talk, token: int, start: int, end: int, used: bytearray, unplaced: bytearray, silent: bytearray, clinical: bool
) -> tuple[Status, str]:
    if any(used[start:end]):
        return "used", ""
    if all(silent[start:end]):
        return "filler", ""
    stance = talk.stances[token] if token >= 0 else None
    if stance is not None and stance.name in ASIDE and stance.name not in IN_NARRATIVE:
        return "set aside", ASIDE[stance.name]
    if any(unplaced[start:end]):
        return "unplaced", ""
    return ("narrative", "") if clinical else ("set aside", "talk that says nothing of the operation")


def _clinical(talk: Talk, used: bytearray, unplaced: bytearray) -> frozenset[int]:
    """Statements that speak of the operation: with a term, a used value or a quantity in them."""
    named = {m.start for m in talk.mentions}
    counted = {q.start for q in talk.quantities if q.kind not in ("ordinal", "number")}
    clinical = set()
    for statement in talk.statements:
        inside = range(statement.start, statement.end)
        raw = talk.raw(statement.start, statement.end)
        if (
            statement.section
            or any(i in named or i in counted for i in inside)
            or any(used[raw.start : raw.end])
            or any(unplaced[raw.start : raw.end])
        ):
            clinical.add(statement.index)
    return frozenset(clinical)


def _covered(spans: Sequence[RawSpan], length: int) -> bytearray:
    cover = bytearray(length)
    for span in spans:
        cover[span.start : span.end] = b"\x01" * (span.end - span.start)
    return cover


def _tokens(talk: Talk, length: int) -> list[int]:
    """For each dictated character the token it is read in, or -1."""
    out = [-1] * length
    for token in talk.doc:
        raw = talk.raw(token.i, token.i + 1)
        for place in range(raw.start, raw.end):
            if out[place] < 0:
                out[place] = token.i
    return out


def _statement_of(talk: Talk, token: int, current: int) -> int:
    """The statement a token stands in; statements come in order, so the search only moves ahead."""
    if token < 0 or not talk.statements:
        return current
    while current + 1 < len(talk.statements) and talk.statements[current].end <= token:
        current += 1
    return current


def _read(talk: Talk, span: RawSpan) -> str:
    """A stretch as it is read: after hearing's edits."""
    pieces: list[str] = []
    at = span.start
    text = talk.heard.transcript.text
    for edit in talk.heard.edits:
        if edit.raw.end <= span.start or edit.raw.start >= span.end:
            continue
        pieces += [text[at : max(at, edit.raw.start)], edit.read_as if edit.raw.start >= span.start else ""]
        at = max(at, min(edit.raw.end, span.end))
    return "".join([*pieces, text[at : span.end]]).strip(" ")
