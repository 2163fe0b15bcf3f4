"""Spoken numbers, quantities and identifiers, found in token texts.

>>> [found] = find_quantities("a seven by twenty three millimetre screw".split())
>>> found.kind, [part.value for part in found.parts]
('pair', [7.0, 23.0])
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from opnote.language.model import Quantity
from opnote.language.quantities.explain import Explained, explain_quantities, explained, unit_name, worth
from opnote.language.quantities.identifiers import DEFAULT_IDENTIFIER_CUES
from opnote.language.quantities.scan import scan

__all__ = ["DEFAULT_IDENTIFIER_CUES", "Explained", "explain_quantities", "explained", "find_quantities", "unit_name", "worth"]


def find_quantities(
    words: Sequence[str], *, identifier_cues: Collection[tuple[str, ...]] = DEFAULT_IDENTIFIER_CUES
) -> tuple[Quantity, ...]:
    """The quantities spoken in ``words`` (the token texts of a blank English spaCy ``Doc``), in order, none overlapping.

    ``identifier_cues`` are lower-case word tuples after which digits and letters are read as an identifier.
    """
    return scan(words, identifier_cues)
