"""Dates with the month as a word: "march fourteenth twenty twenty five", "the third of March 2026", "November 3, 2025"."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, NamedTuple

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.calendar import day_text, month_text, year_day_text
from opnote.language.quantities.figures import read_below_hundred
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import read_cardinal

_ALSO_VERBS: Final = frozenset({"may", "march", "mar", "sun"})
_EXPIRY: Final = v.word_set("expiry expires expire expiring expiration exp expired use best until")
_BETWEEN: Final = v.word_set("date is on of the in at end reads says : by before month")
_APOSTROPHES: Final = frozenset({"'", "’"})
_MONTHS: Final = 12
_MOST_DAYS: Final = 31
_SHORT_YEARS: Final = range(20, 50)
_BIRTH: Final = v.word_set("born birth birthday dob")
_OLDEST_BORN, _YOUNGEST_AS_SAID = 30, 20
"""Of years of birth in two figures, those from 30 on can only lie in the last century, and those below 20 hardly do."""
NO_SUCH_DAY: Final = "no such day"
TWO_WAYS: Final = "what is day, month or year is open"


class Date(NamedTuple):
    """A date as text (None when the words leave a doubt), the place after it, why, and the dates that the words may mean."""

    text: str | None
    end: int
    why: tuple[str, ...] = ("date",)
    readings: tuple[str, ...] = ()


def dated(text: str | None, end: int) -> Date:
    """A date said in one way; None for ``text`` says that no calendar has it, and the words stay as a doubt."""
    return Date(text, end) if text is not None else Date(None, end, ("date", NO_SUCH_DAY))


def one_of(readings: Iterable[str | None], end: int, *, slip: bool = False) -> Date:
    """The one date among ``readings`` that is possible, or a doubt between those that are.

    ``slip`` says that one of the readings was a day that its month does not have: then none of the others is taken for it.
    """
    possible = tuple(dict.fromkeys(text for text in readings if text is not None))
    if len(possible) == 1 and not slip:
        return Date(possible[0], end)
    if len(possible) < 2:
        return dated(None, end)
    return Date(None, end, ("date", TWO_WAYS, "readings=" + "|".join(possible)), possible)


def as_match(atoms: Atoms, place: int, date: Date) -> Match:
    """The match of a date that begins at ``place``."""
    first, stop = atoms.tokens(place, date.end)
    return Match(date.end, (Quantity(first, stop, "date", date.text, readings=date.readings, why=date.why),))


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
    """A day of the month, the place after it, and whether it was an ordinal; larger numbers are given back too ("the 32nd")."""
    place = place + 1 if atoms[place].word == "the" else place
    atom = atoms[place]
    if atom.kind == "ordinal":
        return int(atom.value), place + 1, True
    if atom.kind == "tens" and 0 < v.ORDINALS.get(atoms[place + 1].word, 0) < 10:
        return int(atom.value) + v.ORDINALS[atoms[place + 1].word], place + 2, True
    if atom.word in v.ORDINALS:
        return v.ORDINALS[atom.word], place + 1, True
    found = read_below_hundred(atoms, place)
    return (int(found[0]), found[1], False) if found and found[0] >= 1 else None


def _month_first(atoms: Atoms, place: int) -> Date | None:
    name = atoms[place].word
    month = v.MONTHS.get(name)
    if month is None:
        return None
    if year := read_year(atoms, place + 1):
        return dated(month_text(year[0], month), year[1])
    if atoms[place + 1].word in _APOSTROPHES and (short := _short_year(atoms, place + 1)):
        return one_of((month_text(year, month) for year in short[0]), short[1])
    day = read_day(atoms, place + 1)
    if day is None or (day[0] > _MOST_DAYS and not day[2]):
        return None
    if year := read_year(atoms, day[1]):
        return dated(day_text(year[0], month, day[0]), year[1])
    if not day[2] and day[0] in _SHORT_YEARS and after_expiry(atoms, place):
        if "end" in atoms.words(place - 2, 2):
            return dated(month_text(2000 + day[0], month), day[1])
        return one_of((month_text(2000 + day[0], month), year_day_text(month, day[0])), day[1])
    return _without_year(atoms, month, day) if day[2] or name not in _ALSO_VERBS else None


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
        return dated(day_text(year[0], month, day[0]), year[1])
    if not day[2] and (day[0] > _MOST_DAYS or (name in _ALSO_VERBS and not _short_year(atoms, end + 1))):
        return None
    return _without_year(atoms, month, (day[0], end + 1, day[2]))


def _month_as_ordinal(atoms: Atoms, day: tuple[int, int, bool]) -> Date | None:
    """As in "the fourth of the eleventh twenty twenty seven", "sixteenth of the third twenty six"."""
    if not day[2] or atoms.words(day[1], 2) != ("of", "the"):
        return None
    month = read_day(atoms, day[1] + (3 if atoms[day[1] + 2].kind == "oh" else 2))
    if month is None or not month[2] or month[0] > _MONTHS:
        return None
    if year := read_year(atoms, month[1]):
        return dated(day_text(year[0], month[0], day[0]), year[1])
    short = _short_year(atoms, month[1], after_comma=True)
    return one_of((day_text(year, month[0], day[0]) for year in short[0]), short[1]) if short else None


def _without_year(atoms: Atoms, month: int, day: tuple[int, int, bool]) -> Date:
    """A day and month; two figures that end the sentence are the year, else no year was said and there is no value."""
    short = _short_year(atoms, day[1])
    if short:
        return one_of((day_text(year, month, day[0]) for year in short[0]), short[1])
    text = year_day_text(month, day[0])
    return Date(None, day[1], ("date", "no year said", f"month-day={text}")) if text else dated(None, day[1])


def _short_year(atoms: Atoms, place: int, *, after_comma: bool = False) -> tuple[tuple[int, ...], int] | None:
    """As in "'28" or, where the sentence ends or pauses after it, "twenty eight": the years it may be, and the place after it."""
    comma = 1 if atoms[place].kind == "comma" else 0
    apostrophe = atoms[place + comma].word in _APOSTROPHES
    found = read_below_hundred(atoms, place + comma + 1 if apostrophe else place + comma if after_comma else place)
    if found is None or not (apostrophe or atoms[found[1]].kind in ("stop", "comma")):
        return None
    years = years_of(int(found[0]), born=bool(_BIRTH.intersection(atoms.before(place, _BIRTH_WITHIN))))
    return (years, found[1]) if years else None


_BIRTH_WITHIN: Final = 9
"""Words from "date of birth is the" to the year: the day and the month stand between."""


def after_birth(atoms: Atoms, place: int) -> bool:
    """Whether the words right before ``place`` announce a date of birth."""
    return bool(_BIRTH.intersection(atoms.before(place, 4)))


def years_of(short: int, *, born: bool) -> tuple[int, ...]:
    """The years that two figures may stand for; of a birth they may be those of the last century."""
    if not born:
        return (2000 + short,) if short in _SHORT_YEARS else ()
    if short >= _OLDEST_BORN:
        return (1900 + short,)
    return (1900 + short, 2000 + short) if short >= _YOUNGEST_AS_SAID else ()
