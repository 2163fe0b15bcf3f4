"""What a reader of one kind of quantity gives back."""

from __future__ import annotations

from dataclasses import dataclass

from opnote.language.model import Quantity


@dataclass(frozen=True, slots=True)
class Match:
    """Atoms read up to ``end`` (excluded), and the quantities they hold; none when the words are known to be no quantity."""

    end: int
    quantities: tuple[Quantity, ...] = ()
