"""Tokens that hold figures or signs, taken apart: "7x25", "120mmHg", "8:52", "½", "-5", "3/4/2026"."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atom import Atom
from opnote.language.quantities.units import is_unit_word

_NUMBER: Final = r"(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?|\.\d+"
_SIGN_WORDS: Final = {"-": "minus", "−": "minus", "–": "minus", "±": "±", "~": "about", "≈": "about", "#": "#", "+": "+"}
_Piece = tuple[str, str, float]
"""An atom before it has its place: kind, word, worth."""


def atoms_of_signs(word: str, place: int) -> list[Atom]:
    """The atoms of the lower-case token ``word``, all on ``place``.

    >>> [(atom.kind, atom.word) for atom in atoms_of_signs("250mmhg", 0)]
    [('num', '250'), ('word', 'mmhg')]
    """
    for pattern, pieces_of in _FORMS:
        if match := pattern.match(word):
            return [Atom(kind, name, value, place, place + 1) for kind, name, value in pieces_of(match)]
    return [Atom("mixed" if any(sign.isdigit() for sign in word) else "word", word, 0.0, place, place + 1)]


def _num(digits: str) -> _Piece:
    plain = digits.replace(",", "")
    return "num", plain, float(plain)


def _word(text: str | None) -> list[_Piece]:
    return [("word", text, 0.0)] if text else []


def _plain(match: re.Match[str]) -> list[_Piece]:
    return [_num(match[0])]


def _comma_decimal(match: re.Match[str]) -> list[_Piece]:
    return [_num(f"{match[1]}.{match[2]}")]


def _fraction(match: re.Match[str]) -> list[_Piece]:
    part = v.FRACTION_SIGNS[match[2]] if match[2] else int(match[3]) / int(match[4])
    return [("fraction", match[0], float(match[1] or 0) + part)]


def _clock(match: re.Match[str]) -> list[_Piece]:
    return [("clock", f"{match[1]}:{match[2]}", int(match[1]) * 60.0 + int(match[2])), *_word(match[3])]


def _date(match: re.Match[str]) -> list[_Piece]:
    return [("numeric date", match[0], 0.0)]


def _pair(match: re.Match[str]) -> list[_Piece]:
    if match[3] == "s":
        return [("mixed", match[0], 0.0)]  # "4x4s" are swabs
    return [_num(match[1]), ("by", "x", 0.0), _num(match[2]), *_word(match[3])]


def _span(match: re.Match[str]) -> list[_Piece]:
    return [_num(match[1]), ("hyphen", "-", 0.0), _num(match[2]), *_word(match[3])]


def _day_month_year(match: re.Match[str]) -> list[_Piece]:
    """As in "30JUN2028", "Jun-2028" (of "30-Jun-2028"); any other letters are part of an identifier."""
    if match[2] not in v.MONTHS:
        return [("mixed", match[0], 0.0)]
    return [*([_num(match[1])] if match[1] else []), *_word(match[2]), _num(match[3])]


def _signed(match: re.Match[str]) -> list[_Piece]:
    return [*_word(_SIGN_WORDS[match[1]]), _num(match[2]), *_word(match[3])]


def _times(match: re.Match[str]) -> list[_Piece]:
    return [("by", "x", 0.0), _num(match[1])]


def _times_before(match: re.Match[str]) -> list[_Piece]:
    return [_num(match[1]), ("by", "x", 0.0)]


def _with_letters(match: re.Match[str]) -> list[_Piece]:
    """A number with letters stuck to it: an ordinal, a unit, am/pm, or part of an identifier."""
    number, letters = match[1], match[2]
    if letters in v.ORDINAL_ENDINGS and number.isdigit():
        return [("ordinal", match[0], float(number))]
    if letters in v.HALF_DAYS or letters in ("yo", "ish") or is_unit_word(letters):
        return [_num(number), *_word(letters)]
    return [("mixed", match[0], 0.0)]


def _letter_at_end(match: re.Match[str]) -> list[_Piece]:
    """A letter and a full stop, which spaCy keeps whole: "a.", "b."."""
    return [*_word(match[1]), ("stop", ".", 0.0)]


def _mixed_at_end(match: re.Match[str]) -> list[_Piece]:
    return [("mixed", match[1], 0.0), ("stop", ".", 0.0)]


_FORMS: Final[tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], list[_Piece]]], ...]] = (
    (re.compile(rf"(?:{_NUMBER})$"), _plain),
    (re.compile(r"(\d+),(\d{1,2})$"), _comma_decimal),
    (re.compile(r"(\d*)([½¼¾⅛⅜⅝⅞])$|(\d{1,2})/(2|3|4|5|8|16)$"), _fraction),
    (re.compile(r"(\d{1,2}):(\d{2})(am|pm|h)?$"), _clock),
    (re.compile(r"\d{1,4}[/.]\d{1,2}[/.](?:\d{2}|\d{4})$|\d{1,2}/\d{2,4}$"), _date),
    (re.compile(rf"({_NUMBER})[x×*]({_NUMBER})([a-zµ°%]*)$"), _pair),
    (re.compile(rf"({_NUMBER})[–-]({_NUMBER})([a-zµ°%]*)$"), _span),
    (re.compile(rf"([-−–±~≈#+])({_NUMBER})([a-zµ°%]*)$"), _signed),
    (re.compile(r"[x×](\d{1,3})$"), _times),
    (re.compile(r"(\d{1,2})[x×]$"), _times_before),
    (re.compile(r"(\d{1,2})?-?([a-z]{3,9})-?(20\d\d|'?[2-4]\d)$"), _day_month_year),
    (re.compile(rf"({_NUMBER})([a-zµ°%]+)$"), _with_letters),
    (re.compile(r"([a-z])\.$"), _letter_at_end),
    (re.compile(r"([a-z0-9]*\d[a-z0-9]*[a-z])\.$"), _mixed_at_end),
)
