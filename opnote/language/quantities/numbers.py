"""One spoken number: cardinals, short hundreds ("two forty"), decimals, halves and quarters, digits split by a recogniser."""

from __future__ import annotations

from dataclasses import dataclass, replace

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atom, Atoms
from opnote.language.quantities.figures import clock_of, end_of_figures, is_figure, is_small, is_zero, read_below_hundred
from opnote.language.quantities.fractions import is_and_fraction, read_and_fraction, skip_of_a
from opnote.language.quantities.units import read_unit


@dataclass(frozen=True, slots=True)
class Number:
    """A number read from atoms up to ``end`` (excluded).

    ``readings`` are its possible values when the words are ambiguous, likelier first; ``clock`` is the time of day the same words
    could tell ("eight fifty two": 08:52); ``two`` are the two numbers the same words could be ("ten fifteen": 10, 15); ``spelled``
    marks four and more digits said one by one, which are no amount. ``split`` is the place where a second number begins if the words
    turn out to be two ("seventeen fifty eight kilos").
    """

    value: float
    end: int
    why: tuple[str, ...] = ("number",)
    readings: tuple[float, ...] = ()
    clock: str | None = None
    two: tuple[float, float] | None = None
    year: bool = False
    spelled: bool = False
    split: int | None = None


def read_number(atoms: Atoms, place: int) -> Number | None:
    """The number that begins at ``place``, as long as it sensibly goes on.

    >>> from opnote.language.quantities.atoms import split_atoms
    >>> read_number(split_atoms("two forty".split()), 0).value
    240.0
    """
    number = read_cardinal(atoms, place)
    if number is None:
        return _read_leading_point(atoms, place)
    return _with_fraction(atoms, _with_decimals(atoms, number))


def read_cardinal(atoms: Atoms, place: int) -> Number | None:
    """A whole number (or figures with decimals) at ``place``, without spoken decimals or fractions."""
    atom = atoms[place]
    if atom.kind == "hundred":
        return _after_hundreds(atoms, 100.0, place + 1)
    if atom.kind == "fraction" and atom.value > 1:
        return Number(atom.value, place + 1)
    if atom.kind == "num" and (len(atom.word) > 2 or not atom.value.is_integer() or atom.word.startswith("0")):
        return _from_figures(atoms, place)
    base = read_below_hundred(atoms, place)
    if base is None:
        return None
    value, end = base
    if atoms[end].kind == "hundred" and value > 0:
        hundreds = _after_hundreds(atoms, value * 100, end + 1)
        if atoms[hundreds.end].kind == "thousand":
            return _after_thousands(atoms, hundreds.value * 1000, hundreds.end + 1)
        return replace(hundreds, clock=clock_of(hundreds.value // 100, 0)) if hundreds.value % 100 == 0 and value >= 10 else hundreds
    if atoms[end].kind == "thousand" and value > 0:
        return _after_thousands(atoms, value * 1000, end + 1)
    return _juxtaposed(atoms, place, value, end) or Number(value, end)


def _from_figures(atoms: Atoms, place: int) -> Number | None:
    atom = atoms[place]
    if atom.word.startswith("0") and len(atom.word) > 1 and atom.value.is_integer():
        return None  # "0742", "007": a clock or part of an identifier, not an amount
    clock = clock_of(atom.value // 100, atom.value % 100) if len(atom.word) in (3, 4) and atom.value.is_integer() else None
    year = len(atom.word) == 4 and 1900 <= atom.value < 2100
    return Number(atom.value, place + 1, clock=clock, year=year)


def _after_hundreds(atoms: Atoms, hundreds: float, place: int) -> Number:
    """As in "two hundred", then maybe "(and) fifty"."""
    step = 1 if atoms[place].word == "and" else 0
    rest = read_below_hundred(atoms, place + step)
    if rest is None or rest[0] == 0 or is_and_fraction(atoms, place) or atoms[rest[1]].kind in ("hundred", "thousand"):
        return Number(hundreds, place)
    return Number(hundreds + rest[0], rest[1])


def _after_thousands(atoms: Atoms, thousands: float, place: int) -> Number:
    """As in "two thousand", then maybe "(and) twenty five" or "three hundred (and) ten"."""
    step = 1 if atoms[place].word == "and" else 0
    rest = read_below_hundred(atoms, place + step)
    if rest is None or rest[0] == 0 or is_and_fraction(atoms, place):
        return Number(thousands, place)
    value, end = rest
    if atoms[end].kind == "hundred":
        inner = _after_hundreds(atoms, value * 100, end + 1)
        return Number(thousands + inner.value, inner.end)
    total = thousands + value
    return Number(total, end, year=1900 <= total < 2100)


def _juxtaposed(atoms: Atoms, place: int, value: float, end: int) -> Number | None:
    """Two numbers said one after the other that make one: "two forty", "one oh four", "nine five", "eight fifty two"."""
    if value == 0:
        return _spelled_from_zero(atoms, place, end)
    if end != place + 1 and value > 24:
        return None
    if atoms[end].word == "double" and is_figure(atoms[end + 1]) and value < 10 and read_unit(atoms, end + 2):
        total = value * 100 + atoms[end + 1].value * 11
        return Number(total, end + 2, ("short hundred",))  # "three double oh millimetres of mercury"
    if is_zero(atoms[end]) and atoms[end].kind != "num":
        return _with_oh(atoms, value, end)
    rest = read_below_hundred(atoms, end)
    if rest is None:
        return None
    low, after = rest
    if low < 10:
        return _two_digits(atoms, value, low, end, after)
    if value >= 10:
        return _four_figures(value, low, after, split=end)
    total = value * 100 + low
    return Number(total, after, ("short hundred",), clock=clock_of(value, low), two=(value, low) if low < 20 else None, split=end)


def _spelled_from_zero(atoms: Atoms, place: int, end: int) -> Number | None:
    """As in "zero one three six": figures said one by one."""
    end = end_of_figures(atoms, end)
    return Number(0.0, end, ("spelled digits",), spelled=True) if end > place + 2 else None


def _with_oh(atoms: Atoms, value: float, oh: int) -> Number | None:
    """As in "one oh four", "eight oh five", "ten oh five"."""
    last = atoms[oh + 1]
    if value < 10 and (unit := read_unit(atoms, oh + 1)):
        sizes = (value * 10, value) if unit[0].kind == "length" else ()  # "a nine oh millimetre reamer" is one of 9.0
        return Number(value * 10, oh + 1, ("tens and oh",), sizes)
    if not is_small(last):
        return None
    clock = clock_of(value, last.value)
    return Number(value * 100 + last.value, oh + 2, ("short hundred",), clock=clock, year=value in (19, 20))


def _two_digits(atoms: Atoms, first: float, second: float, second_place: int, after: int) -> Number | None:
    """As in "nine five" is 9.5 or 95; three and more single digits are spelled, not counted."""
    if first >= 10 or second == 0 or not is_small(atoms[second_place]):
        return None
    run = end_of_figures(atoms, after)
    if run > after:
        return _spelled(atoms, second_place - 1, run)
    if atoms[after].word in v.POINTS or read_and_fraction(atoms, after) or atoms[after].kind == "fraction":
        return None  # "two four and a half": two of size four and a half
    if atoms[after].kind == "by" and atoms[second_place - 1].kind != atoms[second_place].kind:
        return None  # "two 8 x 25 screws": words count, figures measure
    decimal, tens = first + second / 10, first * 10 + second
    two = (first, second) if second > first else None
    return Number(decimal, after, ("two digits: decimal or tens",), (decimal, tens), two=two, split=second_place)


def _spelled(atoms: Atoms, first: int, end: int) -> Number | None:
    """Three digits one by one make a number ("two four zero"); more are an identifier or a time without its cue."""
    digits = [atoms[place].value for place in range(first, end)]
    if len(digits) != 3:
        return Number(digits[0], end, ("spelled digits",), spelled=True)
    value = digits[0] * 100 + digits[1] * 10 + digits[2]
    return Number(value, end, ("digit by digit",), clock=clock_of(digits[0], digits[1] * 10 + digits[2]))


def _four_figures(value: float, low: float, after: int, *, split: int) -> Number | None:
    """As in "ten nineteen", "twenty twenty five": a time, a year, or two numbers."""
    clock = clock_of(value, low)
    year = value in (19, 20) and low >= 10
    if clock is None and not year:
        return None
    two = (value, low) if low > value else None
    return Number(value * 100 + low, after, ("four figures",), clock=clock, two=two, year=year, split=split)


def _with_decimals(atoms: Atoms, number: Number) -> Number:
    """As in "four", then maybe "point five"."""
    if number.readings or number.spelled or not number.value.is_integer():
        return number
    cut = atoms[number.end]
    if cut.kind == "num" and cut.word.startswith(".") and number.why == ("number",):
        return Number(number.value + cut.value, number.end + 1, ("decimal",))  # "4 .5", cut in two by a recogniser
    if atoms[number.end].word not in v.POINTS:
        return number
    digits, end = read_decimals(atoms, number.end + 1)
    if not digits:
        return number
    end = skip_of_a(atoms, end) if number.value == 0 else end
    return Number(float(f"{int(number.value)}.{digits}"), end, ("decimal",))


def read_decimals(atoms: Atoms, place: int) -> tuple[str, int]:
    """The digits said after a point: "two five", "oh five", "seventy five"."""
    digits = ""
    while len(digits) < 4:
        atom = atoms[place]
        if is_figure(atom) or atom.word in v.PLURAL_DIGITS:
            digits += str(int(v.PLURAL_DIGITS.get(atom.word, atom.value)))
            place += 1
        elif not digits and (two := read_below_hundred(atoms, place)):
            return f"{int(two[0]):02d}", two[1]
        else:
            break
    return digits, place


def _read_leading_point(atoms: Atoms, place: int) -> Number | None:
    """As in "point five", "oh point five"."""
    start = place + 1 if atoms[place].kind == "oh" else place
    if atoms[start].word != "point" or (start == place and not point_is_decimal(atoms[place - 1])):
        return None
    digits, end = read_decimals(atoms, start + 1)
    return Number(float(f"0.{digits}"), skip_of_a(atoms, end), ("decimal",)) if digits else None


_BEFORE_A_NOUN = v.word_set(
    "this that the which some any every each entry starting start end exit pivot insertion fixation isometric anatomic aiming reference "
    "femoral tibial patellar fibular footprint centre center same first second third next last best right wrong high low mid contact "
    "pressure 's s shuttle schottle schoettle tender trigger check turning boiling one two another no my your his her our pin pins wire "
    "guide"
)
"""Words after which "point" is a place; "at that point five newtons" is not half a newton."""


def point_is_decimal(before: Atom) -> bool:
    """Whether "point" after ``before`` begins a decimal; "that point", "the entry point" do not."""
    return before.word not in _BEFORE_A_NOUN


def _with_fraction(atoms: Atoms, number: Number) -> Number:
    """As in "eight", then maybe "and a half" or "½"."""
    if not number.value.is_integer():
        return number
    after = atoms[number.end]
    if after.kind == "fraction" and after.value < 1:
        return replace(number, value=number.value + after.value, end=number.end + 1, why=(*number.why, "and a fraction"))
    fraction = read_and_fraction(atoms, number.end)
    if fraction is None or number.readings:
        return number
    value, end = number.value + fraction[0], fraction[1]
    if atoms[end].kind == "thousand":
        value, end = value * 1000, end + 1
    return Number(value, end, (*number.why, "and a fraction"))
