"""Aftercare: what is planned, and for which weeks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, takewhile

from opnote.extract.frames import Frame, Slot
from opnote.extract.periods import is_weeks, periods, weeks
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention
from opnote.language.model import Quantity
from opnote.language.terms import Mention

ITEM = "postop item"  # the vocabulary that names items; the others that open aftercare are their values
MOTION, LOADING, BRACE = "range of motion", "weight bearing", "brace"
VISIT = "follow up"
LOCKED = "locked in extension"  # of a brace: the knee bends when that is over
PUT_WITHIN = 4  # words between "placed in" and the brace
CALLED = 3  # words of a question that names an item alone ("Aspirin?")
SIDE_BY_SIDE = 4  # words between two words for one follow-up
LIMIT_WITHIN = 4  # words between "bending to" and its angle
VISIT_WITHIN = 4  # words behind an item among which "that visit" repeats the time of the one before
TURNS_WITHIN = 2  # words behind an item among which "from" or "then" still is said of it
LOWEST_DEG, BENT_DEG, FURTHEST_DEG = (-15, 60), (20, 160), (20, 140)  # of a range: its low and high end; of a limit alone


@dataclass(frozen=True, slots=True)
class Item:
    """Something planned: where it is said, what it is, and the words for it."""

    start: int
    end: int
    item: str
    value: Mention | None = None


def aftercare(scene: Scene) -> list[Frame]:
    """The planned items of a statement with their weeks: "touch down for two weeks, then partial to six"."""
    if scene.barred("postop"):
        return []
    answer = _answered(scene)
    if answer is not None:
        return [answer]
    items = _items(scene)
    limits = [*(item.start for item in items[1:]), scene.statement.end]
    floors = [scene.statement.start, *(item.end for item in items)]
    frames: list[Frame] = []
    for item, left, right in zip(items, floors, limits, strict=False):
        frame = _frame(scene, item, left, right)
        _at_that_visit(scene, item, frame, frames)
        if _is_planned(scene, item, frame):
            _takes_over(scene, frame, frames)
            frames += [frame, *_again(scene, frame, item, right)]
    return frames


def _answered(scene: Scene) -> Frame | None:
    """ "Aspirin?" - "Three weeks.": for how long, in answer to a question that names what is planned alone."""
    index, told = scene.statement.index, [q for q in scene.quantities if q.kind == "period" and is_weeks(scene, q)]
    if index == 0 or len(told) != 1 or not (scene.section == "plan" or _was_planning(scene)):
        return None
    rest = [
        word for word in (*scene.lead(told[0].start, len(scene.words)), *scene.between(told[0].end, scene.statement.end)) if word.isalnum()
    ]
    asked = scene.talk.statements[index - 1]
    kinds = scene.lexicon.things["postop"].opened_by
    named = [m for m in scene.talk.mentions if asked.start <= m.start < asked.end and m.kind in kinds and m.kind != ITEM]
    if (
        scene.talk.words[asked.end - 1] != "?"
        or asked.end - asked.start > CALLED
        or not scene.words_of("around-an-answer").issuperset(rest)
    ):
        return None
    if len(named) != 1:
        return None
    item = Item(named[0].start, named[0].end, named[0].kind, named[0])
    slots = {"item": Slot("item", item.start, item.end, item.item, why=("asked",)), "value": from_mention("value", named[0])}
    return Frame("postop", index, slots | {slot.attribute: slot for slot in weeks(scene, told[0], point=False)})


def _at_that_visit(scene: Scene, item: Item, frame: Frame, frames: Sequence[Frame]) -> None:
    """ "Sees me at two weeks, stitches come out at that visit": the second happens when the first does."""
    points = scene.words_of("happens-at-a-time")
    told = [f for f in frames if f.get("item") in points and "from_weeks" in f.slots]
    visit = not scene.words_of("the-visit").isdisjoint(scene.between(item.end, item.end + VISIT_WITHIN))
    visit = visit or scene.led_by(item.start, "at-the-same-time")
    if item.item in points and "from_weeks" not in frame.slots and told and visit:
        frame.slots["from_weeks"] = told[-1].slots["from_weeks"]


def _items(scene: Scene) -> list[Item]:
    """Items in order; a value that names its item ("partial weight bearing") is one item with the word for it."""
    values = [Item(m.start, m.end, m.kind, m) for m in _valued(scene)]
    points = [Item(m.start, m.end, m.value) for m in scene.of(ITEM) if m.value in scene.words_of("happens-at-a-time")]
    if _is_put_into(scene) and not any(item.item == BRACE for item in values):
        values += [Item(m.start, m.end, m.value) for m in scene.of(ITEM) if m.value == BRACE][:1]
    speaks = values or scene.of(ITEM) or scene.section == "plan" or _goes_on(scene)
    ranges = [Item(q.start, q.end, MOTION) for q in scene.quantities if speaks and _is_range(scene, q)]
    return sorted([*values, *_once(points), *ranges], key=lambda item: (item.start, item.end))


def _valued(scene: Scene) -> list[Mention]:
    """The mentions of values that name their item."""
    return [m for m in scene.of(*scene.lexicon.things["postop"].opened_by) if m.kind != ITEM]


def _is_put_into(scene: Scene) -> bool:
    """Whether the leg is put into a brace: "she was placed in a knee immobilizer"."""
    return any(
        scene.led_by(place, "put-into") for m in scene.of(ITEM) if m.value == BRACE for place in range(m.start - PUT_WITHIN, m.start)
    )


def _once(points: Sequence[Item]) -> list[Item]:
    """ "I see her in clinic" is one follow-up: of two words for it side by side the later is kept."""
    doubled = [one for one, other in pairwise(points) if one.item == other.item and other.start - one.end <= SIDE_BY_SIDE]
    return [point for point in points if point not in doubled]


def _goes_on(scene: Scene) -> bool:
    """Whether the statement before planned something, and this one goes on in weeks."""
    periods_ = any(q.kind == "period" for q in scene.quantities)
    return _was_planning(scene) and (periods_ or scene.says("goes-on-in-weeks"))


def _was_planning(scene: Scene) -> bool:
    return not scene.focus.topics.isdisjoint(scene.lexicon.things["postop"].opened_by)


def _is_range(scene: Scene, quantity: Quantity) -> bool:
    """A range of knee flexion: two angles, or an upper limit of bending."""
    if quantity.kind not in ("angle", "number") or (scene.section != "plan" and scene.of("isometry result", "opens")):
        return False
    if quantity.low is not None and quantity.high is not None:
        return _within(quantity.low, LOWEST_DEG) and _within(quantity.high, BENT_DEG)
    return isinstance(quantity.value, float) and _within(quantity.value, FURTHEST_DEG) and _limits_bending(scene, quantity)


def _within(value: float, bounds: tuple[float, float]) -> bool:
    return bounds[0] <= value <= bounds[1]


def _limits_bending(scene: Scene, quantity: Quantity) -> bool:
    """Whether an angle is as far as the knee may bend: "bending up to ninety", but not "bending up to six weeks"."""
    lead = {*scene.lead(quantity.start, LIMIT_WITHIN)}
    in_weeks = scene.words_of("weeks") & {*lead, *scene.between(quantity.end, quantity.end + 1)}
    return scene.says("bending") and bool(scene.words_of("limits") & lead) and not in_weeks


def _frame(scene: Scene, item: Item, left: int, right: int) -> Frame:
    """An item with its value, its weeks and its angles; ``left`` and ``right`` are where the items beside it end and begin."""
    slots = {"item": Slot("item", item.start, item.end, item.item, why=("planned",))}
    if item.value is not None:
        slots["value"] = from_mention("value", item.value)
    point = item.item in scene.words_of("happens-at-a-time")
    for quantity in periods(scene, item, left, right):
        for slot in weeks(scene, quantity, point=point):
            slots.setdefault(slot.attribute, slot)
    if item.item == MOTION:
        slots |= {slot.attribute: slot for slot in _angles(next(q for q in scene.quantities if q.start == item.start))}
    return Frame("postop", scene.statement.index, slots)


def _angles(span: Quantity) -> Iterator[Slot]:
    """The ends of a range of motion; of a limit only the upper one is said."""
    high = span.high if span.high is not None else span.value
    if span.low is not None:
        yield Slot("low_deg", span.start, span.end, span.low, unit="deg", why=span.why)
    yield Slot("high_deg", span.start, span.end, high, unit="deg", why=span.why)


def _is_planned(scene: Scene, item: Item, frame: Frame) -> bool:
    """Whether an item is really planned, and not spoken of otherwise ("the brace was taken off the bed")."""
    if item.item in scene.words_of("happens-at-a-time"):
        return "from_weeks" in frame.slots
    if scene.section == "plan" or item.item == LOADING or _is_put_into(scene) or {"from_weeks", "to_weeks"} & frame.slots.keys():
        return True
    return _was_planning(scene) or len({m.kind for m in _valued(scene)}) > 1


def _takes_over(scene: Scene, frame: Frame, frames: Sequence[Frame]) -> None:
    """ "touch down for two weeks, then partial to six": the second begins where the first of its kind ends."""
    before = next((f for f in reversed(frames) if f.get("item") == frame.get("item")), None)
    if before is None:
        return
    item = frame.slots["item"]
    around = scene.between(before.start, item.end + TURNS_WITHIN)
    if item.value in scene.words_of("happens-at-a-time") or scene.words_of("turns-to-the-next").isdisjoint(around):
        return
    _begins_where(frame, before)


def without_bare_braces(frames: Sequence[Frame]) -> list[Frame]:
    """The frames without a brace of which only its name is told, where another mention tells more of one."""
    braces = [frame for frame in frames if frame.get("item") == BRACE]
    told = [frame for frame in braces if len(frame.slots) > 1]
    return [frame for frame in frames if not (told and frame in braces and frame not in told)]


def taken_over(frames: Sequence[Frame], scenes: Sequence[Scene]) -> None:
    """As ``_takes_over``, from one statement to the next: "Locked for two weeks. Then unlocked to six."."""
    planned = sorted((f for f in frames if f.type == "postop"), key=lambda f: f.start)
    for frame in planned:
        scene = scenes[frame.statement]
        turns = not scene.words_of("turns-to-the-next").isdisjoint(_opening_words(scene, frame))
        before = [f for f in planned if f.statement == frame.statement - 1 and _is_followed_by(f, frame)]
        first = next(f for f in planned if f.statement == frame.statement) is frame
        if turns and first and before:
            _begins_where(frame, before[-1])


def _opening_words(scene: Scene, frame: Frame) -> tuple[str, ...]:
    """The first words of a statement that are not a range's own ("from zero to ninety")."""
    start = scene.statement.start
    end = min(start + TURNS_WITHIN, frame.slots["item"].start)
    return scene.between(start, end - (1 if scene.between(end - 1, end) == ("from",) and end == frame.slots["item"].start else 0))


def _is_followed_by(before: Frame, frame: Frame) -> bool:
    """Whether one plan takes over from another: of the same item with another value, or bending from a brace that was locked."""
    if frame.get("item") == MOTION:
        return before.get("value") == LOCKED
    return before.get("item") == frame.get("item") and "value" in frame.slots and before.get("value") != frame.get("value")


def _begins_where(frame: Frame, before: Frame) -> None:
    if "to_weeks" in before.slots and "from_weeks" not in frame.slots:
        ended = before.slots["to_weeks"]
        frame.slots["from_weeks"] = replace(ended, attribute="from_weeks", why=(*ended.why, "where the one before it ends"))


def _is_a_further_visit(scene: Scene, between: Sequence[str]) -> bool:
    """Whether words join another time to a visit; behind what it is for, it is told to be "again" ("for the wounds, and again at six")."""
    joins = scene.words_of("joins-visits")
    tail = list(takewhile(joins.__contains__, reversed(between)))
    return len(tail) == len(between) or "again" in tail


def gone_on(frames: Sequence[Frame], scenes: Sequence[Scene]) -> list[Frame]:
    """The further visits told in a statement of their own: "She'll see me at two weeks." - "And then at six weeks."."""
    visits = [f for f in frames if f.type == "postop" and f.get("item") == VISIT and "from_weeks" in f.slots]
    taken = {f.statement for f in frames if f.type == "postop"}
    return [frame for visit in visits for frame in _next_visit(visit, scenes) if frame.statement not in taken]


def _next_visit(visit: Frame, scenes: Sequence[Scene]) -> Iterator[Frame]:
    """The visit in the statement right behind one, if that says nothing but when it is."""
    for scene in scenes[visit.statement + 1 : visit.statement + 2]:
        told = [q for q in scene.quantities if q.kind == "period" and is_weeks(scene, q)]
        lead = list(scene.between(scene.statement.start, told[0].start)) if len(told) == 1 else []
        joined = {"again", "then"} & {*lead} and scene.words_of("joins-visits").issuperset(lead)
        ends = not any(word.isalnum() for word in scene.between(told[0].end, scene.statement.end)) if told else False
        if joined and ends and not scene.barred("postop"):
            [at] = weeks(scene, told[0], point=True)
            item = replace(visit.slots["item"], inherited=True, why=("goes on",))
            yield Frame("postop", scene.statement.index, {"item": item, at.attribute: at})


def _again(scene: Scene, first: Frame, item: Item, right: int) -> Iterator[Frame]:
    """The further times of something that happens at a time ("at two weeks and again at six weeks")."""
    if item.item not in scene.words_of("happens-at-a-time"):
        return
    taken = max(first.slots["from_weeks"].start, item.end - 1)
    taken_end = max(first.slots["from_weeks"].end, item.end)
    for quantity in scene.quantities:
        if quantity.kind == "period" and is_weeks(scene, quantity) and taken < quantity.start < right:
            if not _is_a_further_visit(scene, scene.between(taken_end, quantity.start)):
                return
            taken_end = quantity.end
            [at] = weeks(scene, quantity, point=True)
            yield Frame("postop", scene.statement.index, {"item": first.slots["item"], at.attribute: at})
