"""One pass over a phrase, left to right: at each place the first reader that recognises something wins."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities.atoms import Atoms, split_atoms
from opnote.language.quantities.clock import read_clock
from opnote.language.quantities.dates import read_date
from opnote.language.quantities.grades import read_grade
from opnote.language.quantities.guards import read_no_quantity
from opnote.language.quantities.identifiers import find_cue, read_identifier
from opnote.language.quantities.match import Match
from opnote.language.quantities.measures import read_measure

_READERS: Final[tuple[Callable[[Atoms, int], Match | None], ...]] = (read_date, read_clock, read_no_quantity, read_grade, read_measure)


def scan(words: Sequence[str], cues: Collection[tuple[str, ...]]) -> Iterator[Quantity]:
    """The quantities of ``words``, in order, not overlapping."""
    atoms = split_atoms(words)
    first_words = {cue[0] for cue in cues}
    place = 0
    while place < len(atoms):
        match = _read_at(atoms, place, cues, first_words)
        if match is None:
            place += 1
            continue
        yield from match.quantities
        place = match.end


def _read_at(atoms: Atoms, place: int, cues: Collection[tuple[str, ...]], first_words: set[str]) -> Match | None:
    if atoms[place].word in first_words and (cue := find_cue(atoms, place, cues)):
        identifier = read_identifier(atoms, cue[1], cue[0])
        if identifier is not None:
            return identifier
    for reader in _READERS:
        match = reader(atoms, place)
        if match is not None:
            return match
    return None
