"""Sizes said together: "seven by twenty-three", "7x25 mm", "a ten-millimeter by thirty", "twenty by ten by eight"."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.amounts import Amount, read_amount
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.counted import is_named_before, noun_after
from opnote.language.quantities.match import Match
from opnote.language.quantities.modifiers import Modifiers
from opnote.language.quantities.numbers import Number
from opnote.language.quantities.units import MIL, MM, TIMES, Unit

_MOST: Final = 3
_CROSSED: Final = v.word_set("into cross")
"""As in "a nine into twenty five screw", in India; only before the name of a thing, or right behind it."""
_CYCLES: Final = v.word_set("cycled cycle ranged repeated moved")
_SHORTEST_LENGTH_AFTER_TIMES: Final = 10
"""As in "seven times twenty three" is a size, "twenty times two" is not."""


def read_pair(atoms: Atoms, before: Modifiers, first: Amount) -> Match | None:
    """The pair that begins with ``first``, or None; the unit said once is the unit of all parts."""
    amounts = [first]
    while len(amounts) < _MOST and (following := _next_part(atoms, amounts[-1])):
        amounts.append(following)
    amounts = [replace(amount, unit=MM) if amount.unit is MIL else amount for amount in amounts]  # nothing is sized in millilitres
    if len(amounts) == 1:
        return None
    if (middle := _ends_first_pair(atoms, amounts)) is not None:
        amounts = [first, middle]
    units = [amount.unit for amount in amounts if amount.unit is not None and amount.unit is not TIMES]
    if any(unit.kind != "length" for unit in units) or _is_one_by_one(amounts):
        return None
    unit = units[-1] if units else None
    end = amounts[-1].end
    start, stop = atoms.tokens(before.start if before.approximate else first.start, end)
    parts = tuple(_part(atoms, amount, unit, first_part=place == 0) for place, amount in enumerate(amounts))
    approximate = before.approximate or amounts[-1].approximate
    why = ("pair", *dict.fromkeys(reason for amount in amounts if amount.number.readings for reason in amount.number.why))
    quantity = Quantity(start, stop, "pair", unit=unit.canonical if unit else None, parts=parts, approximate=approximate, why=why)
    return Match(end, (quantity,))


def _ends_first_pair(atoms: Atoms, amounts: list[Amount]) -> Amount | None:
    """The round length in "seven by twenty | seven by twenty five": nothing of three sizes is as long in the last of them."""
    if len(amounts) < _MOST or any(amount.unit is not None for amount in amounts[:-1]):
        return None
    middle, last = amounts[1], amounts[2]
    tens, following = atoms[middle.start], atoms[middle.start + 1]
    run_on = tens.kind == "tens" and following.kind == "digit" and not following.joined and middle.end == middle.start + 2
    if not run_on or following.value < _THINNEST or last.number.value < _LONGEST_HEIGHT:
        return None
    return Amount(Number(tens.value, middle.start + 1), None, middle.start, middle.start + 1)


_THINNEST, _LONGEST_HEIGHT = 4, 15
"""mm. Screws are no thinner when their length is given in whole tens, and plugs and defects no higher (common practice)."""


def _is_one_by_one(amounts: list[Amount]) -> bool:
    """As in "one by one" is a manner, not a size."""
    return all(amount.number.value == 1 and amount.unit is None for amount in amounts)


def _next_part(atoms: Atoms, amount: Amount) -> Amount | None:
    joint = atoms[amount.end]
    times = joint.word == "times" and amount.unit is None
    spoken_times = amount.unit is TIMES and atoms[amount.end - 1].word == "times"
    crossed = joint.word in _CROSSED
    if not (joint.kind == "by" or times or spoken_times or crossed):
        return None
    following = read_amount(atoms, amount.end if spoken_times else amount.end + 1)
    if following is None or following.number.spelled:
        return None
    if crossed and noun_after(atoms, following.end)[0] is None and not is_named_before(atoms, amount.start):
        return None
    if joint.kind == "by":
        return following
    too_small = following.number.value < _SHORTEST_LENGTH_AFTER_TIMES or following.number.value < amount.number.value
    return None if too_small or _CYCLES.intersection(atoms.before(amount.start, 4)) else following


def _part(atoms: Atoms, amount: Amount, unit: Unit | None, *, first_part: bool) -> Quantity:
    """One size of the pair. A diameter said "six five" is likelier 6.5, a length said "two three" likelier 23."""
    number = amount.number
    if number.readings and not first_part:
        number = replace(number, value=number.readings[1], readings=number.readings[::-1])
    own = unit if amount.unit is None or amount.unit is TIMES else amount.unit
    start, end = atoms.tokens(amount.start, amount.end if own is amount.unit else number.end)
    if own is None:
        return Quantity(start, end, "number", number.value, readings=number.readings, why=number.why)
    said = (number.value, own.code) if own.code != own.canonical else None
    readings = tuple(own.convert(reading) for reading in number.readings)
    why = (*number.why, f"unit {own.code}")
    return Quantity(start, end, "length", own.convert(number.value), unit=own.canonical, said=said, readings=readings, why=why)
