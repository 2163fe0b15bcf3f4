"""Numbers with units: single values, ranges, pairs ("seven by twenty-three") and lists that share one unit."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import units as u
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import Number, read_and_fraction, read_fraction, read_number

_APPROXIMATE: Final = v.word_set("about approximately roughly around circa nearly almost")
_CONNECTORS: Final = frozenset({"to", "through", "or"})


@dataclass(frozen=True, slots=True)
class Amount:
    """A number and the unit said with it, if any: atoms ``start`` to ``end``."""

    number: Number
    unit: u.Unit | None
    start: int
    end: int


def read_measure(atoms: Atoms, place: int) -> Match | None:
    """The measure that begins at ``place``: a pair, a range or a single amount."""
    start, about = _skip_about(atoms, place)
    between = atoms[start].word == "between"
    first = read_amount(atoms, start + 1 if between else start)
    if first is None:
        return None
    if first.number.spelled:
        return Match(first.end)
    about = about or atoms[start].word == "couple"
    for reader in (_read_pair, _read_range):
        match = reader(atoms, place, first, about)
        if match is not None:
            return match
    if between:
        return None
    return Match(first.end, (_single(atoms, place, first, about),))


def _skip_about(atoms: Atoms, place: int) -> tuple[int, bool]:
    if atoms[place].word in _APPROXIMATE:
        return place + 1, True
    return place, False


def read_amount(atoms: Atoms, place: int) -> Amount | None:
    """One number with its unit, its sign, and what comes after the unit ("a millimetre and a half")."""
    start = place + 1 if atoms[place].word == "minus" else place
    sign = -1.0 if start > place else 1.0
    number = _couple(atoms, start) or read_number(atoms, start)
    if number is None or atoms[number.end].word in v.FRACTION_WORDS:
        number = _fraction_of_unit(atoms, start) or number
    if number is None:
        return _article_amount(atoms, place)
    signed = replace(number, value=sign * number.value)
    unit = u.read_unit(atoms, number.end)
    if unit is None:
        return Amount(signed, None, place, number.end)
    return _after_unit(atoms, Amount(signed, unit[0], place, unit[1]))


def _couple(atoms: Atoms, place: int) -> Number | None:
    """ "a couple of millimetres"."""
    start = place + 1 if atoms[place].word == "a" else place
    if atoms[start].word != "couple":
        return None
    end = start + 2 if atoms[start + 1].word == "of" else start + 1
    return Number(2.0, end, ("a couple",)) if u.read_unit(atoms, end) else None


def _fraction_of_unit(atoms: Atoms, place: int) -> Number | None:
    fraction = read_fraction(atoms, place)
    return fraction if fraction is not None and u.read_unit(atoms, fraction.end) else None


def _article_amount(atoms: Atoms, place: int) -> Amount | None:
    """ "a millimetre (and a half)", "an inch"."""
    if atoms[place].word not in v.ARTICLES:
        return None
    unit = u.read_unit(atoms, place + 1)
    if unit is None:
        return None
    amount = _after_unit(atoms, Amount(Number(1.0, place + 1, ("a for one",)), unit[0], place, unit[1]))
    if amount.number.value == 1.0 and unit[0] not in (u.MM, u.CM, u.INCH, u.GRAM, u.LITRE, u.WEEK, u.FORTNIGHT, u.MONTH, u.HOUR):
        return None
    return amount


def _after_unit(atoms: Atoms, amount: Amount) -> Amount:
    """Adds "and a half" said after the unit."""
    fraction = read_and_fraction(atoms, amount.end)
    if fraction is None or not amount.number.value.is_integer():
        return amount
    number = replace(amount.number, value=amount.number.value + fraction[0], why=(*amount.number.why, "and a fraction after the unit"))
    return Amount(number, amount.unit, amount.start, fraction[1])


def _read_pair(atoms: Atoms, place: int, first: Amount, about: bool) -> Match | None:
    """ "seven by twenty-three", "7x25", "a ten-millimeter by thirty": two lengths that belong together."""
    if atoms[first.end].kind != "by":
        return None
    second = read_amount(atoms, first.end + 1)
    if second is None or second.number.spelled:
        return None
    unit = second.unit or first.unit
    if unit is not None and unit.kind != "length":
        return None
    if second.number.readings:
        second = replace(second, number=replace(second.number, value=second.number.readings[1], readings=second.number.readings[::-1]))
    parts = tuple(
        _single(atoms, part.start, replace(part, unit=part.unit or unit), False, end=part.end if part.unit else part.number.end)
        for part in (first, second)
    )
    start, end = atoms.tokens(place, second.end)
    canonical = unit.canonical if unit else None
    return Match(second.end, (Quantity(start, end, "pair", unit=canonical, parts=parts, approximate=about, why=("pair",)),))


def _read_range(atoms: Atoms, place: int, first: Amount, about: bool) -> Match | None:
    """ "eight to ten", "between eight and ten", "30-40", "three or four millimetres"."""
    joint = atoms[first.end]
    between = atoms[first.start - 1].word == "between" and joint.word == "and"
    if not (joint.word in _CONNECTORS or joint.kind == "hyphen" or between):
        return None
    second = read_amount(atoms, first.end + 1)
    if second is None or second.number.spelled:
        return None
    unit = second.unit or first.unit
    if joint.word == "or" and unit is None:
        return None
    low, high = sorted(_converted(amount, unit) for amount in (first, second))
    start, end = atoms.tokens(place, second.end)
    quantity = Quantity(
        start, end, unit.kind if unit else "number", low=low, high=high, unit=unit.canonical if unit else None,
        approximate=about or joint.word == "or", why=(*first.number.why, f"range: {joint.word}"),
    )  # fmt: skip
    return Match(second.end, (quantity,))


def _converted(amount: Amount, unit: u.Unit | None) -> float:
    own = amount.unit or unit
    return own.convert(amount.number.value) if own else amount.number.value


def _single(atoms: Atoms, place: int, amount: Amount, about: bool, *, end: int | None = None) -> Quantity:
    start, stop = atoms.tokens(place, end or amount.end)
    number, unit = amount.number, amount.unit
    why = (*number.why, *((f"clock={number.clock}",) if number.clock and unit is None else ()))
    about = about or "a couple" in number.why
    if unit is None:
        return Quantity(start, stop, "number", number.value, approximate=about, readings=number.readings, why=why)
    readings = tuple(unit.convert(reading) for reading in number.readings)
    said = (number.value, unit.code) if unit.canonical != unit.code else None
    return Quantity(
        start, stop, unit.kind, unit.convert(number.value), unit=unit.canonical, said=said, approximate=about, readings=readings,
        why=(*why, f"unit {unit.code}"),
    )  # fmt: skip
