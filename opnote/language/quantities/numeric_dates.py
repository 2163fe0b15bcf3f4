"""Dates in figures, written ("14/03/2025", "2028-04-30") or spoken ("oh five twenty twenty eight" after an expiry cue)."""

from __future__ import annotations

import re
from typing import Final

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.calendar import day_text, is_slip, month_text, year_day_text
from opnote.language.quantities.dates import Date, after_birth, after_expiry, as_match, dated, one_of, read_day, read_year, years_of
from opnote.language.quantities.figures import is_small, read_below_hundred
from opnote.language.quantities.match import Match
from opnote.language.quantities.units import read_unit

_WRITTEN: Final = re.compile(r"(\d{1,4})[/.](\d{1,2})[/.](\d{2}|\d{4})$")
_MONTH_YEAR: Final = re.compile(r"(\d{1,2})/(\d{2}|\d{4})$")
_DATE_CUES: Final = v.word_set("date dated born birth dob surgery operation on")
_SHORTEST_YEAR: Final = 20
_PLAIN_CUES: Final = v.word_set("date dated")
_SEPARATORS: Final = v.word_set("slash dash hyphen - / stroke")


def read_numeric_date(atoms: Atoms, place: int) -> Match | None:
    """The date in figures at ``place``; where day and month could change places there is no value but both readings."""
    expiry = after_expiry(atoms, place)
    date = _written(atoms, place, expiry) or _iso(atoms, place) or _hyphened(atoms, place)
    if date is None and expiry:
        date = _year_first(atoms, place) or _three_parts(atoms, place) or _month_then_year(atoms, place)
        date = date or _three_short(atoms, place) or _month_then_short(atoms, place)
    if date is None and _is_date_cue(atoms, place):
        date = _three_parts(atoms, place)
    if date is None and after_birth(atoms, place):
        date = _three_short_of_birth(atoms, place)
    if date is None and _PLAIN_CUES.intersection(atoms.before(place, 4)):
        date = _three_short(atoms, place)
    return as_match(atoms, place, date) if date else None


def _is_date_cue(atoms: Atoms, place: int) -> bool:
    return bool(_DATE_CUES.intersection(atoms.before(place, 3)))


def _written(atoms: Atoms, place: int, expiry: bool) -> Date | None:
    atom = atoms[place]
    if atom.kind != "numeric date":
        return None
    if match := _WRITTEN.match(atom.word):
        return _three(match[1], match[2], match[3], place + 1)
    match = _MONTH_YEAR.match(atom.word)
    if match is None or not 1 <= int(match[1]) <= 12:
        return None
    if len(match[2]) == 4:
        return dated(month_text(int(match[2]), int(match[1])), place + 1)
    return _month_and_short_year(int(match[1]), int(match[2]), place + 1) if expiry else None


def _three(first: str, second: str, third: str, end: int) -> Date | None:
    """The date of three written parts, in every order that makes one; None where no order looks like a date ("0/30/90")."""
    parts = int(first), int(second), int(third)
    if len(first) > 2:
        return dated(day_text(*parts), end)
    if len(third) > 2:
        return _day_or_month_first(parts[2], parts[0], parts[1], end)
    orders = ((2, 0, 1), (2, 1, 0), (0, 1, 2))
    days = [(2000 + parts[year], parts[month], parts[day]) for year, month, day in orders]
    texts, slip = [day_text(*day) for day in days], any(_is_slip(*day) for day in days)
    return one_of(texts, end, slip=slip) if slip or any(texts) else None


def _day_or_month_first(year: int, first: int, second: int, end: int) -> Date:
    """Two numbers that are day and month, in the one order that makes a date, or in both."""
    days = (year, first, second), (year, second, first)
    return one_of([day_text(*day) for day in days], end, slip=any(_is_slip(*day) for day in days))


def _is_slip(year: int, month: int, day: int) -> bool:
    return is_slip(month, day) and day_text(year, month, day) is None


def _month_and_short_year(month: int, year: int, end: int) -> Date | None:
    """As in "expiry 05/28": two figures with a stroke between them are month and year, for no box tells a day without its year."""
    return dated(month_text(2000 + year, month), end) if 1 <= month <= 12 and 20 <= year < 50 else None


def _doubtful_month(month: int, other: int, end: int) -> Date | None:
    """As in "oh five twenty eight": May 2028, or the 28th of May and a year that was not heard."""
    if not 1 <= month <= 12 or not 20 <= other < 50:
        return None
    return one_of((month_text(2000 + other, month), year_day_text(month, other)), end)


def _hyphened(atoms: Atoms, place: int) -> Date | None:
    """As in "30-06-2028", "06-30-2028", cut at its hyphens."""
    first, second, year = atoms[place], atoms[place + 2], atoms[place + 4]
    if any(part.kind != "num" or not part.word.isdigit() for part in (first, second, year)) or len(year.word) != 4:
        return None
    if max(len(first.word), len(second.word)) > 2 or any(atoms[between].kind != "hyphen" for between in (place + 1, place + 3)):
        return None
    date = _day_or_month_first(int(year.word), int(first.word), int(second.word), place + 5)
    return date if 1950 <= year.value < 2100 else None


def _iso(atoms: Atoms, place: int) -> Date | None:
    """As in "2028-04-30", "2028-04", cut at its hyphens."""
    year, month, day = atoms[place], atoms[place + 2], atoms[place + 4]
    if year.kind != "num" or len(year.word) != 4 or atoms[place + 1].kind != "hyphen" or month.kind != "num" or len(month.word) != 2:
        return None
    if not 1950 <= year.value < 2100:
        return None
    if atoms[place + 3].kind == "hyphen" and day.kind == "num" and len(day.word) <= 2:
        return dated(day_text(int(year.word), int(month.word), int(day.word)), place + 5)
    text = month_text(int(year.word), int(month.word))
    return Date(text, place + 3) if text else None


def _skip_separator(atoms: Atoms, place: int) -> int:
    """The place after a comma, a spoken or written separator, or both."""
    place = place + 1 if atoms[place].kind == "comma" else place
    place = place + 1 if atoms[place].word in _SEPARATORS else place
    return place + 1 if atoms[place].kind == "comma" else place


def _part(atoms: Atoms, place: int) -> tuple[int, int] | None:
    """A day or month in figures or words ("oh four", "04", "thirty"), and the place after it."""
    atom = atoms[place]
    if (atom.kind == "oh" or atom.word in ("zero", "nought")) and is_small(atoms[place + 1]):
        return int(atoms[place + 1].value), place + 2
    if atom.kind == "num" and len(atom.word) == 2 and atom.word.startswith("0"):
        return int(atom.value), place + 1
    found = read_below_hundred(atoms, place)
    return (int(found[0]), found[1]) if found and 1 <= found[0] <= 31 else None


def _year_first(atoms: Atoms, place: int) -> Date | None:
    """As in "twenty twenty eight, oh four, thirty"."""
    year = read_year(atoms, place)
    if year and (name := v.MONTHS.get(atoms[_skip_separator(atoms, year[1])].word)):
        return _year_and_named_month(atoms, year[0], name, _skip_separator(atoms, year[1]) + 1)
    month = _part(atoms, _skip_separator(atoms, year[1])) if year else None
    if year is None or month is None or month[0] > 12:
        return None
    day = _part(atoms, _skip_separator(atoms, month[1]))
    if day is None:
        return dated(month_text(year[0], month[0]), month[1])
    return dated(day_text(year[0], month[0], day[0]), day[1])


def _year_and_named_month(atoms: Atoms, year: int, month: int, place: int) -> Date:
    """As in "twenty twenty nine march", "twenty twenty nine march thirty first"; ``place`` is after the month."""
    day = read_day(atoms, place)
    if day is None or not day[2]:
        return dated(month_text(year, month), place)
    return dated(day_text(year, month, day[0]), day[1])


def _month_then_year(atoms: Atoms, place: int) -> Date | None:
    """As in "oh five twenty twenty eight", "eleven, twenty twenty seven"."""
    month = _part(atoms, place)
    if month is None or month[0] > 12:
        return None
    following = _skip_separator(atoms, month[1])
    year = read_year(atoms, following)
    return dated(month_text(year[0], month[0]), year[1]) if year else None


def _month_then_short(atoms: Atoms, place: int) -> Date | None:
    """As in "oh five twenty eight", "oh five slash twenty eight"."""
    month = _part(atoms, place)
    if month is None or month[0] > 12:
        return None
    parted = atoms[month[1]].word in _SEPARATORS
    found = read_below_hundred(atoms, month[1] + 1 if parted or atoms[month[1]].word == "of" else month[1])
    if found is None:
        return None
    return (_month_and_short_year if parted else _doubtful_month)(month[0], int(found[0]), found[1])


def _three_short_of_birth(atoms: Atoms, place: int) -> Date | None:
    """As in "date of birth twenty three oh four eighty nine": day and month in either order, then the year."""
    first = _part(atoms, place)
    second = _part(atoms, _skip_separator(atoms, first[1])) if first else None
    third = _short(atoms, _skip_separator(atoms, second[1])) if second else None
    if first is None or second is None or third is None or read_unit(atoms, third[1]):
        return None
    days = [(year, *days) for year in years_of(third[0], born=True) for days in ((second[0], first[0]), (first[0], second[0]))]
    return one_of([day_text(*day) for day in days], third[1], slip=any(_is_slip(*day) for day in days))


def _short(atoms: Atoms, place: int) -> tuple[int, int] | None:
    """A year in two figures ("oh four", "eighty nine", "89"), and the place after it."""
    if (part := _part(atoms, place)) is not None:
        return part
    found = read_below_hundred(atoms, place)
    return (int(found[0]), found[1]) if found else None


def _three_short(atoms: Atoms, place: int) -> Date | None:
    """As in "thirty one twelve twenty eight" after an expiry cue, in every order that makes a date."""
    parts: list[int] = []
    following = place
    while len(parts) < 3:
        part = _part(atoms, following)
        if part is None:
            return None
        parts.append(part[0])
        end, following = part[1], _skip_separator(atoms, part[1])
    first, second, third = parts
    if third < _SHORTEST_YEAR or read_unit(atoms, end):
        return None
    days = [(2000 + third, first, second), (2000 + third, second, first)]
    days += [(2000 + first, second, third)] if first >= _SHORTEST_YEAR else []
    texts, slip = [day_text(*day) for day in days], any(_is_slip(*day) for day in days)
    return one_of(texts, end, slip=slip) if slip or any(texts) else None


def _three_parts(atoms: Atoms, place: int) -> Date | None:
    """As in "oh three fourteen twenty twenty five" after a date cue."""
    first = _part(atoms, place)
    second = _part(atoms, _skip_separator(atoms, first[1])) if first else None
    year = read_year(atoms, _skip_separator(atoms, second[1])) if second else None
    if first is None or second is None or year is None:
        return None
    return _day_or_month_first(year[0], first[0], second[0], year[1])
