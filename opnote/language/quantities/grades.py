"""Grades: "grade two", "two plus", "grade three a", "II"."""

from __future__ import annotations

from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.match import Match

_ROMAN: Final = {"i": "1", "ii": "2", "iii": "3", "iv": "4", "v": "5"}
_LAST: Final = 5


def read_grade(atoms: Atoms, place: int) -> Match | None:
    """The grade at ``place``, with or without the word "grade"."""
    cue = atoms[place].word in ("grade", "graded")
    start = place + 1 if cue else place
    text = _digit(atoms, start, cue=cue)
    if text is None:
        return None
    suffix, end = _suffix(atoms, start + 1)
    if not (cue or suffix or len(text) == 2):
        return None
    first, stop = atoms.tokens(place, end)
    return Match(end, (Quantity(first, stop, "grade", text + suffix, why=("grade",)),))


def _digit(atoms: Atoms, place: int, *, cue: bool) -> str | None:
    atom = atoms[place]
    if atom.kind == "mixed" and len(atom.word) == 2 and atom.word[0] in "1234" and atom.word[1] in "abcd":
        return atom.word.upper()
    if cue and atom.word in _ROMAN:
        return _ROMAN[atom.word]
    if atom.kind in ("digit", "num") and atom.value <= _LAST and atom.value.is_integer():
        return str(int(atom.value))
    return None


def _suffix(atoms: Atoms, place: int) -> tuple[str, int]:
    """ "plus", "+", "b" after the digit."""
    atom, after = atoms[place], atoms[place + 1]
    if atom.word in ("plus", "+") and after.word != "or" and after.kind not in ("digit", "num", "teen", "tens"):
        return "+", place + 1
    if atom.kind == "word" and atom.word in ("b", "c", "d") or (atom.word == "a" and after.kind in ("stop", "comma")):
        return atom.word.upper(), place + 1
    return "", place
