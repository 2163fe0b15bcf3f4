"""Periods named by their number: "week six", "from week two to week six", "post-op day ten"."""

from __future__ import annotations

from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import units as u
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import Number, read_number

_MOST: Final = {u.DAY: 365, u.WEEK: 104, u.MONTH: 36}
"""After an operation nobody counts further; "expiry month three twenty twenty nine" is no month 320."""
NAMES: Final = {"week": u.WEEK, "weeks": u.WEEK, "day": u.DAY, "days": u.DAY, "month": u.MONTH, "months": u.MONTH}


def read_numbered_period(atoms: Atoms, place: int) -> Match | None:
    """The period at ``place``, where its unit comes first."""
    unit = NAMES[atoms[place].word]
    first = _plain(atoms, place + 2 if atoms[place + 1].word == "#" else place + 1, unit)
    if first is None:
        return None
    between = atoms[place - 1].word == "between"
    joint = atoms[first.end]
    if joint.word in ("to", "through") or joint.kind == "hyphen" or (joint.word == "and" and between):
        following = first.end + 2 if NAMES.get(atoms[first.end + 1].word) is unit else first.end + 1
        second = _plain(atoms, following, unit)
        if second is not None:
            start, end = atoms.tokens(place - 1 if between else place, second.end)
            low, high = sorted((unit.convert(first.value), unit.convert(second.value)))
            why = (f"unit {unit.code}", "range of numbered periods")
            return Match(second.end, (Quantity(start, end, "period", low=low, high=high, unit=unit.canonical, why=why),))
    start, end = atoms.tokens(place, first.end)
    said = (first.value, unit.code) if unit.code != unit.canonical else None
    why = ("numbered period", f"unit {unit.code}")
    return Match(first.end, (Quantity(start, end, "period", unit.convert(first.value), unit=unit.canonical, said=said, why=why),))


def _plain(atoms: Atoms, place: int, unit: u.Unit) -> Number | None:
    """A small whole number that has no unit of its own."""
    number = read_number(atoms, place)
    if number is None or number.readings or number.value > _MOST[unit] or not number.value.is_integer() or atoms[number.end].kind == "by":
        return None
    own = u.read_unit(atoms, number.end)
    return None if own is not None and own[0].kind != "period" else number
