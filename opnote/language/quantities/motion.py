"""A range of motion in three figures: "range of motion five zero one forty" is 5, 0 and 140 (the neutral-zero method)."""

from __future__ import annotations

from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atom, Atoms
from opnote.language.quantities.figures import is_zero
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import read_cardinal
from opnote.language.quantities.units import DEGREE, read_unit

_CUES: Final = v.word_set("rom motion movement range arc")
_WINDOW: Final = 6
_FIGURES: Final = frozenset({"digit", "oh", "teen", "tens", "num"})
_LEAST_BENT, _MOST_BENT = 40, 170
"""Degrees that a knee is bent at the end of its motion."""


def read_motion(atoms: Atoms, place: int) -> Match | None:
    """The three figures at ``place``, one of the first two a zero; which of them is stretching is not decided here."""
    if (run_on := _from_zero(atoms, place)) is not None:
        return run_on
    middle = _over_hyphen(atoms, place + 1)
    end = _over_hyphen(atoms, middle + 1)
    first, second = atoms[place], atoms[middle]
    if not (_is_figure(first) and _is_figure(second) and (is_zero(first) or is_zero(second))):
        return None
    last = read_cardinal(atoms, end)
    if last is None or last.spelled or last.readings or not _LEAST_BENT <= last.value <= _MOST_BENT:
        return None
    unit = read_unit(atoms, last.end)
    degrees = unit is not None and unit[0] is DEGREE
    written = atoms[place + 1].kind == "hyphen" == atoms[middle + 1].kind
    # without a cue "nine zero ninety degrees" is 90 twice
    spelled_tens = first.kind == "digit" and not is_zero(first) and last.why != ("short hundred",)
    from_nothing = is_zero(first) and is_zero(second) and last.why == ("short hundred",)  # "zero zero one thirty five" is nothing else
    known = from_nothing or written or (degrees and not spelled_tens) or bool(_CUES.intersection(atoms.before(place, _WINDOW)))
    if not known or (unit is not None and not degrees):
        return None
    stop = unit[1] if unit is not None else last.end
    parts = ((place, place + 1, first.value), (middle, middle + 1, second.value), (end, stop, last.value))
    if not first.start < second.start < atoms[end].start:
        return None  # "2-0" is one token, and a suture
    return Match(stop, tuple(_part(atoms, *part, degrees=degrees) for part in parts))


def _from_zero(atoms: Atoms, place: int) -> Match | None:
    """As in "range of motion zero one thirty": both ends, and no hour of the day."""
    last = read_cardinal(atoms, place + 1) if is_zero(atoms[place]) else None
    if last is None or last.why != ("short hundred",) or not _LEAST_BENT <= last.value <= _MOST_BENT:
        return None
    unit = read_unit(atoms, last.end)
    if not _CUES.intersection(atoms.before(place, _WINDOW)) or (unit is not None and unit[0] is not DEGREE):
        return None
    end = unit[1] if unit is not None else last.end
    start, stop = atoms.tokens(place, end)
    if unit is None:
        return Match(end, (Quantity(start, stop, "number", low=0.0, high=last.value, why=("number", "motion from zero")),))
    why = ("number", "motion from zero", f"unit {DEGREE.code}")
    return Match(end, (Quantity(start, stop, "angle", low=0.0, high=last.value, unit=DEGREE.canonical, why=why),))


def _over_hyphen(atoms: Atoms, place: int) -> int:
    return place + 1 if atoms[place].kind == "hyphen" or atoms[place].word == "dash" else place


def _is_figure(atom: Atom) -> bool:
    return is_zero(atom) or (atom.kind in _FIGURES and atom.value.is_integer() and atom.value < _LEAST_BENT)


def _part(atoms: Atoms, place: int, end: int, value: float, *, degrees: bool) -> Quantity:
    start, stop = atoms.tokens(place, end)
    if not degrees:
        return Quantity(start, stop, "number", value, why=("number", "motion in three figures"))
    why = ("number", "motion in three figures", f"unit {DEGREE.code}", "shared unit")
    return Quantity(start, stop, "angle", value, unit=DEGREE.canonical, why=why)
