"""Halves, quarters and the eighths of an inch: "and a half", "three eighths of an"."""

from __future__ import annotations

from typing import Final

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.figures import is_small

_A_WHOLE: Final = v.word_set("the it this that these them his her its my")
"""Words after "a quarter of" that make it a part of a thing and no part of the number before: "two screws and half of the rim"."""


def read_and_fraction(atoms: Atoms, place: int) -> tuple[float, int] | None:
    """As in "and a half", "and three quarters", "and 1/2": the fraction and the place after it."""
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
    bottom = v.FRACTION_WORDS.get(atoms[start].word)
    if bottom is None or top >= bottom or atoms[start + 1].word == "the":
        return None
    end = skip_of_a(atoms, start + 1)
    if atoms[start].word in v.INCH_ONLY and atoms[end].word not in ("inch", "inches"):
        return None
    return None if atoms[end].word == "of" and atoms[end + 1].word in _A_WHOLE else (top / bottom, end)


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
        return atom.value, _skip_article(atoms, place + 1)
    top, start = 1.0, place
    if atom.word in v.ARTICLES:
        start += 1
    elif is_small(atom):
        top, start = atom.value, place + 1
    bottom = v.FRACTION_WORDS.get(atoms[start].word)
    if bottom is None:
        return None
    return top / bottom, _skip_article(atoms, start + 1)


def _skip_article(atoms: Atoms, place: int) -> int:
    """The place after "of", "a", "of an"."""
    if atoms[place].word == "of":
        place += 1
    return place + 1 if atoms[place].word in v.ARTICLES else place
