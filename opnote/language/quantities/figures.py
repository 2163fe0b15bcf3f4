"""Figures and whole numbers below a hundred: what every longer number is made of."""

from __future__ import annotations

from typing import Final

from opnote.language.quantities.atoms import Atom, Atoms


def is_small(atom: Atom) -> bool:
    """A single digit from 1 to 9, in words or figures."""
    return (atom.kind == "digit" and atom.value > 0) or (atom.kind == "num" and len(atom.word) == 1 and atom.value > 0)


def read_below_hundred(atoms: Atoms, place: int) -> tuple[float, int] | None:
    """A whole number below a hundred and the place after it."""
    atom = atoms[place]
    if atom.kind in ("digit", "teen"):
        return atom.value, place + 1
    if (atom.kind == "num" and len(atom.word) > 2) or atom.kind not in ("num", "tens") or not atom.value.is_integer():
        return None
    follower = atoms[place + 1]
    round_tens = atom.value >= 20 and atom.value % 10 == 0
    if round_tens and is_small(follower) and (atom.kind == "tens" or follower.kind == "num"):
        return atom.value + follower.value, place + 2
    return atom.value, place + 1


def clock_of(hours: float, minutes: float) -> str | None:
    """As in "HH:MM" when the two are a time of day, else None."""
    if not (0 <= hours < 24 and 0 <= minutes < 60):
        return None
    return f"{int(hours):02d}:{int(minutes):02d}"


def is_zero(atom: Atom) -> bool:
    """A zero in words or figures."""
    return atom.kind == "oh" or (atom.kind in ("digit", "num") and atom.value == 0)


_LONGEST_RUN: Final = 64
"""Figures that are looked over at once; no number that is read out has more, and without an end the reading would slow down."""


def end_of_figures(atoms: Atoms, place: int) -> int:
    """The place after the single figures that begin at ``place``."""
    end = place
    while end < place + _LONGEST_RUN and is_figure(atoms[end]):
        end += 1
    return end


def is_figure(atom: Atom) -> bool:
    """A single figure, zero included."""
    return is_small(atom) or is_zero(atom)
