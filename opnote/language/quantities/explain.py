"""What is found in a phrase and why, as rows for people: keepers of the lexicon and writers of bug reports."""

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
    value = ("about " if quantity.approximate else "") + _value(quantity)
    return Explained(said, quantity.kind, value, quantity.unit or "", "; ".join(quantity.why))


def _value(quantity: Quantity) -> str:
    if quantity.parts:
        return " x ".join(_value(part) for part in quantity.parts)
    if quantity.low is not None and quantity.high is not None:
        return f"{quantity.low:g} to {quantity.high:g}"
    if quantity.readings:
        return " or ".join(f"{reading:g}" for reading in quantity.readings)
    if isinstance(quantity.value, float):
        return f"{quantity.value:g}"
    return quantity.value or "no value"
