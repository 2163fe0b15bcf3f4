"""Clock times: what a quantity may be on the clock, and which times are of the afternoon."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.frames import Frame, Slot
from opnote.language.model import Quantity

HOUR = 60
NOON = 12 * HOUR
MARK = "clock="  # how the number grammar notes the clock time that a number may be
MORNING = frozenset({"am", "oh-prefixed"})  # how it notes that a time was said to be of the morning


def clock_of(quantity: Quantity) -> str | None:
    """The clock time that a quantity is, or may be beside an event.

    >>> clock_of(Quantity(3, 6, "number", 852.0, why=("clock=08:52",)))
    '08:52'
    """
    if quantity.kind == "clock" and isinstance(quantity.value, str):
        return quantity.value
    return next((why.removeprefix(MARK) for why in quantity.why if why.startswith(MARK)), None)


def clock_slot(quantity: Quantity, *why: str) -> Slot:
    """The slot of a clock time."""
    return Slot("clock", quantity.start, quantity.end, clock_of(quantity), why=(*quantity.why, *why))


def afternoon(frames: Sequence[Frame]) -> None:
    """Gives events the clock of the afternoon where another one is said in 24 hours ("thirteen oh five ... ten past three")."""
    clocks = [frame.slots["clock"] for frame in frames if frame.type == "event" and "clock" in frame.slots]
    late = [minutes for clock in clocks if (minutes := _minutes(clock.value)) >= NOON]
    for frame in frames:
        slot = frame.slots.get("clock") if frame.type == "event" else None
        if slot is None or not late or not MORNING.isdisjoint(slot.why):
            continue
        minutes = _minutes(slot.value)
        if minutes < NOON and _nearest(minutes + NOON, late) < _nearest(minutes, late):
            why = (*slot.why, "afternoon, as the other times are")
            frame.slots["clock"] = replace(slot, value=_written(minutes + NOON), why=why)


def _nearest(minutes: int, others: Sequence[int]) -> int:
    return min(abs(minutes - other) for other in others)


def _minutes(clock: object) -> int:
    hours, minutes = str(clock).split(":")
    return HOUR * int(hours) + int(minutes)


def _written(minutes: int) -> str:
    return f"{minutes // HOUR:02d}:{minutes % HOUR:02d}"
