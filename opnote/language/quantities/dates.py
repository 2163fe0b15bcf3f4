"""Dates with the month as a word or in figures."""

from __future__ import annotations

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import read_below_hundred, read_cardinal


def read_date(atoms: Atoms, place: int) -> Match | None:
    """ "march fourteenth twenty twenty five", "the third of march twenty twenty six", "november twenty twenty seven"."""
    for reader in (_month_first, _day_first):
        found = reader(atoms, place)
        if found is not None:
            text, end = found
            first, stop = atoms.tokens(place, end)
            return Match(end, (Quantity(first, stop, "date", text, why=("date",)),))
    return None


def read_year(atoms: Atoms, place: int) -> tuple[int, int] | None:
    """A year of four figures and the place after it; a comma before it is skipped."""
    place = place + 1 if atoms[place].kind == "comma" else place
    number = read_cardinal(atoms, place)
    if number is None or not 1950 <= number.value < 2100 or not number.value.is_integer():
        return None
    return int(number.value), number.end


def read_day(atoms: Atoms, place: int) -> tuple[int, int] | None:
    """A day of the month, as an ordinal or a number, and the place after it."""
    place = place + 1 if atoms[place].word == "the" else place
    atom = atoms[place]
    if atom.kind == "ordinal":
        return int(atom.value), place + 1
    if atom.kind == "tens" and (unit := v.ORDINALS.get(atoms[place + 1].word, 0)) and unit < 10:
        return int(atom.value) + unit, place + 2
    if day := v.ORDINALS.get(atom.word):
        return day, place + 1
    found = read_below_hundred(atoms, place)
    return (int(found[0]), found[1]) if found and 1 <= found[0] <= 31 else None


def _month_first(atoms: Atoms, place: int) -> tuple[str, int] | None:
    month = v.MONTHS.get(atoms[place].word)
    if month is None:
        return None
    if year := read_year(atoms, place + 1):
        return f"{year[0]}-{month:02d}", year[1]
    day = read_day(atoms, place + 1)
    year = read_year(atoms, day[1]) if day else None
    if day is None or year is None:
        return None
    return f"{year[0]}-{month:02d}-{day[0]:02d}", year[1]


def _day_first(atoms: Atoms, place: int) -> tuple[str, int] | None:
    day = read_day(atoms, place)
    if day is None:
        return None
    end = day[1] + 1 if atoms[day[1]].word == "of" else day[1]
    month = v.MONTHS.get(atoms[end].word)
    year = read_year(atoms, end + 1) if month else None
    if month is None or year is None:
        return None
    return f"{year[0]}-{month:02d}-{day[0]:02d}", year[1]
