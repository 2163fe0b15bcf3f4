"""Which readings of an ambiguous quantity an attribute can hold: "nine five" is 9.5 or 95, and no tunnel is 95 mm wide."""

from __future__ import annotations

from dataclasses import replace

from opnote.language.model import Quantity
from opnote.lexicon import AttributeEntry, Lexicon


def fitting(quantity: Quantity, entry: AttributeEntry, lexicon: Lexicon) -> Quantity:
    """``quantity`` with those readings that are possible for ``entry``; one alone is its value, and with none of them it stays as said.

    The parts of a pair are the values of two attributes.
    """
    if quantity.kind == "pair" and len(quantity.parts) == 2:
        second = lexicon.attributes.get((entry.type, lexicon.things[entry.type].second), entry)
        return replace(quantity, parts=tuple(_fitting(part, its) for part, its in zip(quantity.parts, (entry, second), strict=True)))
    return _fitting(quantity, entry)


def _fitting(quantity: Quantity, entry: AttributeEntry) -> Quantity:
    if not quantity.readings or entry.hard is None:
        return quantity
    low, high = entry.hard
    possible = tuple(reading for reading in quantity.readings if not isinstance(reading, str) and low <= reading <= high)
    if not possible:
        return replace(quantity, readings=())
    said = quantity.said if possible[0] == quantity.value else None
    return replace(quantity, value=possible[0], said=said, readings=possible if len(possible) > 1 else ())
