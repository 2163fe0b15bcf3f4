"""Aftercare: what is planned, and for which weeks."""

from __future__ import annotations

from dataclasses import dataclass

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention
from opnote.language.model import Quantity
from opnote.language.terms import Mention

PLANNED = {"weight bearing": "weight bearing", "brace": "brace", "thromboprophylaxis": "thromboprophylaxis"}
MOTION = frozenset({"range of motion"})
POINTS = frozenset({"follow up", "suture removal"})  # happen at a time; the others last for one
STARTS = frozenset({"from", "after", "week", "weeks", "starting", "beginning", "at"})
ENDS = frozenset({"until", "till", "to", "through", "for", "first", "up"})
TURN = frozenset({"then", "after", "thereafter"})
WEAK = frozenset({"locked", "unlocked", "partial", "full", "heparin", "hinged"})


@dataclass(frozen=True, slots=True)
class Item:
    """Something planned: where it is said, what it is, and the words for it."""

    start: int
    end: int
    item: str
    value: Mention | None


def aftercare(scene: Scene) -> list[Frame]:
    """The planned items of a statement with their weeks."""
    if scene.section in ("indications", "preop diagnosis", "postop diagnosis", "procedures", "findings"):
        return []
    items = _items(scene)
    if not items:
        return []
    bounds = [i.start for i in items[1:]] + [scene.statement.end]
    frames: list[Frame] = []
    for index, item in enumerate(items):
        left = items[index - 1].end if index else scene.statement.start
        frame = _frame(scene, item, left, bounds[index])
        if frame is not None:
            frames += [frame, *_again(scene, frame, item, bounds[index])]
    return frames


def _again(scene: Scene, first: Frame, item: Item, right: int) -> list[Frame]:
    """The further times of something that happens at a time ("at two weeks and again at six")."""
    if item.item not in POINTS:
        return []
    taken = first.slots["from_weeks"].start
    frames = []
    for quantity in scene.quantities:
        if quantity.kind == "period" and quantity.unit == "wk" and max(taken, item.end - 1) < quantity.start < right:
            frame = Frame("postop", scene.statement.index, {"item": first.slots["item"]})
            for slot in _weeks(scene, quantity, point=True):
                frame.slots.setdefault(slot.attribute, slot)
            frames.append(frame)
    return frames


def _items(scene: Scene) -> list[Item]:
    """Items in order; a value that names its item ("partial weight bearing") is one item with the word for it."""
    values = [Item(m.start, m.end, PLANNED[m.kind], m) for m in scene.mentions if m.kind in PLANNED]
    covered = {(v.item, place) for v in values for place in range(v.start - 4, v.end + 4)}
    named = [Item(m.start, m.end, m.value, None) for m in scene.of("postop item") if m.value in MOTION | POINTS or (m.value, m.start) not in covered]
    found = [i for i in (*values, *named) if i.value is not None or i.item in MOTION | POINTS]
    return sorted(found, key=lambda i: (i.start, i.end))


def _frame(scene: Scene, item: Item, left: int, right: int) -> Frame | None:
    frame = Frame("postop", scene.statement.index)
    frame.slots["item"] = Slot("item", item.start, item.end, item.item, why=("planned",))
    if item.value is not None:
        frame.slots["value"] = from_mention("value", item.value)
    weeks = [q for q in scene.quantities if q.kind == "period" and q.unit == "wk"]
    after = [q for q in weeks if item.end <= q.start < right]
    before = [q for q in weeks if left <= q.start and q.end <= item.start and not _claimed(scene, q, left)]
    for quantity in after[:2] or before[-1:]:
        for slot in _weeks(scene, quantity, point=item.item in POINTS):
            frame.slots.setdefault(slot.attribute, slot)
    if item.item in MOTION:
        span = next((q for q in scene.quantities if q.low is not None and q.high is not None and q.kind in ("angle", "number") and left <= q.start < right), None)
        if span is None:
            return None
        frame.slots["low_deg"] = Slot("low_deg", span.start, span.end, span.low, unit="deg", why=span.why)
        frame.slots["high_deg"] = Slot("high_deg", span.start, span.end, span.high, unit="deg", why=span.why)
    if item.item in POINTS and "from_weeks" not in frame.slots:
        return None
    planned = scene.section == "plan" or "from_weeks" in frame.slots or "to_weeks" in frame.slots or item.item == "weight bearing"
    return frame if planned else None


def _claimed(scene: Scene, quantity: Quantity, left: int) -> bool:
    """Whether weeks before an item belong to the item before them ("six weeks, hinged brace")."""
    return left > scene.statement.start and "," in scene.between(quantity.end, quantity.end + 1)


def _weeks(scene: Scene, quantity: Quantity, *, point: bool) -> list[Slot]:
    def slot(name: str, value: float | str | None) -> Slot:
        return Slot(name, quantity.start, quantity.end, value, unit="wk", said=quantity.said, approximate=quantity.approximate, why=quantity.why)

    if quantity.low is not None and quantity.high is not None:
        if point:
            return [Slot("from_weeks", quantity.start, quantity.end, None, quantity.low, quantity.high, "wk", quantity.said, why=quantity.why)]
        return [slot("from_weeks", quantity.low), slot("to_weeks", quantity.high)]
    lead = list(scene.talk.words[max(scene.statement.start, quantity.start - 3) : quantity.start])
    if point or (lead and lead[-1] in ("from", "after")) or lead[-2:] == ["starting", "at"]:
        return [slot("from_weeks", quantity.value)]
    return [slot("to_weeks", quantity.value)]

