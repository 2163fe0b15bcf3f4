"""The words numbers are made of. Common English; no word here states a fact about a patient."""

from __future__ import annotations

from typing import Final


def word_set(words: str) -> frozenset[str]:
    """The words of a line, as a set."""
    return frozenset(words.split())


DIGITS: Final = {
    "zero": 0, "nought": 0, "naught": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "niner": 9,
}  # fmt: skip
TEENS: Final = {
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18,
    "nineteen": 19,
}  # fmt: skip
TENS: Final = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}  # fmt: skip

PLURAL_DIGITS: Final = {
    "twos": 2, "threes": 3, "fours": 4, "fives": 5, "sixes": 6, "sevens": 7, "eights": 8, "nines": 9,
}  # fmt: skip
"""As in "the two point eights"; they count only behind a point or tens, for "the fours" are swabs."""

PLURAL_TENS: Final = {"tens": 10, "twenties": 20, "thirties": 30, "forties": 40, "fifties": 50}
"""As in "two seven by twenties"; they count only behind "by"."""

FILLERS: Final = frozenset({"um", "uh", "er", "erm", "uhm", "umm", "uhh", "hmm", "ah", "eh", '"', "“", "”"})
"""Tokens that say nothing; quotation marks stand here because they come between the signs of an identifier that is spelled."""
STOPS: Final = frozenset({".", "?", "!", ";", "…", "...", "—"})

KINDS: Final[dict[str, tuple[str, float]]] = {
    **{word: ("digit", float(worth)) for word, worth in DIGITS.items()},
    **{word: ("teen", float(worth)) for word, worth in TEENS.items()},
    **{word: ("tens", float(worth)) for word, worth in TENS.items()},
    **dict.fromkeys(STOPS, ("stop", 0.0)),
    "oh": ("oh", 0.0), "o": ("oh", 0.0), "hundred": ("hundred", 100.0), "thousand": ("thousand", 1000.0),
    ",": ("comma", 0.0), ":": ("colon", 0.0), "-": ("hyphen", 0.0), "–": ("hyphen", 0.0), "‑": ("hyphen", 0.0),
    "by": ("by", 0.0), "x": ("by", 0.0), "×": ("by", 0.0),
}  # fmt: skip
"""A plain word to its atom kind and worth."""

_ORDINAL_UNITS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")
_ORDINAL_REST = {
    "tenth": 10, "eleventh": 11, "twelfth": 12, "thirteenth": 13, "fourteenth": 14, "fifteenth": 15, "sixteenth": 16, "seventeenth": 17,
    "eighteenth": 18, "nineteenth": 19, "twentieth": 20, "thirtieth": 30,
}  # fmt: skip
ORDINALS: Final = {**{word: place for place, word in enumerate(_ORDINAL_UNITS, start=1)}, **_ORDINAL_REST}
ORDINAL_ENDINGS: Final = frozenset({"st", "nd", "rd", "th"})

FRACTION_SIGNS: Final = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
FRACTION_WORDS: Final = {
    "half": 2, "halves": 2, "quarter": 4, "quarters": 4, "eighth": 8, "eighths": 8, "sixteenth": 16, "sixteenths": 16,
}  # fmt: skip
SHARES: Final = {
    "third": 3, "thirds": 3, "fifth": 5, "fifths": 5, "sixth": 6, "sixths": 6, "tenth": 10, "tenths": 10, "twelfth": 12, "twelfths": 12,
    "twentieth": 20, "twentieths": 20, "hundredth": 100, "hundredths": 100, "thousandth": 1000, "thousandths": 1000,
}  # fmt: skip
"""Ordinals that are parts of a unit where one follows: "two thirds of a centimetre"."""
FRACTION_ENDS: Final = frozenset({*FRACTION_WORDS, *SHARES, "second", "seconds", "fourth", "fourths"})
"""Words that can end a fraction: "three thirty seconds of an inch"."""
INCH_ONLY: Final = frozenset({"eighth", "eighths", "sixteenth", "sixteenths"})
"""Fractions that are said of inches alone; elsewhere the word is an ordinal."""

HALF_DAYS: Final = {"am": 0, "a.m.": 0, "a.m": 0, "pm": 12, "p.m.": 12, "p.m": 12}
POINTS: Final = frozenset({"point", "dot", "decimal"})
ARTICLES: Final = frozenset({"a", "an"})
LAST_SHORT_HUNDRED: Final = 3
"""The largest hundred commonly said short before a teen ("one-ten", "three-fifteen"); above it a hyphen makes a range."""

MONTHS: Final = {
    "january": 1, "jan": 1, "february": 2, "feb": 2, "march": 3, "mar": 3, "april": 4, "apr": 4, "may": 5, "june": 6, "jun": 6, "july": 7,
    "jul": 7, "august": 8, "aug": 8, "september": 9, "sept": 9, "sep": 9, "october": 10, "oct": 10, "november": 11, "nov": 11,
    "december": 12, "dec": 12,
}  # fmt: skip
