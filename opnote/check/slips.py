"""Slips of the tongue, the ear and the unit: what a number that cannot be may have been. Shown as a hint, never used as a value."""

from __future__ import annotations

from collections.abc import Iterator

TEENS = {number: (number - 10) * 10 for number in range(13, 20)}  # thirteen / thirty ... nineteen / ninety
PARTNERS = TEENS | {ty: teen for teen, ty in TEENS.items()}
FACTORS = (10.0, 0.1)  # millimetre and centimetre swapped, a digit or a decimal point lost


def near_values(value: float, *, magnitude: bool) -> Iterator[float]:
    """Numbers that are heard or said in place of ``value``; with ``magnitude`` also ten times as much and a tenth.

    >>> list(near_values(50, magnitude=False)), list(near_values(28, magnitude=True))
    ([15.0], [280.0, 2.8])
    """
    for factor in FACTORS if magnitude else ():
        yield round(value * factor, 3)
    if value in PARTNERS:
        yield float(PARTNERS[int(value)])


def fitting(value: float, pairs: tuple[tuple[float, float], ...], *, magnitude: bool) -> tuple[float, ...]:
    """Those of ``near_values`` that lie in one of some ranges."""
    return tuple(near for near in near_values(value, magnitude=magnitude) if any(low <= near <= high for low, high in pairs))
