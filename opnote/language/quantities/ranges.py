"""Two numbers that are the ends of one range: "eight to ten", "between A and B", "30-40", "seven, eight millimetres"."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.amounts import Amount, read_amount
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.figures import is_small
from opnote.language.quantities.match import Match
from opnote.language.quantities.modifiers import Modifiers
from opnote.language.quantities.numbers import Number
from opnote.language.quantities.units import MIL, Unit

_DRILLING: Final = v.word_set("ream reamed reaming reamer drill drilled drilling drills overdrilled bored")
_CHANGING: Final = v.word_set("trimmed cut shortened reduced dropped lowered upsized downsized increased raised changed stepped improved")
_STEPPING: Final = v.word_set("up down upsized downsized sized oversized upsize downsize increased enlarged dropped went")
_LEAST_TARGET: Final = 3
"""A step "by one to nine" is a third of what it leads to at most; "up by three to five" is how much it went up."""
_DEPTH: Final = v.word_set("deep depth")
_NARROWEST_DRILL, _WIDEST_DRILL, _SHALLOWEST_TUNNEL = 2, 13, 15
"""mm. A diameter from 2 to 13 "to" a number from 15 on, said of drilling, is a diameter and a depth (common practice)."""
_FIRST_GUESS: Final = 5
LONGEST_MM: Final = 400
"""Of a graft before it is folded; "seven twenty five millimetres" are two numbers."""
MOST_DEGREES: Final = 180
"""No joint bends further."""
_PLUS_MINUS: Final = (("plus", "or", "minus"), ("plus", "minus"), ("±",))
_DOWN: Final = "down to"
_JOINTS: Final = (
    (("down", "to"), _DOWN),
    (("right", "down", "to"), _DOWN),
    (("all", "the", "way", "down", "to"), _DOWN),
    (("right", "up", "to"), "to"),
    (("through", "to"), "to"),
    (("all", "the", "way", "to"), "to"),
    (("all", "the", "way", "up", "to"), "to"),
)
"""Phrases between the ends of a range, and how the two belong together."""
_OPENING: Final = v.word_set(
    "opens opened opening open gap gaps gapped gapping laxity translation translates glide glides shift shifts drawer"
)
_OPENING_WITHIN: Final = 3
_DENIALS: Final = frozenset({"not", "no", "sorry", "correction", "rather"})
_MAYBE: Final = frozenset({"maybe", "perhaps", "possibly", "even"})


def read_range(atoms: Atoms, before: Modifiers, first: Amount) -> Match | None:
    """The range that begins with ``first``, or None."""
    return (
        _plus_minus(atoms, before, first)
        or _to(atoms, before, first)
        or _two_hundreds(atoms, before, first)
        or _angles_in_a_row(atoms, first)
        or _neighbours(atoms, before, first)
        or _run_on(atoms, before, first)
        or _three_in_a_row(atoms, first)
    )


def _to(atoms: Atoms, before: Modifiers, first: Amount) -> Match | None:
    joint = _joint(atoms, first)
    if joint is None:
        return None
    word, place = joint
    signed = first.number.value < 0 and atoms[place].word == "plus"  # "minus two to plus three degrees"
    second = read_amount(atoms, place + 1 if signed else place)
    if second is None or second.number.spelled or (word == "or" and not _close(first, second)):
        return None
    if _unlike(first, second) or _bends_back(atoms, first):
        return None
    if word == _DOWN:
        return _downwards(atoms, before, first, second)
    if word == "to" and _is_diameter_and_depth(atoms, first, second):
        return None
    if word == "to" and _is_step(atoms, first, second):
        return Match(first.end)
    if word == "to" and _is_change(atoms, first, second):
        return _change(atoms, first, second)
    return _range(atoms, before, first, second, why=f"range: {word}", approximate=word == "or")


def _joint(atoms: Atoms, first: Amount) -> tuple[str, int] | None:
    """The word between the two ends, and the place where the second may begin."""
    joint = atoms[first.end]
    if joint.word == "and" and atoms[first.start - 1].word == "between":
        return "between", first.end + 1
    if joint.word == "up" and atoms[first.end + 1].word == "to" and (first.unit is not None or atoms[first.start - 1].word == "from"):
        return "to", first.end + 2
    for words, meaning in _JOINTS if joint.word in _FIRST_JOINTS else ():
        if atoms.words(first.end, len(words)) == words:
            return meaning, first.end + len(words)
    if joint.word in ("to", "through", "or", "dash") or joint.kind == "hyphen":
        return joint.word, first.end + 1
    return None


_FIRST_JOINTS: Final = frozenset(words[0] for words, _ in _JOINTS)


def _bends_back(atoms: Atoms, first: Amount) -> bool:
    """As in "hyperextends five degrees to one thirty five": the first end lies below zero, and is no end of 5 to 135."""
    return first.number.value > 0 and any(word.startswith("hyper") for word in atoms.before(first.start, 2))


def _downwards(atoms: Atoms, before: Modifiers, first: Amount, second: Amount) -> Match | None:
    """As in "ninety down to zero degrees", a range; of all but angles, as in "ten down to three millimetres", before and after."""
    unit = second.unit or first.unit
    if unit is None or first.number.readings or second.number.readings or first.in_unit(unit) <= second.in_unit(unit):
        return None
    if unit.kind == "angle":
        return _range(atoms, before, first, second, why=f"range: {_DOWN}", approximate=False)
    return _change(atoms, first, second)


def _unlike(first: Amount, second: Amount) -> bool:
    """Units of two kinds make no range, nor does a unit on the first end alone unless both are small enough to share it."""
    if first.unit is None or second.unit is None:
        return False
    return (first.unit.kind, first.unit.canonical) != (second.unit.kind, second.unit.canonical)  # "six weeks to three months" too


def _close(first: Amount, second: Amount) -> bool:
    """As in "seven or eight" is one doubtful value; "six or twelve" are two values."""
    low, high = first.in_unit(second.unit), second.in_unit(first.unit)
    return 0 < high - low <= max(2.0 * (second.unit or first.unit or _NO_UNIT).factor, high / 3)


_NO_UNIT: Final = Unit("1", "number", "1")


def _is_diameter_and_depth(atoms: Atoms, first: Amount, second: Amount) -> bool:
    unit = second.unit or first.unit
    if unit is not None and unit.kind != "length":
        return False
    narrow, deep = first.in_unit(unit), second.in_unit(unit)
    if not (_NARROWEST_DRILL <= narrow <= _WIDEST_DRILL and deep >= max(_SHALLOWEST_TUNNEL, 2 * narrow)):
        return False
    return atoms[second.end].word in _DEPTH or bool(_DRILLING.intersection(atoms.before(first.start, 6)))


def _is_step(atoms: Atoms, first: Amount, second: Amount) -> bool:
    """As in "upsized by one to nine", "up half a millimetre to eight and a half": how much by is no size, and no end of a range."""
    unit = second.unit or first.unit
    earlier = atoms.before(first.start, 3)
    if (unit is not None and unit.kind != "length") or first.number.value <= 0:
        return False
    stepped = earlier[:1] in (("up",), ("down",)) or (earlier[:1] == ("by",) and bool(_STEPPING.intersection(earlier[1:])))
    return stepped and second.in_unit(unit) >= _LEAST_TARGET * first.in_unit(unit)


def _is_change(atoms: Atoms, first: Amount, second: Amount) -> bool:
    """As in "cut down from twenty four to sixteen centimetres": before and after, no range."""
    unit = second.unit or first.unit
    if unit is None or unit.kind == "angle":
        return False
    earlier = atoms.before(first.start, 6)
    falling = earlier[:1] == ("from",) and unit.kind == "length" and first.in_unit(unit) > second.in_unit(unit)
    return falling or ("from" in earlier[:1] and bool(_CHANGING.intersection(earlier)))


def _change(atoms: Atoms, first: Amount, second: Amount) -> Match:
    unit = second.unit or first.unit
    quantities = tuple(_end_alone(atoms, amount, unit) for amount in (first, second))
    return Match(second.end, quantities)


def _end_alone(atoms: Atoms, amount: Amount, unit: Unit | None, reasons: tuple[str, ...] = ("before and after",)) -> Quantity:
    start, end = atoms.tokens(amount.start, amount.end)
    own = amount.unit or unit or _NO_UNIT
    said = (amount.number.value, own.code) if own.code != own.canonical else None
    why = (*amount.number.why, f"unit {own.code}", *reasons)
    return Quantity(start, end, own.kind, amount.in_unit(own), unit=own.canonical, said=said, why=why)


def _plus_minus(atoms: Atoms, before: Modifiers, first: Amount) -> Match | None:
    """As in "thirty plus or minus five millimetres"."""
    place = next((first.end + len(words) for words in _PLUS_MINUS if atoms.words(first.end, len(words)) == words), None)
    margin = read_amount(atoms, place) if place is not None else None
    if margin is None or margin.number.spelled:
        return None
    unit = margin.unit or first.unit
    middle, half = first.in_unit(unit), margin.in_unit(unit)
    ends = Amount(replace(first.number, value=0.0), unit, first.start, margin.end)
    low, high = replace(ends, worth=middle - half), replace(ends, worth=middle + half)
    return _range(atoms, before, low, high, why="plus or minus", approximate=False)


def _angles_in_a_row(atoms: Atoms, first: Amount) -> Match | None:
    """As in "zero thirty sixty ninety degrees": three angles and more, rising, before one unit."""
    row = [first]
    while row[-1].unit is None and len(row) < _LONGEST_ROW:
        following = read_amount(atoms, row[-1].end)
        number = following.number if following is not None and following.start == row[-1].end else None
        if following is None or number is None or number.why != ("number",) or number.value <= row[-1].number.value:
            return None
        row.append(following)
    unit = row[-1].unit
    if len(row) < _SHORTEST_ROW or unit is None or unit.kind != "angle" or first.number.why != ("number",):
        return None
    return Match(row[-1].end, tuple(_end_alone(atoms, amount, unit, ("shared unit",)) for amount in row))


_SHORTEST_ROW, _LONGEST_ROW = 3, 6


def _neighbours(atoms: Atoms, before: Modifiers, first: Amount) -> Match | None:
    """As in "seven, eight millimetres", "seven, maybe eight", "twenty thirty degrees": neighbours before one unit."""
    if first.unit is not None or first.number.readings:
        return None
    place = first.end + 1 if atoms[first.end].kind == "comma" else first.end
    place = place + 1 if atoms[place].word in _MAYBE else place
    second = read_amount(atoms, place)
    if second is None or second.unit is None or second.number.readings or second.number.spelled or second.start != place:
        return None
    run_on = place == first.end
    if atoms[place].kind == "word" or not _next_to_each_other(first, second, run_on=run_on):
        return None
    before_first = atoms[first.start - 1].word
    if before_first in _DENIALS or (before_first == "at" and second.unit.kind == "length"):
        return None
    return _range(atoms, before, first, second, why="range: neighbours", approximate=True)


def _two_hundreds(atoms: Atoms, before: Modifiers, first: Amount) -> Match | None:
    """As in "two fifty two eighty millimetres of mercury": 250 and 280 before one unit, though the words are 252 and 80 too.

    Both end in round tens and the second is in the same hundred or the next, which by chance is rare. Lengths stay two.
    """
    place, number = first.start, first.number
    tens, hundreds = atoms[place + 1], atoms[place + 2]
    whole = tens.kind == "hundred"  # "three hundred three fifty", which is 303 and 50 too
    if first.unit is not None or first.end != place + 3 or not (whole or (tens.kind == "tens" and number.why == ("short hundred",))):
        return None
    if not (is_small(hundreds) and hundreds.value - atoms[place].value in (0, 1)):
        return None
    second = read_amount(atoms, place + 2)
    unit = second.unit if second is not None else None
    if second is None or unit is None or unit.kind not in _IN_HUNDREDS or not _in_hundreds(second):
        return None
    low = atoms[place].value * 100 + (0 if whole else tens.value)
    if second.number.value % 10 or not low < second.number.value:
        return None
    start = replace(first, number=Number(low, place + 2), end=place + 2)
    if unit.kind == "length":
        why = ("shared unit", "two lengths or a range")
        return Match(second.end, tuple(_end_alone(atoms, amount, unit, why) for amount in (start, second)))
    return _range(atoms, before, start, second, why="range: neighbours", approximate=True)


def _in_hundreds(amount: Amount) -> bool:
    """As in "two eighty", "three hundred"."""
    number = amount.number
    return number.why == ("short hundred",) or (number.why == ("number",) and number.value >= 100 and number.value % 100 == 0)


_IN_HUNDREDS: Final = frozenset({"pressure", "angle", "force", "length"})


def _next_to_each_other(first: Amount, second: Amount, *, run_on: bool) -> bool:
    """Whether two numbers are near enough to be a guess; a half counts nothing, so that "seven and a half eight" are one too."""
    low, high = first.number.value, second.number.value
    whole = low.is_integer() or (run_on and (2 * low).is_integer())
    return 0 < low < high <= max(low + 1, 1.5 * low) and whole and high.is_integer()


def _run_on(atoms: Atoms, before: Modifiers, first: Amount) -> Match | None:
    """As in "ten fifteen minutes", "six eight weeks": two numbers that were read as one, before a unit that they cannot both be of."""
    unit, two = first.unit, first.number.two
    time = unit is not None and unit.kind in ("duration", "period")
    if unit is None or two is None or two[1] > (2 if time or unit.kind == "angle" else 1.5) * two[0]:
        return None
    time = time and (two[0] > 1 or not first.number.readings)
    no_one = (
        first.number.value >= 1000
        or (unit.kind == "angle" and first.number.value > MOST_DEGREES)
        or _is_guess(unit, two, opening=_tells_of_opening(atoms, first))
    )
    if not (time or no_one):
        return None
    low, high = (replace(first, number=replace(first.number, value=value, readings=(), why=("number",))) for value in two)
    return _range(atoms, before, low, high, why="range: neighbours", approximate=True)


def _three_in_a_row(atoms: Atoms, first: Amount) -> Match | None:
    """As in "six seven eight millimetres": one after the other, where one number of them would be too long for a knee."""
    unit, value = first.unit, first.number.value
    if unit is None or unit.code != "mm" or first.number.why != ("digit by digit",) or value <= LONGEST_MM:
        return None
    digits = [value // 100, value // 10 % 10, value % 10]
    if digits != [digits[0], digits[0] + 1, digits[0] + 2]:
        return None
    places = [(atoms[place].start, atoms[place].end) for place in range(first.start, first.start + 3)]
    ends = [end for _, end in places[:-1]] + [atoms.tokens(first.start, first.end)[1]]
    why = ("number", f"unit {unit.code}", "shared unit")
    quantities = (
        Quantity(start, end, unit.kind, digit, unit=unit.canonical, why=why)
        for (start, _), end, digit in zip(places, ends, digits, strict=True)
    )
    return Match(first.end, tuple(quantities))


def _tells_of_opening(atoms: Atoms, amount: Amount) -> bool:
    """As in "opens three four millimetres", "two three millimetres of laxity": what is felt by hand, in whole millimetres."""
    after = atoms[amount.end + 1].word if atoms[amount.end].word == "of" else atoms[amount.end].word
    return after in _OPENING or bool(_OPENING.intersection(atoms.before(amount.start, _OPENING_WITHIN)))


def _is_guess(unit: Unit, two: tuple[float, float], *, opening: bool) -> bool:
    """As in "seven eight millimetres", "two three centimetres": neighbours; nothing is made in 7.8, and 78 is said otherwise.

    Below five millimetres the words are sizes as well (4.5) and figures of longer ones ("three four": 34).
    """
    first = 1 if unit.code == "cm" or opening else _FIRST_GUESS
    return unit.kind == "length" and two[0] >= first and two[1] == two[0] + 1 and two[1] < 10


def _range(atoms: Atoms, before: Modifiers, first: Amount, second: Amount, *, why: str, approximate: bool) -> Match:
    unit = second.unit or first.unit
    low, high = sorted(round(amount.in_unit(unit), 4) for amount in (first, second))
    opening = first.start - 1 if atoms[first.start - 1].word == "between" else first.start
    start, end = atoms.tokens(before.start if before.approximate else opening, second.end)
    approximate = approximate or before.approximate or first.approximate or second.approximate
    reasons = (*first.number.why, why, *_unit_reasons(first, second, unit))
    if first.in_unit(unit) > second.in_unit(unit) and (unit is None or unit.code == unit.canonical):
        reasons = (*reasons, f"said {first.number.value:g} to {second.number.value:g}")
    if unit is None or unit is MIL:
        quantity = Quantity(start, end, "number", low=low, high=high, approximate=approximate, why=reasons)
    else:
        quantity = Quantity(start, end, unit.kind, low=low, high=high, unit=unit.canonical, approximate=approximate, why=reasons)
    return Match(second.end, (quantity,))


def _unit_reasons(first: Amount, second: Amount, unit: Unit | None) -> tuple[str, ...]:
    """What a range keeps of its unit as it was said."""
    if unit is None:
        return ()
    if unit is MIL:
        return ("mil: mL or mm",)
    if unit.code == unit.canonical:
        return (f"unit {unit.code}",)
    return (f"said {first.number.value:g} to {second.number.value:g} {unit.code}",)
