"""A count said right before a size: "two seven by twenty screws" are two screws of seven by twenty, though the words are 2.7 by 20 too.

The noun decides and the word before the number: a plural is counted, "a four five by forty screw" is one of 4.5. Where neither tells, both
readings are kept. Screws of 2.7, 3.5, 4.5 and 6.5 mm, and pins, wires and anchors of less, are made: common practice.
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from typing import Final

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.amounts import Amount, read_amount
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.figures import read_below_hundred
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import Number

_TWO_DIGITS, _THREE_DIGITS = "two digits: decimal or tens", "digit by digit"
_RUN_TOGETHER: Final = frozenset({_TWO_DIGITS, _THREE_DIGITS, "short hundred", "four figures"})
_NUMBERS: Final = frozenset({"digit", "teen", "tens", "num", "hundred"})
_BEFORE_ONE_THING: Final = v.word_set("a an each every another this that")
_BEFORE_KNOWN_THINGS: Final = v.word_set("the these those both my our her his its")
_THIN: Final = v.word_set("anchor pin wire drill hole tape")
"""Things made in sizes below four millimetres, where "two eight" is as likely one size as a count and a size."""
_COUNTED: Final = _THIN | v.word_set(
    "screw button tunnel socket plug graft staple washer suture reamer limb bundle strand plate portal block sleeve implant strip "
    "tail incision peg bolt dowel stitch trough slot window defect cycle hold pull bag bottle"
)
_PLURALS: Final = {(f"{word}es" if word.endswith("ch") else f"{word}s"): word for word in _COUNTED}
_ENDS_A_NAME: Final = v.word_set(
    "and with in into at for to on onto then the from was is are were of through a an it we i by over under as"
)
_LONGEST_NAME: Final = 5
_MOST_COUNTED: Final = 12
_FIRST_LONG: Final = 20
"""mm. No screw and no tunnel is as thick: "two ten by thirty" counts, "two forty by ten" is 240 or counts."""
_LAST_SHORT: Final = 35
_THICKEST_THIN: Final = 7
"""mm. An anchor, a pin or a wire as thick is not made."""
_FLAT: Final = v.word_set("plug defect window slot trough strip tape plate")
"""Things with three sizes, or with a breadth that may be the smaller one."""
_SCREWED: Final = v.word_set("screw washer anchor")
"""Things whose two sizes are told behind them, joined by "into" in India: "interference screw ten into thirty"."""
_FEW: Final = 4
"""Nothing is made four wide and no longer than twelve: "4 x 10 mm anchors" are four."""
_HALF: Final = 5


class Verdict(Enum):
    """What the first of two numbers is: the count of things, a part of the size, or either."""

    COUNT = "count"
    SIZE = "size"
    OPEN = "open"


class Counting:
    """The words of ``amount`` taken as a count and a size: ``count`` things of ``size``, which begins at atom ``split``."""

    __slots__ = ("count", "size", "split", "why")

    def __init__(self, count: int, size: Amount, split: int, why: str) -> None:
        self.count, self.size, self.split, self.why = count, size, split, why


def read_counting(atoms: Atoms, amount: Amount) -> Counting | None:
    """``amount`` as a count and a size, if its words can be; whether they are is ``judge``'s business."""
    why = amount.number.why[0]
    if why not in _RUN_TOGETHER or not (amount.unit is None or amount.unit.kind in ("length", "volume") or _is_one_time(atoms, amount)):
        return None
    first = read_below_hundred(atoms, amount.start)
    if first is None or first[1] >= amount.number.end or not 1 <= first[0] <= _MOST_COUNTED:
        return None
    size = read_amount(atoms, first[1])
    if size is None or size.end != amount.end or size.start != first[1] or size.number.spelled or size.number.value < 1:
        return None
    return Counting(int(first[0]), size, first[1], why)


def _is_one_time(atoms: Atoms, amount: Amount) -> bool:
    """As in "three thirty second cycles": the unit is no plural, so the time is of each."""
    return amount.unit is not None and amount.unit.kind == "duration" and atoms[amount.end - 1].word in ("second", "minute")


def judge(atoms: Atoms, amount: Amount, counting: Counting, end: int, length: float | None) -> Verdict:
    """Whether ``amount`` is a count and a size; ``end`` is where its measure ends, ``length`` the second part of a pair."""
    lead = atoms[amount.start - 1]
    if lead.word in _BEFORE_ONE_THING or lead.kind in _NUMBERS or atoms.words(amount.start - 2, 2) == ("of", "the"):
        return Verdict.SIZE
    if counting.why == _THREE_DIGITS and is_quarter(atoms, amount):
        return Verdict.OPEN if length is not None else Verdict.SIZE
    noun, plural = noun_after(atoms, end)
    if counting.count == 1:
        return _one(counting, noun, plural=plural, known=lead.word in _BEFORE_KNOWN_THINGS, pair=length is not None)
    if counting.why == _TWO_DIGITS:
        return _few(counting, noun, plural=plural, known=lead.word in _BEFORE_KNOWN_THINGS, pair=length is not None)
    if length is None:
        return _of_hundreds(counting, plural=plural, time=amount.unit is not None and amount.unit.kind == "duration")
    return _thick(counting, length, plural=plural)


def _one(counting: Counting, noun: str | None, *, plural: bool, known: bool, pair: bool) -> Verdict:
    """As in "one nine by twenty eight screw": a singular without an article is one thing; "the one eight anchor" is of 1.8."""
    if known or plural:
        return Verdict.SIZE
    if noun is None:
        return Verdict.OPEN if pair or counting.why == _TWO_DIGITS else Verdict.SIZE
    sure = counting.why == _THREE_DIGITS if pair else False
    return Verdict.COUNT if sure or (counting.why == _TWO_DIGITS and noun not in _THIN) else Verdict.OPEN


def _few(counting: Counting, noun: str | None, *, plural: bool, known: bool, pair: bool) -> Verdict:
    """As in "two seven by twenty screws"; half sizes from three and a half on, and thin things, stay open."""
    size = counting.size.number.value
    half_size = size == _HALF and counting.count > 2
    if not plural:
        return Verdict.OPEN if pair and not known and not half_size else Verdict.SIZE
    thin = noun in _THIN and (not pair or size >= _THICKEST_THIN)
    return Verdict.OPEN if known or half_size or thin else Verdict.COUNT


def _of_hundreds(counting: Counting, *, plural: bool, time: bool) -> Verdict:
    """As in "two ten millimetre tunnels", "three thirty second cycles"; "two forty millimetre strips" may be of 240."""
    if not plural:
        return Verdict.SIZE
    return Verdict.OPEN if not time and counting.size.number.value >= _FIRST_LONG else Verdict.COUNT


def _thick(counting: Counting, length: float, *, plural: bool) -> Verdict:
    """As in "ten ten by thirty", "two four five by forty": nothing that is held in a bone is thicker than long, or 1010 thick."""
    size = counting.size.number.value
    if plural or counting.why == "four figures" or (size < _FIRST_LONG and size < length):
        return Verdict.COUNT
    return Verdict.OPEN if size <= _LAST_SHORT and counting.why != _THREE_DIGITS else Verdict.SIZE


def is_quarter(atoms: Atoms, amount: Amount) -> bool:
    """Whether three digits can be a quarter size of a thing: "four seven five by nineteen" is 4.75 by 19."""
    if amount.number.why[0] != _THREE_DIGITS or amount.number.value % 100 not in (25, 75):
        return False
    if amount.unit is not None:
        return amount.unit.kind == "length"
    return atoms[amount.end].kind == "by" or noun_after(atoms, amount.end)[0] is not None


def with_quarter(amount: Amount) -> Amount:
    """``amount`` with the quarter size as one of its readings."""
    value = amount.number.value
    return replace(amount, number=replace(amount.number, readings=(value, value / 100)))


def counts_by_sign(atoms: Atoms, first: Amount, match: Match) -> bool:
    """Whether the first number of a pair says how many: "2 x 4.5 mm anchors", "2 x 7 x 20 screws"."""
    count, rest = first.number.value, [part.value for quantity in match.quantities for part in quantity.parts[1:]]
    noun, plural = noun_after(atoms, match.end) if rest else (None, False)
    if not plural or noun in _FLAT or first.unit is not None or not (count.is_integer() and 2 <= count <= _MOST_COUNTED):
        return False
    if not all(isinstance(value, float) for value in rest):
        return False
    sizes = [value for value in rest if isinstance(value, float)]
    if len(sizes) == 2:
        return sizes[0] < sizes[1]
    return atoms[first.end].word != "by" and (sizes[0] < count or (count <= _FEW and sizes[0] <= _MOST_COUNTED))


def with_reading(amount: Amount, counting: Counting) -> Amount:
    """``amount`` with the size alone as one more of its readings."""
    number = amount.number
    readings = dict.fromkeys((*(number.readings or (number.value,)), counting.size.number.value))
    why = (*number.why, f"or {counting.count} of {counting.size.number.value:g}")
    return replace(amount, number=replace(number, readings=tuple(readings), why=why))


def count_alone(amount: Amount, counting: Counting) -> Amount:
    """The count as an amount of its own."""
    return Amount(Number(float(counting.count), counting.split, ("number",)), None, amount.start, counting.split)


def noun_after(atoms: Atoms, place: int) -> tuple[str | None, bool]:
    """The thing named at ``place`` ("peek interference screws"), and whether it is a plural."""
    if atoms[place - 1].word in v.PLURAL_DIGITS or atoms[place - 1].word in v.PLURAL_TENS:
        return "size", True
    found: tuple[str | None, bool] = None, False
    for atom in (atoms[place + step] for step in range(_LONGEST_NAME)):
        if atom.kind != "word" or atom.word in _ENDS_A_NAME:
            break
        if atom.word in _PLURALS:
            return _PLURALS[atom.word], True
        if atom.word in _COUNTED:
            found = atom.word, False
        elif found[0] is not None:
            break
    return found


def is_named_before(atoms: Atoms, place: int) -> bool:
    """Whether a thing is named right before ``place``: "interference screw, ten"."""
    before = atoms[place - 2] if atoms[place - 1].kind == "comma" else atoms[place - 1]
    return before.word in _SCREWED
