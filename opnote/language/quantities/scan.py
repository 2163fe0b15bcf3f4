"""One pass over a phrase, left to right: at each place the readers that can begin there are asked in turn, and the first wins."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import counts, grades, guards, periods, sutures
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms, split_atoms
from opnote.language.quantities.clock import read_clock
from opnote.language.quantities.dates import read_date
from opnote.language.quantities.identifiers import find_cue, read_identifier, read_spoken_code, without_read_backs
from opnote.language.quantities.match import Match
from opnote.language.quantities.measures import read_measure
from opnote.language.quantities.motion import read_motion
from opnote.language.quantities.numeric_dates import read_numeric_date
from opnote.language.quantities.sharing import Placed, share_units
from opnote.language.quantities.spelling import PHONETIC, REPEATS

_Reader = Callable[[Atoms, int], Match | None]

_AT_A_NUMBER: Final[tuple[_Reader, ...]] = (
    read_motion,
    read_spoken_code,
    read_numeric_date,
    read_date,
    sutures.read_suture_size,
    read_clock,
    guards.read_age,
    grades.read_grade,
    guards.read_number_that_counts_nothing,
    read_measure,
)
_AT_A_KIND: Final[dict[str, tuple[_Reader, ...]]] = {
    **dict.fromkeys(("digit", "teen", "tens", "num", "oh", "hundred", "thousand", "fraction"), _AT_A_NUMBER),
    "clock": (read_clock,),
    "numeric date": (read_numeric_date,),
    "ordinal": (read_date, guards.read_ordinal),
    "mixed": (grades.read_grade, sutures.read_suture_size),
    "by": (counts.read_count,),
}
_AT_A_WORD: Final[dict[str, tuple[_Reader, ...]]] = {
    **dict.fromkeys(("a", "an", "half", "quarter"), (read_clock, read_measure)),
    **dict.fromkeys(("minus", "couple", "point", "one"), (read_measure,)),
    "between": (grades.read_grade, read_measure),
    **dict.fromkeys(("noon", "midday"), (read_clock,)),
    **dict.fromkeys((*PHONETIC, *REPEATS), (read_spoken_code,)),
    **dict.fromkeys(v.MONTHS, (read_date, read_spoken_code)),
    **dict.fromkeys(v.ORDINALS, (read_date, guards.read_ordinal)),
    **dict.fromkeys(("eighth", "sixteenth"), (read_date, read_measure, guards.read_ordinal)),
    **dict.fromkeys(grades.CUES, (grades.read_grade,)),
    **dict.fromkeys(periods.NAMES, (periods.read_numbered_period,)),
    **dict.fromkeys(guards.LABELS, (guards.read_label,)),
    **dict.fromkeys("bcdefghjklmnpqrstuvwyz", (guards.read_lettered,)),
    **dict.fromkeys(guards.PHONES, (guards.read_phone,)),
    **dict.fromkeys(("aged", "age"), (guards.read_age,)),
    **dict.fromkeys(sutures.NUMBER_WORDS, (sutures.read_suture_size,)),
    **dict.fromkeys(("times", "pair"), (counts.read_count,)),
}


def scan(words: Sequence[str], cues: Collection[tuple[str, ...]]) -> tuple[Quantity, ...]:
    """The quantities of ``words``, in order, not overlapping. Every word is visited once."""
    atoms = split_atoms(words)
    first_words = {cue[0] for cue in cues}
    found: list[Placed] = []
    place = 0
    while place < len(atoms):
        match = _read_at(atoms, place, cues, first_words)
        if match is not None:
            found.extend(Placed(quantity, place, match.end) for quantity in match.quantities)
        place = _next_place(atoms, place, match)
    return without_read_backs(placed.quantity for placed in share_units(atoms, found))


def _next_place(atoms: Atoms, place: int, match: Match | None) -> int:
    """Where to read on; never inside a token that a quantity already stands on ("7x25" is one token)."""
    if match is None:
        return place + 1
    following = max(match.end, place + 1)
    reached = match.quantities[-1].end if match.quantities else 0
    while following < len(atoms) and atoms[following].start < reached:
        following += 1
    return following


def _read_at(atoms: Atoms, place: int, cues: Collection[tuple[str, ...]], first_words: set[str]) -> Match | None:
    atom = atoms[place]
    if atom.word in first_words and (cue := find_cue(atoms, place, cues)):
        identifier = read_identifier(atoms, cue[1], cue[0])
        if identifier is not None:
            return identifier
    readers = _AT_A_WORD.get(atom.word, ()) if atom.kind == "word" else _AT_A_KIND.get(atom.kind, ())
    for reader in readers:
        match = reader(atoms, place)
        if match is not None:
            return match
    return None
