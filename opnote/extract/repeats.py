"""Values that are said by pointing at those of the thing before: "same size, same PEEK", "of the same material, same expiry"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import USABLE, Scene
from opnote.lexicon import AttributeEntry

SAME = "same"
JUST_BEFORE = 2  # statements before one that only points ("Same expiry."), in which its thing was spoken of


def repeated(frames: Sequence[Frame], told: Sequence[Scene]) -> None:
    """Gives the things of a talk the values that were said to be the same as those of the thing before them."""
    for scene in told:
        for place, entry in _pointed(scene):
            target = _target(frames, scene, place, entry)
            source = None if target is None else _source(frames, target, place, entry)
            if target is not None and source is not None:
                why = (f"the same {entry.label} as the one before",)
                target.slots[entry.name] = replace(source, start=place, end=place + 2, why=why, superseded=())


def _pointed(scene: Scene) -> Iterator[tuple[int, AttributeEntry]]:
    """Where a statement says that something is the same, and each attribute that may be meant."""
    words, last = scene.talk.words, scene.statement.end - 1
    for place in range(scene.statement.start, last):
        if words[place] != SAME or scene.talk.stances[place].name not in USABLE or _is_compared(scene, place + 2):
            continue
        for entry in scene.lexicon.attributes.values():
            if words[place + 1] in entry.same and not _is_told(scene, place, entry):
                yield place, entry


def _is_compared(scene: Scene, end: int) -> bool:
    """Whether it is the same as something else ("the same size as the graft"), which need not be the one before ("as the last")."""
    behind = scene.between(end, min(scene.statement.end, end + 3))
    return behind[:1] == ("as",) and scene.words_of("the-one-before").isdisjoint(behind[1:])


def _is_told(scene: Scene, place: int, entry: AttributeEntry) -> bool:
    """Whether the value itself is said behind ("the same lot, K four one")."""
    kinds = {*entry.quantities, entry.value}
    return any(q.start >= place and q.kind in kinds for q in scene.quantities)


def _target(frames: Sequence[Frame], scene: Scene, place: int, entry: AttributeEntry) -> Frame | None:
    """The thing of which it is said: the nearest of its statement, else the last one spoken of just before."""
    mine = [frame for frame in frames if frame.type == entry.type]
    here = [(_nearest(frame, scene, place), order, frame) for order, frame in enumerate(mine)]
    near = [(gap, order, frame) for gap, order, frame in here if gap is not None]
    if near:
        found = min(near, key=lambda one: one[:2])[2]
    else:
        floor = scene.talk.statements[max(0, scene.statement.index - JUST_BEFORE)].start
        before = [frame for frame in mine if any(floor <= slot.start < place for slot in _own(frame))]
        if not before or scene.mentions:
            return None
        found = max(before, key=lambda frame: max(slot.start for slot in _own(frame) if slot.start < place))
    return None if entry.name in found.slots and not found.slots[entry.name].inherited else found


def _nearest(frame: Frame, scene: Scene, place: int) -> int | None:
    """The words between a place and the nearest of what its statement says of a thing."""
    inside = [slot for slot in _own(frame) if scene.statement.start <= slot.start < scene.statement.end]
    return min((max(slot.start - place, place - slot.end, 0) for slot in inside), default=None)


def _own(frame: Frame) -> list[Slot]:
    return [slot for slot in frame.slots.values() if not slot.inherited]


def _source(frames: Sequence[Frame], target: Frame, place: int, entry: AttributeEntry) -> Slot | None:
    """The value last said of another thing of the type: of one of its kind, but for a date, which may be any box's."""
    kind = None if entry.value == "date" else target.get("kind")
    others = [f for f in frames if f.type == entry.type and f is not target and (kind is None or f.get("kind") in (None, kind))]
    said = [f.slots[entry.name] for f in others if entry.name in f.slots]
    before = [slot for slot in said if not slot.inherited and slot.end <= place]
    return max(before, key=lambda slot: slot.end, default=None)
