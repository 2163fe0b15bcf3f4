"""Numbers with units: single values, ranges, pairs ("seven by twenty-three"), and the quantities they become."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import units as u
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.amounts import Amount, read_amount
from opnote.language.quantities.atoms import Atom, Atoms
from opnote.language.quantities.counted import (
    Counting,
    Verdict,
    count_alone,
    counts_by_sign,
    is_quarter,
    judge,
    noun_after,
    read_counting,
    with_quarter,
    with_reading,
)
from opnote.language.quantities.figures import read_below_hundred
from opnote.language.quantities.match import Match
from opnote.language.quantities.modifiers import Modifiers, bound_after, read_before
from opnote.language.quantities.numbers import Number
from opnote.language.quantities.pairs import read_pair
from opnote.language.quantities.ranges import LONGEST_MM, MOST_DEGREES, read_range

_NO_RECORD_WANTS: Final = v.word_set(
    "gauge french blade blades glove gloves scope arthroscope telescope camera lens gauze swab swabs sponge sponges thirds third fours "
    "something foot feet ft"
)
_BEFORE_ONE_DAY: Final = v.word_set("for after at within in")
_SCALES: Final = v.word_set("celsius centigrade fahrenheit")
_WARM: Final = v.word_set("temperature temp warmed warm")
_WARM_WITHIN: Final = 4
_LEAST_SYSTOLIC, _MOST_SYSTOLIC = 60, 260
"""mmHg."""
_A_MOMENT: Final = 2
"""Seconds; nothing that a record wants is as short."""
_SHARES: Final = frozenset(word for word in v.SHARES if word.endswith("s"))
_AREA: Final = v.word_set("square squared sq cubed")
_RATE_UNITS: Final = v.word_set(
    "minute min hour h hr second day daily kilo kg kilogram week mil mils ml mls cc millilitre milliliter millilitres milliliters "
    "litre liter l"
)


def read_measure(atoms: Atoms, place: int) -> Match | None:
    """The measure that begins at ``place``: a pair, a range or a single amount."""
    first = read_amount(atoms, place + 1 if atoms[place].word == "between" else place)
    if first is None:
        return None
    if first.number.spelled or _is_margin(atoms, place):
        return Match(first.end)
    if (end := _blood_pressure_end(atoms, first)) is not None:
        return Match(end)
    if (three := read_three(atoms, place)) is not None:
        return three
    before = read_before(atoms, place)
    if is_quarter(atoms, first):
        first = with_quarter(first)
    if counting := read_counting(atoms, first):
        verdict = _judged(atoms, before, first, counting)
        if verdict is Verdict.COUNT:
            counted = count_alone(first, counting)
            return Match(counting.split, (single(atoms, before, counted),) if counting.count > 1 else ())
        first = with_reading(first, counting) if verdict is Verdict.OPEN else first
    if (pressure := _pressure_before_minutes(atoms, first)) is not None:
        return Match(pressure.end, (single(atoms, before, pressure),))
    match = read_pair(atoms, before, first) or read_range(atoms, before, first)
    if match is not None and counts_by_sign(atoms, first, match):
        own_token = atoms[first.end + 1].start >= atoms[first.number.end - 1].end
        return Match(first.end + 1, (single(atoms, before, replace(first, end=first.number.end)),) if own_token else ())
    if match is None and atoms[place].word == "between":
        return None
    if match is None and _is_two_numbers(atoms, first):
        first = _first_of_two(first)
    if match is None:
        match = Match(first.end, () if _counts_nothing(atoms, first) else (single(atoms, before, first),))
    return Match(_no_measure_end(atoms, match)) if _is_no_measure(atoms, match.end) else match


def read_three(atoms: Atoms, place: int) -> Match | None:
    """As in "seven eight and nine millimetre dilators", "six twelve and twenty four weeks": three that share the unit of the last.

    Sizes follow each other so, weeks come in any steps; nobody counts down like that.
    """
    whole = [read_below_hundred(atoms, place)]
    whole += [read_below_hundred(atoms, whole[0][1]) if whole[0] else None]
    if whole[0] is None or whole[1] is None or atoms[whole[1][1]].word != "and":
        return None
    third = read_amount(atoms, whole[1][1] + 1)
    if third is None or third.unit is None or third.number.readings or third.number.why != ("number",):
        return None
    steps = (whole[1][0] - whole[0][0], third.number.value - whole[1][0])
    if not (steps == (1, 1) if third.unit.kind == "length" else third.unit.kind == "period" and min(steps) > 0):
        return None
    starts = (place, whole[0][1])
    shared = [
        Amount(Number(value, end, ("number", "shared unit")), third.unit, start, end)
        for start, (value, end) in zip(starts, (whole[0], whole[1]), strict=True)
    ]
    return Match(third.end, tuple(single(atoms, Modifiers(amount.start), amount) for amount in (*shared, third)))


def _is_margin(atoms: Atoms, place: int) -> bool:
    """As in "plus or minus two degrees", where the number that it belongs to is not said."""
    if atoms[place].word == "minus":
        return atoms[place - 1].word == "plus" or (atoms[place - 1].word == "or" and atoms[place - 2].word == "plus")
    return atoms[place - 1].word == "±"


def _judged(atoms: Atoms, before: Modifiers, first: Amount, counting: Counting) -> Verdict:
    """Whether the first number counts, by what stands around the pair, the range or the length it begins."""
    pair = read_pair(atoms, before, first)
    if pair is not None:
        length = pair.quantities[0].parts[1]
        value = length.value if length.value is not None else length.high
        return judge(atoms, first, counting, pair.end, value if isinstance(value, float) else None)
    match = read_range(atoms, before, first)
    kinds = {quantity.kind for quantity in match.quantities} if match else set()
    if first.unit is None and kinds != {"length"}:
        return Verdict.SIZE
    return judge(atoms, first, counting, match.end if match else first.end, None)


def _is_two_numbers(atoms: Atoms, amount: Amount) -> bool:
    """As in "seventeen fifty eight kilos": no time of day and no year has a unit; a volume may be that large."""
    number, unit = amount.number, amount.unit
    if unit is None or number.readings:
        return False
    if number.why[0] == "short hundred":
        too_long = unit.code == "mm" and number.value > LONGEST_MM and noun_after(atoms, amount.end)[0] is not None
        return number.split is not None and (too_long or (unit.kind == "angle" and number.value > MOST_DEGREES))
    return number.split is not None and unit.kind != "volume"


def _first_of_two(amount: Amount) -> Amount:
    """The first number alone; the second is read with its unit in the next step."""
    number = amount.number
    end = number.split or number.end
    value = number.value // 1 if number.readings else number.value // 100
    return Amount(Number(value, end, ("number",)), None, amount.start, end)


def _pressure_before_minutes(atoms: Atoms, amount: Amount) -> Amount | None:
    """The first number of "tourniquet three hundred fifty two minutes": no cuff stays up for 352, and it is 300 that it is blown to."""
    place, number = amount.start, amount.number
    if amount.unit is not u.MINUTE or number.value <= _LONGEST_CUFF or number.end != amount.end - 1:
        return None
    hundreds = atoms[place].value * 100
    said_so = atoms[place].kind == "digit" and atoms[place + 1].kind == "hundred" and read_below_hundred(atoms, place + 2) is not None
    if not said_so or not _LEAST_CUFF <= hundreds <= _MOST_CUFF or not _CUFF.intersection(atoms.before(place, _CUFF_WITHIN)):
        return None
    return Amount(Number(hundreds, place + 2), None, place, place + 2)


_CUFF: Final = v.word_set("tourniquet cuff")
_CUFF_WITHIN: Final = 3
_LONGEST_CUFF: Final = 180
"""Minutes; the limit of common practice."""
_LEAST_CUFF, _MOST_CUFF = 200, 400
"""mmHg."""


def _counts_nothing(atoms: Atoms, amount: Amount) -> bool:
    """A torque, which is none of the kinds, the inches of a patient's height, "one day" for some day, and "back in two seconds"."""
    some_day = amount.unit is u.DAY and amount.number.value == 1 and atoms[amount.start - 1].word not in _BEFORE_ONE_DAY
    moment = amount.unit is u.SECOND and amount.number.value <= _A_MOMENT
    height = amount.unit is u.INCH and atoms[amount.start - 1].word in ("foot", "feet", "ft")
    return some_day or moment or height or amount.unit is u.TORQUE or (amount.unit is u.DEGREE and _is_warmth(atoms, amount))


def _is_warmth(atoms: Atoms, amount: Amount) -> bool:
    """As in "temperature thirty six point five degrees", "thirty seven degrees Celsius"."""
    return atoms[amount.end].word in _SCALES or bool(_WARM.intersection(atoms.before(amount.start, _WARM_WITHIN)))


def _blood_pressure_end(atoms: Atoms, first: Amount) -> int | None:
    """The place after "one twenty over eighty (millimetres of mercury)", which is nobody's cuff."""
    if atoms[first.end].word != "over" or first.unit is not None or not _LEAST_SYSTOLIC <= first.number.value <= _MOST_SYSTOLIC:
        return None
    second = read_amount(atoms, first.end + 1)
    if second is None or second.number.value >= first.number.value or (second.unit is not None and second.unit is not u.MMHG):
        return None
    return second.end


def _is_no_measure(atoms: Atoms, end: int) -> bool:
    """Areas, rates, and sizes of things that no record wants ("eighteen gauge", "thirty degree scope")."""
    after = atoms[end]
    if after.word in _NO_RECORD_WANTS or after.word in _SHARES or after.word in _AREA or after.word in ("o'clock", "oclock"):
        return True
    if after.word in ("daily", "nightly", "weekly") or (after.kind == "by" and _is_swab(atoms[end + 1])):
        return True
    return after.word in ("per", "a", "an", "/") and atoms[end + 1].word in _RATE_UNITS and atoms[end - 1].kind == "word"


def _is_swab(atom: Atom) -> bool:
    """As in "four by fours", "4 x 4s"."""
    return atom.word in _NO_RECORD_WANTS or (atom.kind == "mixed" and atom.word.endswith("s"))


def _no_measure_end(atoms: Atoms, match: Match) -> int:
    """The place after the unit of an area, so that "two square centimetres" leaves nothing behind."""
    if atoms[match.end].word in _AREA and (unit := u.read_unit(atoms, match.end + 1)):
        return unit[1]
    return match.end + 1


def single(atoms: Atoms, before: Modifiers, amount: Amount) -> Quantity:
    """The quantity of one amount."""
    start, end = atoms.tokens(before.start if before.approximate else amount.start, amount.end)
    number, unit = amount.number, amount.unit
    approximate = before.approximate or amount.approximate
    why = _reasons(atoms, before, amount)
    if unit is None or unit is u.MIL:
        return Quantity(start, end, "number", number.value, approximate=approximate, readings=number.readings, why=why)
    if unit.kind == "angle" and number.readings:  # degrees are said whole
        number = replace(number, value=max(number.readings), readings=tuple(sorted(number.readings, reverse=True)))
        amount = replace(amount, number=number)
    readings = tuple(unit.convert(reading) for reading in number.readings)
    said = (number.value, unit.code) if unit.canonical != unit.code and amount.worth is None else None
    return Quantity(
        start, end, unit.kind, amount.in_unit(None), unit=unit.canonical, said=said, approximate=approximate, readings=readings, why=why
    )


def _reasons(atoms: Atoms, before: Modifiers, amount: Amount) -> tuple[str, ...]:
    """The rules behind an amount, innermost first."""
    number, unit = amount.number, amount.unit
    why = list(number.why)
    if unit is None:
        why += [f"clock={number.clock}"] if number.clock else []
    elif unit is u.MIL:
        why.append("mil: mL or mm")
    else:
        why.append(f"unit {unit.code}")
        split = _angle_and_length(atoms, amount)
        why += [f"split={split}"] if split else []
    if number.why == ("digit by digit",) and unit is not None and unit.kind == "length":
        first, rest = divmod(number.value, 100)
        why.append(f"split={first:g}|{rest / 10:g}")
    bound = before.bound or bound_after(atoms, amount.end)
    why += [f"bound={bound}"] if bound else []
    why += ["ago"] if atoms[amount.end].word in ("ago", "earlier") else []
    return tuple(why)


def _angle_and_length(atoms: Atoms, amount: Amount) -> str | None:
    """As in "at thirty three millimetres" may be thirty-three, or three at thirty degrees; both stay visible."""
    tens, small = atoms[amount.start], atoms[amount.start + 1]
    if atoms[amount.start - 1].word != "at" or tens.kind != "tens" or amount.unit is None or amount.unit.kind != "length":
        return None
    return f"{tens.value:g}|{small.value:g}" if small.kind == "digit" and not small.joined else None
