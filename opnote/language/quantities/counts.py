"""How many times or things, where no unit says it: "times two", "x2", "a pair of anchors"."""

from __future__ import annotations

from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import read_number

_NOT_COUNTED: Final = v.word_set("scissors forceps hands gloves eyes pliers loupes tweezers retractors shears clamps legs knees trousers")
_NUMBERS: Final = frozenset({"digit", "teen", "tens", "num", "hundred"})


def read_count(atoms: Atoms, place: int) -> Match | None:
    """The count at ``place``."""
    atom = atoms[place]
    if atom.word == "pair":
        return _pair_of(atoms, place)
    if atom.word not in ("times", "x", "×") or atoms[place - 1].kind in _NUMBERS:
        return None
    number = read_number(atoms, place + 1)
    if number is None or number.readings or not number.value.is_integer() or number.value < 1:
        return None
    start, end = atoms.tokens(place, number.end)
    return Match(number.end, (Quantity(start, end, "count", number.value, unit="times", why=("times",)),))


def _pair_of(atoms: Atoms, place: int) -> Match | None:
    """As in "a pair of anchors" is two; tools and hands come in pairs that count nothing."""
    if atoms[place + 1].word != "of" or atoms[place - 1].word not in ("a", "another"):
        return None
    if _NOT_COUNTED.intersection(atoms.words(place + 2, 3)):
        return None
    start, end = atoms.tokens(place, place + 1)
    return Match(place + 1, (Quantity(start, end, "count", 2.0, why=("a pair",)),))
