"""Frames: the mentions of things in a statement, each with the values that were tied to it.

Values of a kind of thing follow each other through a statement; one that fills a slot already filled with something else begins the next
thing of that kind ("the femoral tunnel eight, the tibial tunnel nine"). What stands just before it ("a nine
millimetre", "femoral") goes with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

Scalar = bool | int | float | str


@dataclass(frozen=True, slots=True)
class Slot:
    """A value tied to an attribute: where it was said (tokens) and what it is worth."""

    attribute: str
    start: int
    end: int
    value: Scalar | None = None
    low: float | None = None
    high: float | None = None
    unit: str | None = None
    said: tuple[float, str] | None = None
    approximate: bool = False
    inherited: bool = False
    why: tuple[str, ...] = ()
    superseded: tuple[Slot, ...] = ()

    def same(self, other: Slot) -> bool:
        """Whether two slots say the same."""
        return (self.value, self.low, self.high) == (other.value, other.low, other.high)


@dataclass
class Frame:
    """One mention of a thing. Mutable while the linker works on it; facts made of it are not."""

    type: str
    statement: int
    slots: dict[str, Slot] = field(default_factory=dict)
    anchors: list[tuple[int, int]] = field(default_factory=list)
    closed: bool = False

    @property
    def start(self) -> int:
        """The first token that was said of it."""
        return min([s.start for s in self.slots.values() if not s.inherited] + [a for a, _ in self.anchors], default=0)

    @property
    def end(self) -> int:
        """The token behind the last that was said of it."""
        return max([s.end for s in self.slots.values() if not s.inherited] + [b for _, b in self.anchors], default=0)

    def get(self, name: str) -> Scalar | None:
        """The value of a slot, or None."""
        return self.slots[name].value if name in self.slots else None


def arrange(
    kind: str, statement: int, slots: Iterable[Slot], *, current: Frame | None = None, words: Sequence[str] = (), breaks: Iterable[int] = ()
) -> list[Frame]:
    """Deals the slots of one kind of thing, in order, to frames; ``current`` is the frame that the talk may still be about.

    ``breaks`` are places (tokens) at which a new thing is named even without a clash ("the second one").
    """
    frames: list[Frame] = []
    frame = current
    stops = sorted(breaks)
    for slot in sorted(slots, key=lambda s: (s.start, s.end)):
        if any(frame and frame.statement == statement and frame.slots and frame.end <= b <= slot.start for b in stops):
            frame = None
        held = frame.slots.get(slot.attribute) if frame is not None else None
        if frame is None or (held is not None and not held.same(slot)):
            moved = _premodifiers(frame, slot, words) if frame is not None and frame.statement == statement else []
            frame = Frame(kind, statement)
            for late in moved:
                frame.slots[late.attribute] = late
        if frame is not current and frame not in frames:
            frames.append(frame)
        frame.slots.setdefault(slot.attribute, slot)
    return frames


def _premodifiers(frame: Frame, slot: Slot, words: Sequence[str]) -> list[Slot]:
    """Takes from ``frame`` what directly precedes the slot that opens the next one, and belongs to it."""
    moved: list[Slot] = []
    edge = slot.start
    if (
        frame.type == "finding" and slot.attribute == "exam"
    ):  # what was found follows its examination; only an opening may lead ("nine of valgus")
        late = frame.slots.get("opening_mm")
        if late is None or late.end > slot.start or slot.start - late.end > 2 or len(frame.slots) <= 1:
            return []
        return [frame.slots.pop("opening_mm")]
    for late in sorted(frame.slots.values(), key=lambda s: -s.end):
        gap = list(words[late.end : edge])
        if late.inherited or late.end > edge or len(gap) > 1 or any(w in (",", "and", "with", "then", "at", "of", "is") for w in gap):
            continue
        if len(frame.slots) - len(moved) <= 1:
            break
        moved.append(late)
        edge = late.start
    for late in moved:
        del frame.slots[late.attribute]
    return moved
