"""Days and months of the calendar, as text: what may be the value of a date, and what no year has."""

from __future__ import annotations

from datetime import date
from typing import Final

_YEARS: Final = range(1900, 2100)
_LEAP_YEAR: Final = 2028
"""Stands for the year that was not said: the 29th of February is a day of some years."""
_MONTHS: Final = range(1, 13)
_MOST_DAYS: Final = 31


def day_text(year: int, month: int, day: int) -> str | None:
    """The day as "YYYY-MM-DD"; None where no calendar has it.

    >>> day_text(2028, 2, 29), day_text(2027, 2, 29)
    ('2028-02-29', None)
    """
    try:
        return date(year, month, day).isoformat() if year in _YEARS else None
    except ValueError:
        return None


def month_text(year: int, month: int) -> str | None:
    """The month as "YYYY-MM"; None where there is none."""
    return f"{year}-{month:02d}" if month in _MONTHS and year in _YEARS else None


def year_day_text(month: int, day: int) -> str | None:
    """The day of any year as "MM-DD"; None where no year has it.

    >>> year_day_text(2, 29), year_day_text(4, 31)
    ('02-29', None)
    """
    text = day_text(_LEAP_YEAR, month, day)
    return text[5:] if text else None


def is_slip(month: int, day: int) -> bool:
    """Whether month and day look like a date and are none in the year that was said ("the thirty first of April")."""
    return month in _MONTHS and 1 <= day <= _MOST_DAYS
