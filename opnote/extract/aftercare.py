"""Aftercare: what is planned, and for which weeks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

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
SIDE_BY_SIDE = 4  # words
TURN = frozenset({"then", "thereafter", "from"})
AFTER = frozenset({"weight bearing", "brace", "thromboprophylaxis", "postop item"})
BENDING = frozenset({"flexion", "bend", "bending", "flex", "flexing", "motion", "movement", "range", "rom", "beyond", "past"})
LIMITS = frozenset({"limited", "to", "beyond", "past", "than", "up", "maximum", "until"})


@dataclass(frozen=True, slots=True)
class Item:
    """Something planned: where it is said, what it is, and the words for it."""

    start: int
    end: int
    item: str
    value: Mention | None


def aftercare(scene: Scene) -> list[Frame]:
    """The planned items of a statement with their weeks."""
    if scene.section in ("indications", "preop diagnosis", "postop diagnosis"):
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
            _takes_over(scene, frame, frames)
            frames += [frame, *_again(scene, frame, item, bounds[index])]
    return frames


def _takes_over(scene: Scene, frame: Frame, frames: Sequence[Frame]) -> None:
    """ "touch down for two weeks, then partial to six": the second begins where the first of its kind ends."""
    if "from_weeks" in frame.slots or not frames or frame.get("item") in POINTS:
        return
    before = next((f for f in reversed(frames) if f.get("item") == frame.get("item")), None)
    if before is None or "to_weeks" not in before.slots:
        return
    between = set(scene.between(before.start, frame.slots["item"].start)) | set(
        scene.between(frame.slots["item"].end, frame.slots["item"].end + 2)
    )
    if between & TURN:
        ended = before.slots["to_weeks"]
        frame.slots["from_weeks"] = replace(ended, attribute="from_weeks", why=(*ended.why, "where the one before it ends"))


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
    points = _once([Item(m.start, m.end, m.value, None) for m in scene.of("postop item") if m.value in POINTS])
    context = bool(values or points or scene.of("postop item")) or scene.section == "plan" or speaks_of_aftercare(scene)
    ranges = [Item(q.start, q.end, "range of motion", None) for q in scene.quantities if context and _is_range(scene, q)]
    return sorted([*values, *points, *ranges], key=lambda i: (i.start, i.end))


def _once(points: Sequence[Item]) -> list[Item]:
    """ "I see her in clinic" is one follow-up: of two words for it side by side the later is kept."""
    kept: list[Item] = []
    for point in points:
        if kept and kept[-1].item == point.item and point.start - kept[-1].end <= SIDE_BY_SIDE:
            kept.pop()
        kept.append(point)
    return kept


def speaks_of_aftercare(scene: Scene) -> bool:
    """Whether the statement before planned something, and this one goes on in weeks."""
    weeks = any(q.kind == "period" for q in scene.quantities) or {"weeks", "week"} & set(scene.words)
    return bool({"weight bearing", "brace", "thromboprophylaxis", "postop item"} & scene.topics) and bool(
        weeks or {"first", "degrees"} & set(scene.words)
    )


def _is_range(scene: Scene, quantity: Quantity) -> bool:
    """A range of knee flexion: two angles, or an upper limit of bending."""
    if quantity.kind not in ("angle", "number") or (scene.of("isometry result", "opens") and scene.section != "plan"):
        return False
    if quantity.low is not None and quantity.high is not None:
        return -15 <= quantity.low <= 60 and 20 <= quantity.high <= 160
    limit = scene.between(max(scene.statement.start, quantity.start - 4), quantity.start)
    bent = bool(BENDING & set(scene.words)) and bool(LIMITS & set(limit)) and "week" not in limit and "weeks" not in limit
    return (
        bent
        and isinstance(quantity.value, float)
        and 20 <= quantity.value <= 140
        and not any(w in ("week", "weeks") for w in scene.between(quantity.end, quantity.end + 1))
    )


def _frame(scene: Scene, item: Item, left: int, right: int) -> Frame | None:
    frame = Frame("postop", scene.statement.index)
    frame.slots["item"] = Slot("item", item.start, item.end, item.item, why=("planned",))
    if item.value is not None:
        frame.slots["value"] = from_mention("value", item.value)
    for quantity in _periods(scene, item, left, right):
        for slot in _weeks(scene, quantity, point=item.item in POINTS):
            frame.slots.setdefault(slot.attribute, slot)
    if item.item in MOTION:
        span = next(q for q in scene.quantities if q.start == item.start)
        if span.low is not None:
            frame.slots["low_deg"] = Slot("low_deg", span.start, span.end, span.low, unit="deg", why=span.why)
        high = span.high if span.high is not None else span.value
        frame.slots["high_deg"] = Slot("high_deg", span.start, span.end, high, unit="deg", why=span.why)
    if item.item in POINTS and "from_weeks" not in frame.slots:
        return None
    planned = (
        scene.section == "plan"
        or bool({"from_weeks", "to_weeks"} & set(frame.slots))
        or item.item == "weight bearing"
        or bool(AFTER & scene.topics)
    )
    return frame if planned or len(_items_named(scene)) > 1 else None


def _items_named(scene: Scene) -> set[str]:
    return {PLANNED[m.kind] for m in scene.mentions if m.kind in PLANNED}


def _periods(scene: Scene, item: Item, left: int, right: int) -> list[Quantity]:
    """The weeks of an item: the first said after it (and where it ends, if that one is where it begins), else those just before it."""
    weeks = [q for q in scene.quantities if _is_weeks(scene, q)]
    after = [q for q in weeks if item.end <= q.start < right]
    if after:
        begins = _weeks(scene, after[0], point=False)[0].attribute == "from_weeks" and after[0].low is None
        return after[:2] if begins and len(after) > 1 else after[:1]
    return [q for q in weeks if left <= q.start and q.end <= item.start and not _claimed(scene, q, left)][-1:]


def _is_weeks(scene: Scene, quantity: Quantity) -> bool:
    """Weeks by their unit, or a bare number behind "the first" where weeks were the talk ("for the first four")."""
    if quantity.kind == "period":
        return quantity.unit == "wk"
    elided = quantity.kind == "number" and scene.between(quantity.start - 1, quantity.start) == ("first",)
    return (
        elided
        and bool(AFTER & scene.topics or scene.section == "plan")
        and set(scene.between(quantity.end, quantity.end + 1)) <= {".", ",", ";"}
    )


def _claimed(scene: Scene, quantity: Quantity, left: int) -> bool:
    """Whether weeks before an item belong to the item before them ("six weeks, hinged brace")."""
    return left > scene.statement.start and "," in scene.between(quantity.end, quantity.end + 1)


def _weeks(scene: Scene, quantity: Quantity, *, point: bool) -> list[Slot]:
    def slot(name: str, value: float | str | None) -> Slot:
        return Slot(
            name, quantity.start, quantity.end, value, unit="wk", said=quantity.said, approximate=quantity.approximate, why=quantity.why
        )

    if quantity.low is not None and quantity.high is not None:
        if point:
            return [
                Slot("from_weeks", quantity.start, quantity.end, None, quantity.low, quantity.high, "wk", quantity.said, why=quantity.why)
            ]
        return [slot("from_weeks", quantity.low), slot("to_weeks", quantity.high)]
    lead = list(scene.talk.words[max(scene.statement.start, quantity.start - 3) : quantity.start])
    if point or (lead and lead[-1] in ("from", "after")) or lead[-2:] == ["starting", "at"]:
        return [slot("from_weeks", quantity.value)]
    return [slot("to_weeks", quantity.value)]
