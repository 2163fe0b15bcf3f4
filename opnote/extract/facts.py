"""Frames and slots as facts: each value with the words it came from, and those that the speaker took back for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from opnote.extract.frames import Frame, Slot
from opnote.extract.model import Fact
from opnote.extract.slots import from_mention
from opnote.language.talk import Talk
from opnote.language.terms import Mention

CASE = 0  # the frame of the case; things are numbered from one


def facts(talk: Talk, case: Iterable[Slot], frames: Sequence[Frame]) -> Iterator[Fact]:
    """The facts of the case, then those of each frame."""
    for slot in case:
        yield from _of_slot(talk, CASE, "case", slot)
    for number, frame in enumerate(frames, start=CASE + 1):
        for slot in frame.slots.values():
            yield from _of_slot(talk, number, frame.type, slot)


def _of_slot(talk: Talk, number: int, kind: str, slot: Slot) -> Iterator[Fact]:
    """The fact of a slot and those it replaces; none where nothing was said after all."""
    if slot.is_empty:
        return
    yield from _standing(talk, number, kind, slot)
    for old in (*slot.superseded, *_corrected_terms(talk, slot)):
        yield _fact(talk, number, kind, old, superseded=True)


def _standing(talk: Talk, number: int, kind: str, slot: Slot) -> Iterator[Fact]:
    """The fact of a slot; one a reading where its words may mean several values."""
    if not slot.readings:
        yield _fact(talk, number, kind, slot, superseded=False)
    for reading in slot.readings:
        yield replace(_fact(talk, number, kind, replace(slot, value=reading, said=None), superseded=False), reading=True)


def _corrected_terms(talk: Talk, slot: Slot) -> Iterator[Slot]:
    """The terms that the one in a slot was said to correct ("the femur, sorry, the tibia")."""
    for corrected in talk.corrected:
        new, old = corrected.new, corrected.old
        if isinstance(old, Mention) and (new.start, new.end) == (slot.start, slot.end):
            yield from_mention(slot.attribute, old)


def _fact(talk: Talk, number: int, kind: str, slot: Slot, *, superseded: bool) -> Fact:
    return Fact(
        talk.heard.transcript.source, number, kind, slot.attribute, slot.value, (talk.raw(slot.start, slot.end),), slot.start,
        slot.low, slot.high, slot.unit, slot.said, slot.approximate, superseded, slot.inherited, why=slot.why,
    )  # fmt: skip
