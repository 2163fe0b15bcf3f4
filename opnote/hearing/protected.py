"""Closed sets of words by which hearing tells what it must leave alone: numbers, letters, titles, prefixes that turn a meaning.

Negations and words with an opposite stand in ``lexicons/mishearings/opposites.toml`` (``Lexicon.guarded``).
"""

from __future__ import annotations

from opnote.lexicon.numbers import is_number as is_number


def word_set(words: str) -> frozenset[str]:
    """A closed set of words, written as a line of prose."""
    return frozenset(words.split())


DIGITS = word_set("oh zero one two three four five six seven eight nine 0 1 2 3 4 5 6 7 8 9")
LETTERS = word_set(
    "b c d e f g h j k l m n o p q r s t u v w x y z alpha alfa bravo charlie delta echo foxtrot golf hotel india juliet juliett kilo lima "
    "mike november oscar papa quebec romeo sierra tango uniform victor whiskey whisky xray yankee zulu"
)
"""Letters as they are read out, and the words of the spelling alphabet; "a" and "I" are words of their own."""
FLIP_PREFIXES = (
    "inter", "intra", "hyper", "hypo", "uni", "bi", "pre", "post", "supra", "infra", "sub", "ante", "auto", "allo", "ab", "ad", "un", "non",
    "de", "re", "in",
)  # fmt: skip
TITLES = word_set("doctor doctors dr mr mrs ms mister miss professor prof surgeon sister nurse")


def prefix(word: str) -> str:
    """The prefix that turns the meaning of ``word``, or none."""
    return next((p for p in FLIP_PREFIXES if word.startswith(p)), "")
