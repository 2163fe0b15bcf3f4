"""One amount: a number and the unit said with it, read as one thing ("an hour and twenty minutes", "a millimetre and a half")."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from opnote.language.quantities import units as u
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.figures import read_below_hundred
from opnote.language.quantities.fractions import is_share_of, read_and_fraction, read_fraction, skip_of_a
from opnote.language.quantities.modifiers import skip_after, skip_before_unit
from opnote.language.quantities.numbers import Number, read_number
from opnote.language.quantities.unit_choice import choose_unit

_PARTS_OF: Final = {u.HOUR: u.MINUTE, u.MINUTE: u.SECOND}
_TIMED: Final = v.word_set("tourniquet cuff ischaemia ischemia surgery operating")
_LEAST_BARE_MINUTES: Final = 10
_LEAST_BARE_CENTIMETRES: Final = 10
_SAID_WITH_ARTICLE: Final = frozenset(
    {u.MM, u.CM, u.INCH, u.GRAM, u.LITRE, u.WEEK, u.FORTNIGHT, u.MONTH, u.HOUR}
)  # "a minute", "a second" and "a day" are mostly idle talk: "give me a minute", "three times a day"


@dataclass(frozen=True, slots=True)
class Amount:
    """A number and its unit, if one was said, on atoms ``start`` to ``end`` (excluded).

    ``worth`` is the value in the canonical unit where it is not the number times the unit's factor ("one hour ten minutes").
    """

    number: Number
    unit: u.Unit | None
    start: int
    end: int
    approximate: bool = False
    worth: float | None = None

    def in_unit(self, unit: u.Unit | None) -> float:
        """The value in the canonical unit, taking ``unit`` when the amount has none of its own."""
        if self.worth is not None:
            return self.worth
        own = self.unit or unit
        return own.convert(self.number.value) if own else self.number.value


def read_amount(atoms: Atoms, place: int) -> Amount | None:
    """The amount that begins at ``place``: sign, number, unit, and what belongs to it after the unit."""
    start = place + 1 if atoms[place].word == "minus" else place
    number = _number_at(atoms, start)
    if number is None:
        return _article_amount(atoms, place)
    if start > place:
        number = replace(number, value=-number.value, readings=tuple(-reading for reading in number.readings), clock=None)
    approximate = "a couple" in number.why
    loose = skip_before_unit(atoms, number.end)
    if atoms[loose].word in ("plus", "+") and u.read_unit(atoms, loose + 1):
        number = replace(number, end=loose + 1, why=(*number.why, "bound=at least"))
        loose = number.end
    unit = u.read_unit(atoms, loose)
    if unit is None:
        end = skip_after(atoms, number.end)
        return Amount(number, None, place, end, approximate or end > number.end)
    if number.year and unit[0] is u.DAY:
        return None
    amount = Amount(number, choose_unit(unit[0], atoms, place, unit[1]), place, unit[1], approximate or loose > number.end)
    return _with_tail(atoms, amount)


def _number_at(atoms: Atoms, place: int) -> Number | None:
    """A number, or a fraction that a unit follows ("half an inch")."""
    if (couple := _couple(atoms, place)) is not None:
        return couple
    start = place + 1 if atoms[place].word == "a" and atoms[place + 1].kind in ("hundred", "thousand") else place
    number = read_number(atoms, start)
    if number is not None and atoms[number.end].word not in v.FRACTION_ENDS:
        return replace(number, end=skip_of_a(atoms, number.end)) if 0 < number.value < 1 else number
    fraction = read_fraction(atoms, place)
    if number is not None and (fraction is None or fraction[1] <= number.end) and atoms[number.end].word not in v.FRACTION_WORDS:
        return replace(number, end=skip_of_a(atoms, number.end)) if 0 < number.value < 1 else number
    if fraction is not None and (u.read_unit(atoms, fraction[1]) or _half_of_a_range(atoms, fraction[1])):
        return Number(*fraction, ("fraction",))
    return None


def _half_of_a_range(atoms: Atoms, place: int) -> bool:
    """As in "half to one centimetre": the unit comes with the second number."""
    if atoms[place].word not in ("to", "or"):
        return False
    second = read_number(atoms, place + 1)
    return second is not None and u.read_unit(atoms, second.end) is not None


def _couple(atoms: Atoms, place: int) -> Number | None:
    """As in "a couple of millimetres"."""
    start = place + 1 if atoms[place].word == "a" else place
    if atoms[start].word != "couple":
        return None
    end = start + 2 if atoms[start + 1].word == "of" else start + 1
    return Number(2.0, end, ("a couple",)) if u.read_unit(atoms, end) else None


def _article_amount(atoms: Atoms, place: int) -> Amount | None:
    """As in "a millimetre (and a half)", "an inch", "an hour twenty"."""
    if atoms[place].word not in v.ARTICLES:
        return None
    unit = u.read_unit(atoms, place + 1)
    if unit is None or atoms[place - 1].word in ("times", "once", "twice") or is_share_of(atoms, place):
        return None
    amount = _with_tail(atoms, Amount(Number(1.0, place + 1, ("a for one",)), unit[0], place, unit[1]))
    alone = amount.number.value == 1.0 and amount.worth is None
    return None if alone and unit[0] not in _SAID_WITH_ARTICLE else amount


def _with_tail(atoms: Atoms, amount: Amount) -> Amount:
    """Adds what is said after the unit: "and a half", "ten minutes", "or so"."""
    amount = _and_fraction(atoms, amount)
    amount = _smaller_part(atoms, amount)
    end = skip_after(atoms, amount.end)
    return replace(amount, end=end, approximate=amount.approximate or end > amount.end)


def _and_fraction(atoms: Atoms, amount: Amount) -> Amount:
    fraction = read_and_fraction(atoms, amount.end, after_unit=True, of_inch=amount.unit is u.INCH)
    if fraction is None or not amount.number.value.is_integer() or amount.number.readings:
        return amount
    why = (*amount.number.why, "and a fraction after the unit")
    return replace(amount, number=replace(amount.number, value=amount.number.value + fraction[0], why=why), end=fraction[1])


def _ends_a_time(atoms: Atoms, place: int) -> bool:
    """As in "an hour twenty", "one hour and twelve of tourniquet": what follows cannot be counted."""
    return atoms[place].kind in ("stop", "comma") or (atoms[place].word == "of" and atoms[place + 1].word in _TIMED)


def _and_centimetres(atoms: Atoms, amount: Amount) -> Amount:
    """As in "one metre seventy two": a patient's height."""
    found = read_below_hundred(atoms, amount.end)
    if found is None or found[0] < _LEAST_BARE_CENTIMETRES or u.read_unit(atoms, found[1]) or not amount.number.value.is_integer():
        return amount
    number = replace(amount.number, why=(*amount.number.why, "in two units"))
    return replace(amount, number=number, end=found[1], worth=u.METRE.convert(amount.number.value) + u.CM.convert(found[0]))


def _smaller_part(atoms: Atoms, amount: Amount) -> Amount:
    """As in "one hour (and) forty four minutes", "an hour twenty", "two minutes thirty seconds"."""
    if amount.unit is u.METRE:
        return _and_centimetres(atoms, amount)
    part = _PARTS_OF.get(amount.unit) if amount.unit else None
    if part is None or amount.unit is None or not amount.number.value.is_integer():
        return amount
    step = 1 if atoms[amount.end].word == "and" else 0
    found = read_below_hundred(atoms, amount.end + step)
    if found is None or not 0 < found[0] < 60:
        return amount
    unit = u.read_unit(atoms, found[1])
    said = unit is not None and unit[0] is part
    if not said and (unit or amount.unit is not u.HOUR or found[0] < _LEAST_BARE_MINUTES or not _ends_a_time(atoms, found[1])):
        return amount
    worth = round(amount.unit.convert(amount.number.value) + part.convert(found[0]), 2)
    number = replace(amount.number, why=(*amount.number.why, "in two units"))
    return replace(amount, number=number, end=unit[1] if said and unit else found[1], worth=worth)
