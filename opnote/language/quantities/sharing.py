"""A unit said once for a list: "seven and eight millimetres", "at zero, thirty and ninety degrees"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import units as u
from opnote.language.quantities.atoms import Atoms

_LINKS: Final = frozenset({"and", "or", ",", "at", "then", "a", "an"})
_ANY_ORDER: Final = frozenset({"length", "angle", "force"})
_SHARED: Final = frozenset({"length", "angle", "force", "duration", "period", "pressure", "volume", "mass", "percent"})
_AFTER_AT: Final = frozenset({"angle", "period", "duration"})


@dataclass(frozen=True, slots=True)
class Placed:
    """A quantity and the atoms it stands on."""

    quantity: Quantity
    first: int
    end: int


def share_units(atoms: Atoms, found: list[Placed]) -> list[Placed]:
    """``found`` with the unit of the last member of each list given to the members before it; one pass from the right."""
    shared = list(found)
    for place in range(len(shared) - 1, 0, -1):
        before, after = shared[place - 1], shared[place]
        earlier = shared[place - 2] if place > 1 else None
        if _is_list(atoms, before, after, earlier):
            shared[place - 1] = replace(before, quantity=_with_unit(before.quantity, after.quantity))
    return shared


def _is_list(atoms: Atoms, before: Placed, after: Placed, earlier: Placed | None) -> bool:
    """Whether ``before`` is a bare number that shares the unit of ``after``; a comma alone links only lists of three and more."""
    first, last = before.quantity, after.quantity
    if (
        first.kind != "number"
        or first.readings
        or first.why[0] == "four figures"
        or last.kind not in _SHARED
        or not isinstance(last.value, float)
        or not isinstance(first.value, float)
    ):
        return False
    gap = [atoms[place].word for place in range(before.end, after.first)]
    if not gap or len(gap) > 3 or not _LINKS.issuperset(gap) or gap == ["a"]:
        return False
    if gap == [","] and "shared unit" not in last.why and not (earlier and _is_long_list(atoms, earlier, before, last)):
        return False
    if atoms[before.first - 1].word == "at" and last.kind not in _AFTER_AT:
        return False
    return last.kind in _ANY_ORDER or _number_said(last) > first.value


def _is_long_list(atoms: Atoms, earlier: Placed, before: Placed, last: Quantity) -> bool:
    """As in "zero, thirty, ninety degrees": nothing but commas between bare numbers before an angle or a period."""
    comma_alone = earlier.end + 1 == before.first and atoms[earlier.end].kind == "comma"
    return comma_alone and earlier.quantity.kind == "number" and last.kind in ("angle", "period")


def _number_said(quantity: Quantity) -> float:
    value = quantity.said[0] if quantity.said else quantity.value
    return value if isinstance(value, float) else 0.0


def _with_unit(number: Quantity, measured: Quantity) -> Quantity:
    """``number`` in the unit of ``measured``."""
    code = measured.said[1] if measured.said else measured.unit
    unit = next(unit for unit in u.ALL if unit.code == code and unit.kind == measured.kind)
    value = number.value if isinstance(number.value, float) else 0.0
    said = (value, unit.code) if unit.code != unit.canonical else None
    why = (*(reason for reason in number.why if not reason.startswith("clock=")), f"unit {unit.code}", "shared unit")
    return replace(number, kind=unit.kind, value=unit.convert(value), unit=unit.canonical, said=said, why=why)
