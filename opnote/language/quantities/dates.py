"""Dates with the month as a word: "march fourteenth twenty twenty five", "the third of March 2026", "November 3, 2025"."""

from __future__ import annotations

from typing import Final, NamedTuple

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.figures import read_below_hundred
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import read_cardinal

_ALSO_VERBS: Final = frozenset({"may", "march", "mar", "sun"})
_EXPIRY: Final = v.word_set("expiry expires expire expiring expiration exp expired use best until")
_BETWEEN: Final = v.word_set("date is on of the in at end reads says : by before")
_APOSTROPHES: Final = frozenset({"'", "’"})
_MONTHS: Final = 12
_SHORT_YEARS: Final = range(20, 50)


class Date(NamedTuple):
    """A date as text (None when the words leave a doubt), the place after it, and why."""

    text: str | None
    end: int
    why: tuple[str, ...] = ("date",)


def as_match(atoms: Atoms, place: int, date: Date) -> Match:
    """The match of a date that begins at ``place``."""
    first, stop = atoms.tokens(place, date.end)
    return Match(date.end, (Quantity(first, stop, "date", date.text, why=date.why),))


def read_date(atoms: Atoms, place: int) -> Match | None:
    """The date with a month's name at ``place``."""
    date = _month_first(atoms, place) or _day_first(atoms, place)
    return as_match(atoms, place, date) if date else None


def after_expiry(atoms: Atoms, place: int) -> bool:
    """Whether the words right before ``place`` announce an expiry date."""
    for word in atoms.before(place, 5):
        if word in _EXPIRY:
            return True
        if word not in _BETWEEN:
            return False
    return False


def read_year(atoms: Atoms, place: int) -> tuple[int, int] | None:
    """A year of four figures and the place after it; a comma or "of" before it is skipped."""
    place = place + 1 if atoms[place].kind == "comma" or atoms[place].word == "of" else place
    number = read_cardinal(atoms, place)
    if number is None or not 1950 <= number.value < 2100 or not number.value.is_integer() or atoms[place].word.endswith(".0"):
        return None
    return int(number.value), number.end


def read_day(atoms: Atoms, place: int) -> tuple[int, int, bool] | None:
    """A day of the month, the place after it, and whether it was an ordinal."""
    place = place + 1 if atoms[place].word == "the" else place
    atom = atoms[place]
    if atom.kind == "ordinal":
        day = int(atom.value)
    elif atom.kind == "tens" and 0 < v.ORDINALS.get(atoms[place + 1].word, 0) < 10:
        day, place = int(atom.value) + v.ORDINALS[atoms[place + 1].word], place + 1
    elif atom.word in v.ORDINALS:
        day = v.ORDINALS[atom.word]
    else:
        found = read_below_hundred(atoms, place)
        return (int(found[0]), found[1], False) if found and 1 <= found[0] <= 31 else None
    return (day, place + 1, True) if day <= 31 else None


def _month_first(atoms: Atoms, place: int) -> Date | None:
    name = atoms[place].word
    month = v.MONTHS.get(name)
    if month is None:
        return None
    if year := read_year(atoms, place + 1):
        return Date(f"{year[0]}-{month:02d}", year[1])
    if atoms[place + 1].word in _APOSTROPHES and (short := _short_year(atoms, place + 1)):
        return Date(f"20{short[0]}-{month:02d}", short[1])
    day = read_day(atoms, place + 1)
    if day is None:
        return None
    if year := read_year(atoms, day[1]):
        return Date(f"{year[0]}-{month:02d}-{day[0]:02d}", year[1])
    if not day[2] and day[0] in _SHORT_YEARS and after_expiry(atoms, place):
        return Date(None, day[1], ("date", f"readings=20{day[0]}-{month:02d}|{month:02d}-{day[0]:02d}"))
    return _without_year(atoms, name, month, day) if day[2] or name not in _ALSO_VERBS else None


def _day_first(atoms: Atoms, place: int) -> Date | None:
    day = read_day(atoms, place)
    if day is None:
        return None
    end = day[1] + 1 if atoms[day[1]].word == "of" else day[1]
    name = atoms[end].word
    month = v.MONTHS.get(name)
    if month is None:
        return _month_as_ordinal(atoms, day)
    if year := read_year(atoms, end + 1):
        return Date(f"{year[0]}-{month:02d}-{day[0]:02d}", year[1])
    return (
        _without_year(atoms, name, month, (day[0], end + 1, day[2]))
        if day[2] or name not in _ALSO_VERBS or _short_year(atoms, end + 1)
        else None
    )


def _month_as_ordinal(atoms: Atoms, day: tuple[int, int, bool]) -> Date | None:
    """As in "the fourth of the eleventh twenty twenty seven"."""
    if not day[2] or atoms.words(day[1], 2) != ("of", "the"):
        return None
    month = read_day(atoms, day[1] + 2)
    year = read_year(atoms, month[1]) if month and month[2] and month[0] <= _MONTHS else None
    return Date(f"{year[0]}-{month[0]:02d}-{day[0]:02d}", year[1]) if month and year else None


def _without_year(atoms: Atoms, name: str, month: int, day: tuple[int, int, bool]) -> Date:
    """A day and month; two figures that end the sentence are the year, else no year was said and there is no value."""
    short = _short_year(atoms, day[1])
    if short:
        return Date(f"20{short[0]}-{month:02d}-{day[0]:02d}", short[1])
    return Date(None, day[1], ("date", "no year said", f"month-day={month:02d}-{day[0]:02d}"))


def _short_year(atoms: Atoms, place: int) -> tuple[int, int] | None:
    """As in "'28" or, where the sentence ends or pauses after it, "twenty eight"."""
    comma = 1 if atoms[place].kind == "comma" else 0
    apostrophe = atoms[place + comma].word in _APOSTROPHES
    found = read_below_hundred(atoms, place + comma + 1 if apostrophe else place)
    if found is None or int(found[0]) not in _SHORT_YEARS:
        return None
    return (int(found[0]), found[1]) if apostrophe or atoms[found[1]].kind in ("stop", "comma") else None
