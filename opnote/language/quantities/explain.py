"""What is found in a phrase and why, as rows for people: keepers of the lexicons and writers of bug reports."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import NamedTuple

from opnote.language.model import Quantity
from opnote.language.quantities.identifiers import DEFAULT_IDENTIFIER_CUES
from opnote.language.quantities.scan import scan


class Explained(NamedTuple):
    """One quantity in words: what was said, its kind, its value as text ("25 to 30", "7 x 23", "9.5 or 95"), unit and rules."""

    words: str
    kind: str
    value: str
    unit: str
    why: str


def explain_quantities(
    words: Sequence[str], *, identifier_cues: Collection[tuple[str, ...]] = DEFAULT_IDENTIFIER_CUES
) -> tuple[Explained, ...]:
    """The quantities of ``words`` (token texts), explained.

    >>> [row] = explain_quantities("about seven or eight millimetres".split())
    >>> row.words, row.value, row.unit, row.why
    ('about seven or eight millimetres', 'about 7 to 8', 'mm', 'number; range: or; unit mm')
    """
    return tuple(_row(words, quantity) for quantity in scan(words, identifier_cues))


def _row(words: Sequence[str], quantity: Quantity) -> Explained:
    said = " ".join(words[quantity.start : quantity.end])
    return Explained(said, quantity.kind, worth(quantity), quantity.unit or "", "; ".join(quantity.why))


def worth(quantity: Quantity) -> str:
    """What a quantity is worth, without its unit: "about 7 to 8", "7 x 23", "2.7, 27 or 7 x 20", "no certain value"."""
    return ("about " if quantity.approximate else "") + _value(quantity)


def _value(quantity: Quantity) -> str:
    if quantity.parts:
        return " x ".join(_value(part) for part in quantity.parts)
    if quantity.low is not None and quantity.high is not None:
        return f"{quantity.low:g} to {quantity.high:g}"
    if quantity.readings:
        *others, last = (_scalar(reading) for reading in quantity.readings)
        return f"{', '.join(others)} or {last}" if others else last
    if quantity.value is None:
        return "no certain value"
    clock = next((reason.removeprefix("clock=") for reason in quantity.why if reason.startswith("clock=")), None)
    return f"{_scalar(quantity.value)} or {clock}" if clock else _scalar(quantity.value)


def _scalar(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:g}"
