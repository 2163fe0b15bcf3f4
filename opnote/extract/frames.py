"""Frames: the mentions of things in a statement, each with the values that were tied to it.

Values of a kind of thing follow each other through a statement; one that fills a slot already filled with something else begins the next
thing of that kind ("the femoral tunnel eight, the tibial tunnel nine"). What stands just before it ("a nine
millimetre", "femoral") goes with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from opnote.extract.model import Scalar

BREAKS = frozenset({",", "and", "with", "then", "at", "of", "is"})  # between a value and the next thing, they keep the value from it
FATE = "disposition"  # what became of a thing is said behind it: "it spun so I took it out and put an eight by twenty"
IMPLANT = "implant"
BEGINS = frozenset({"diameter_mm", "material", "kind"})  # what an implant is first told by
IDENTIFIERS = ("lot", "serial", "reference")  # what tells one implant from its twins
IDENTIFIED = frozenset({*IDENTIFIERS, "expiry"})  # what it is last told by
JOINING, ARTICLES = ("and", "then", "opened", "cracked"), ("a", "an", "another", "one")
WERE = ("was", "is", "'s")  # before "another" they tell of one more than those told before
ANOTHER = frozenset(
    {*((one, other) for one in JOINING for other in ARTICLES), ("one", "more"), *((be, "another") for be in WERE)}
)  # lead to the next thing of a kind
FOR_WITHIN = 6  # words from "and for the root" to its implant
CALLED_FOR = "called for"  # why of the kind of an implant that is called for to its bone, and read off its box afterwards
PLACE = frozenset({"bone", "structure"})  # where a thing is
ONE_MORE = "another one than before"  # why of the kind of an implant that is none of those told before
FOUND = "found there"  # why of the kind of an implant that is told as being in the knee
NAMED_ONLY = "named, and nothing more said"  # why of the kind of an implant that is none unless it is told to have come out
SPOKEN_OF_AGAIN = "spoken of again"  # why of the kind of an implant that is called "the screw"
ONLY_OPENED = "opened, and nothing more said"  # why of the kind of an implant that is none unless more is told of it
LEAD = 2  # words between an opening and the examination it leads ("nine of valgus")


@dataclass(frozen=True, slots=True)
class Slot:
    """A value tied to an attribute: where it was said (tokens) and what it is worth; ``readings`` where the words may mean several."""

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
    readings: tuple[Scalar, ...] = ()

    @property
    def is_empty(self) -> bool:
        """Whether nothing was said after all."""
        return (self.value, self.low, self.high) == (None, None, None) and not self.readings

    def same(self, other: Slot) -> bool:
        """Whether two slots say the same.

        >>> Slot("diameter_mm", 4, 5, 9.0).same(Slot("diameter_mm", 11, 12, 9.0))
        True
        """
        return (self.value, self.low, self.high, self.readings) == (other.value, other.low, other.high, other.readings)


@dataclass
class Frame:
    """One mention of a thing. Mutable while the linker works on it; facts made of it are not."""

    type: str
    statement: int
    slots: dict[str, Slot] = field(default_factory=dict)

    @property
    def start(self) -> int:
        """The first token that was said of it."""
        return min((slot.start for slot in self._own), default=0)

    @property
    def end(self) -> int:
        """The token behind the last that was said of it."""
        return max((slot.end for slot in self._own), default=0)

    @property
    def _own(self) -> list[Slot]:
        return [slot for slot in self.slots.values() if not slot.inherited]

    def get(self, name: str) -> Scalar | None:
        """The value of a slot, or None."""
        return self.slots[name].value if name in self.slots else None


def arrange(kind: str, statement: int, slots: Iterable[Slot], *, words: Sequence[str] = ()) -> list[Frame]:
    """Deals the slots of one kind of thing, in order, to frames; ``words`` are those of the whole talk.

    >>> said = "the femoral tunnel eight , tibial nine".split()
    >>> slots = [Slot("bone", 1, 2, "femur"), Slot("diameter_mm", 3, 4, 8), Slot("bone", 5, 6, "tibia"), Slot("diameter_mm", 6, 7, 9)]
    >>> [(frame.get("bone"), frame.get("diameter_mm")) for frame in arrange("tunnel", 0, slots, words=said)]
    [('femur', 8), ('tibia', 9)]
    """
    frames: list[Frame] = []
    for slot in sorted(slots, key=lambda s: (s.start, s.end)):
        held = frames[-1].slots.get(slot.attribute) if frames else None
        if not frames or (held is not None and not held.same(slot)) or _adds_another(frames[-1], slot, words):
            moved = _premodifiers(frames[-1], slot, words) if frames else []
            for late in moved:
                del frames[-1].slots[late.attribute]
            frames.append(Frame(kind, statement, {late.attribute: late for late in moved}))
        frames[-1].slots.setdefault(slot.attribute, slot)
    return frames


def _adds_another(frame: Frame, slot: Slot, words: Sequence[str]) -> bool:
    """Whether a slot begins the next implant of a list: "lot K four one, and a six by twenty three screw" speaks of two."""
    if frame.type != IMPLANT or slot.attribute not in BEGINS or IDENTIFIED.isdisjoint(frame.slots):
        return False
    return begins_another(slot.start, words) or _is_for_another(frame, slot, words)


def _is_for_another(frame: Frame, slot: Slot, words: Sequence[str]) -> bool:
    """Whether what an implant is for is told before it: "lot K four one, and for the root, cortical button"."""
    gap = [word for word in words[frame.end : slot.start] if word.isalpha()]
    return gap[:2] == ["and", "for"] and len(gap) <= FOR_WITHIN


def begins_another(place: int, words: Sequence[str]) -> bool:
    """Whether the words before a place join another thing to those before it.

    >>> begins_another(4, "a seven and a six".split()), begins_another(2, "with a six".split())
    (True, False)
    """
    return tuple(words[max(0, place - 2) : place]) in ANOTHER


def _premodifiers(frame: Frame, slot: Slot, words: Sequence[str]) -> list[Slot]:
    """What of a frame directly precedes the slot that opens the next one, and belongs to that.

    A frame keeps one slot at least, and whatever stands before the value that clashes.
    """
    if frame.type == "finding" and slot.attribute == "exam":
        return _leading_opening(frame, slot)
    moved: list[Slot] = []
    edge = slot.start
    for late in sorted(frame.slots.values(), key=lambda s: -s.end):
        gap = words[late.end : edge]
        if late.inherited or late.end > edge or len(gap) > 1 or not BREAKS.isdisjoint(gap):
            continue
        if late.attribute in (slot.attribute, FATE) or len(frame.slots) - len(moved) <= 1:
            break
        moved.append(late)
        edge = late.start
    return moved


def _leading_opening(frame: Frame, exam: Slot) -> list[Slot]:
    """What was found follows its examination; only an opening may lead it ("nine of valgus")."""
    late = frame.slots.get("opening_mm")
    if late is None or not 0 <= exam.start - late.end <= LEAD or len(frame.slots) <= 1:
        return []
    return [late]
