"""The order of day and month in "09/11/03", told by the spelling of the dictation: American spelling goes with the month first."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from opnote.language.model import Quantity
from opnote.language.talk import Talk
from opnote.lexicon import Lexicon

ORDERS = {"american": ("month", "day"), "british": ("day", "month")}
PLACES = {"month": slice(5, 7), "day": slice(8, 10)}  # in an ISO date


def in_order(date: Quantity, talk: Talk, lexicon: Lexicon) -> Quantity:
    """A date settled where only the order of day and month leaves it open and the spelling of the talk tells that order.

    A dictation that spells both ways, or has no telling word, tells nothing.
    """
    told = [written for written in ORDERS if not _words_of(lexicon, written).isdisjoint(talk.words)]
    numbers = [int(digits) for digits in re.findall(r"\d+", talk.doc[date.start : date.end].text)]
    if len(told) != 1 or len(numbers) != len(("day", "month", "year")):
        return date
    fitting = [day for day in date.readings if _is_in_order(str(day), numbers, ORDERS[told[0]])]
    if len(fitting) != 1:
        return date
    return replace(date, value=fitting[0], readings=(), why=(*date.why, f"the {ORDERS[told[0]][0]} first, as the spelling is"))


def _words_of(lexicon: Lexicon, written: str) -> frozenset[str]:
    """The words that only one of the two spellings writes so."""
    return frozenset(word for entry in lexicon.spellings for word in getattr(entry, written))


def _is_in_order(day: str, numbers: Sequence[int], order: tuple[str, str]) -> bool:
    """Whether an ISO date is what three numbers say in an order, the year last."""
    parts = [int(day[PLACES[part]] or 0) for part in order]
    return parts == list(numbers[:2]) and day[:4].endswith(f"{numbers[2]:02d}")
