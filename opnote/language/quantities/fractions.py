"""Fractions of a unit: "and a half", "three eighths of an inch", "two thirds of a centimetre", "a tenth of a millimetre"."""

from __future__ import annotations

from typing import Final, NamedTuple

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.figures import is_small, read_below_hundred
from opnote.language.quantities.units import read_unit

_A_WHOLE: Final = v.word_set("it the this that these them his her its my")
"""Words after "a quarter of" that make it a part of a thing and no part of the number before: "two screws and half of the rim"."""
_AFTER_A_LENGTH: Final = v.word_set("long wide deep thick across below above behind from proximal distal medial lateral anterior posterior")
_NO_UNIT_OF: Final = v.SHARES.keys() | v.FRACTION_WORDS.keys() | v.word_set("part fraction most some bit rest end remainder bulk majority")
"""Words before "of an inch" that say how much of it; where they are not read, the inch is no whole one."""


class _Part(NamedTuple):
    """The lower number of a fraction, the place after its word, and whether the word is an ordinal elsewhere ("third")."""

    of: int
    end: int
    ordinal: bool
    plural: bool = False


def read_and_fraction(atoms: Atoms, place: int, *, after_unit: bool = False, of_inch: bool = False) -> tuple[float, int] | None:
    """As in "and a half", "and three quarters", "and 1/2", "and a third (inches)": the fraction and the place after it."""
    if atoms[place].word != "and":
        return None
    start = place + 1
    if atoms[start].kind == "fraction" and atoms[start].value < 1:
        return atoms[start].value, start + 1
    top = 1.0
    if atoms[start].word in v.ARTICLES:
        start += 1
    elif is_small(atoms[start]):
        top, start = atoms[start].value, start + 1
    bottom = _part(atoms, start)
    if bottom is None or top >= bottom.of or atoms[bottom.end].word == "the":
        return None
    end = skip_of_a(atoms, bottom.end)
    if bottom.ordinal:
        if start == place + 1:
            return None  # "two minutes and thirty seconds"
        ends = after_unit and (atoms[end].kind in ("stop", "comma") or atoms[end].word in _AFTER_A_LENGTH)
        return (top / bottom.of, end) if ends or read_unit(atoms, end) else None
    if atoms[start].word in v.INCH_ONLY and not of_inch and atoms[end].word not in ("inch", "inches"):
        return None
    return None if atoms[end].word == "of" and atoms[end + 1].word in _A_WHOLE else (top / bottom.of, end)


def _part(atoms: Atoms, place: int) -> _Part | None:
    """The word for the lower number: "half", "thirds", "tenth", "thirty seconds"."""
    word, after = atoms[place].word, atoms[place + 1].word
    if (common := v.FRACTION_WORDS.get(word)) is not None:
        return _Part(common, place + 1, ordinal=False)
    if (share := v.SHARES.get(word)) is not None:
        return _Part(share, place + 1, ordinal=True, plural=word.endswith("s"))
    tens = {"thirty": ("second", 32), "sixty": ("fourth", 64)}.get(word)
    if tens is None or after.removesuffix("s") != tens[0]:
        return None
    return _Part(tens[1], place + 2, ordinal=True, plural=after.endswith("s"))


def skip_of_a(atoms: Atoms, place: int) -> int:
    """The place after "of a", "of an" between a fraction and its unit."""
    return place + 2 if atoms[place].word == "of" and atoms[place + 1].word in v.ARTICLES else place


def is_and_fraction(atoms: Atoms, place: int) -> bool:
    """Whether "and a half" (or quarter, "three quarters") stands at ``place``."""
    return read_and_fraction(atoms, place) is not None


def read_fraction(atoms: Atoms, place: int) -> tuple[float, int] | None:
    """A fraction that a unit must follow ("half a", "a quarter of an", "three eighths of an", "½"), and the place after it."""
    atom = atoms[place]
    if atom.kind == "fraction":
        end = _skip_article(atoms, place + 1)
        either = "/" in atom.word and not atom.word.startswith("1/") and atoms[end].word not in ("inch", "inches")
        return None if either else (atom.value, end)  # "2/3 mm" is two or three
    top, start = 1.0, place
    if atom.word in v.ARTICLES:
        start += 1
    elif (number := read_below_hundred(atoms, place)) and number[0] >= 1 and number[1] == place + 1:
        top, start = number
    bottom = _part(atoms, start)
    if bottom is not None and start == place and atoms[start].word in v.INCH_ONLY and not _is_of_an_inch(atoms, bottom.end):
        return None  # "the eighth" is an ordinal, "eighth of an inch" is not
    if bottom is None or (bottom.ordinal and not _is_share(atoms, bottom, start > place, top)):
        return None
    return top / bottom.of, _skip_article(atoms, bottom.end)


def _is_of_an_inch(atoms: Atoms, place: int) -> bool:
    return atoms[place].word == "of" and atoms[_skip_article(atoms, place)].word == "inch"


def _is_share(atoms: Atoms, bottom: _Part, counted: bool, top: float) -> bool:
    """Whether an ordinal is a share of a unit: "a third of an inch", "two thirds (of a) centimetre", never "a third inch"."""
    end = _skip_article(atoms, bottom.end)
    if not counted or top >= bottom.of or (unit := read_unit(atoms, end)) is None:
        return False
    if bottom.of in (32, 64) and unit[0].code != "[in_i]":
        return False
    return atoms[bottom.end].word == "of" or (bottom.plural and top > 1)


def is_share_of(atoms: Atoms, place: int) -> bool:
    """Whether "an inch" at ``place`` is only a part of one: "a few tenths of a millimetre", "most of an inch", "0.3 of an inch"."""
    before = atoms[place - 2]
    if atoms[place - 1].word != "of":
        return False
    return before.word in _NO_UNIT_OF or before.kind in ("digit", "teen", "tens", "num", "fraction", "ordinal") or "/" in before.word


def _skip_article(atoms: Atoms, place: int) -> int:
    """The place after "of", "a", "of an"."""
    if atoms[place].word == "of":
        place += 1
    return place + 1 if atoms[place].word in v.ARTICLES else place
