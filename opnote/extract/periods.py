"""The weeks of aftercare: which of those said belong to an item, and whether it begins or ends there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.frames import Slot
from opnote.extract.scene import Scene, Stretch
from opnote.language.model import Quantity

WEEKS = "wk"
STOPS = frozenset({".", ",", ";"})
FIRST = ("first",)
LENGTHS = {"week": 1.0, "fortnight": 2.0}  # in weeks


def periods(scene: Scene, item: Stretch, left: int, right: int) -> Sequence[Quantity]:
    """The weeks of an item: the first said after it (and where it ends, if that one is where it begins), else those just before it.

    In "for two weeks partial, then for four weeks full" the first item tells that each has its weeks before it.
    """
    said = [q for q in scene.quantities if is_weeks(scene, q)]
    in_front = left == scene.statement.start and any(q.end == item.start for q in said)
    after = [q for q in said if item.end <= q.start < right and not (in_front and q.end == right)]
    if after:
        begins = after[0].low is None and any(slot.attribute == "from_weeks" for slot in weeks(scene, after[0], point=False))
        return after[:2] if begins else after[:1]
    return [q for q in said if left <= q.start and q.end <= item.start and not _claimed(scene, q, item, left)][-1:]


def is_weeks(scene: Scene, quantity: Quantity) -> bool:
    """Weeks by their unit, or a bare number behind "the first" where weeks were the talk ("for the first four")."""
    if quantity.kind == "period":
        return quantity.unit == WEEKS
    if _first_weeks(scene, quantity) is not None:
        return True
    if quantity.kind == "number" and scene.led_by(quantity.start, "to-a-week"):
        return any(other.unit == WEEKS and other.start < quantity.start for other in scene.quantities)
    if quantity.kind != "number" or scene.between(quantity.start - 1, quantity.start) != FIRST:
        return False
    planning = scene.section == "plan" or not scene.focus.topics.isdisjoint(scene.lexicon.things["postop"].opened_by)
    return planning and STOPS.issuperset(scene.between(quantity.end, quantity.end + 1))


def _first_weeks(scene: Scene, quantity: Quantity) -> float | None:
    """The weeks of "the first week" and "the first fortnight"."""
    if quantity.kind != "ordinal" or quantity.value != 1 or scene.lead(quantity.start, 1) != ("the",):
        return None
    return LENGTHS.get(" ".join(scene.between(quantity.end, quantity.end + 1)))


def _claimed(scene: Scene, quantity: Quantity, item: Stretch, left: int) -> bool:
    """Whether weeks before an item belong to the item before them ("six weeks, hinged brace", "locked for two weeks then unlocked")."""
    if left == scene.statement.start:
        return False
    turns = scene.words_of("turns-to-the-next").isdisjoint(scene.between(quantity.end, item.end))
    return "," in scene.between(quantity.end, quantity.end + 1) or not turns


def weeks(scene: Scene, quantity: Quantity, *, point: bool) -> list[Slot]:
    """The slots of a number of weeks: of a thing that happens then (``point``), or of one that begins or ends then."""
    first = _first_weeks(scene, quantity)
    if first is not None:
        return [] if point else [_slot("to_weeks", replace(quantity, end=quantity.end + 1), first)]
    low, high = quantity.low, quantity.high
    if low is not None and high is not None:
        if point:
            return [_slot("from_weeks", quantity, low=low, high=high)]
        return [_slot("from_weeks", quantity, low), _slot("to_weeks", quantity, high)]
    begins = point or scene.led_by(quantity.start, "begins-at")
    return [_slot("from_weeks" if begins else "to_weeks", quantity, quantity.value)]


def _slot(name: str, quantity: Quantity, value: float | str | None = None, *, low: float | None = None, high: float | None = None) -> Slot:
    return Slot(
        name, quantity.start, quantity.end, value, low, high, unit=WEEKS, said=quantity.said, approximate=quantity.approximate,
        why=quantity.why,
    )  # fmt: skip
