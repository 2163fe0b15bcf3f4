"""The words that are numbers, for every stage and for the checks of the lexicons."""

from __future__ import annotations

NUMBERS = frozenset(
    "oh zero nought naught one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand half quarter double triple".split()
)


def is_number(word: str) -> bool:
    """Digits or a number word.

    >>> is_number("8.5"), is_number("twenty"), is_number("to")
    (True, True, False)
    """
    return word[:1].isdigit() or word in NUMBERS
