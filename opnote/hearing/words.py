"""The words of a text and what stands between them: what every rule of hearing looks at."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

_WORD = re.compile(r"\d+(?:[.,:]\d+)*|[^\W\d_]+(?:['\u2019][^\W\d_]+)*")
_STOPS = frozenset(".?!;")


class Word(NamedTuple):
    """Characters ``start`` to ``end`` of the text; ``low`` is the word in lower case, with a straight apostrophe.

    ``gap`` is what stands between the word before and this one.
    """

    start: int
    end: int
    low: str
    gap: str

    @property
    def apart(self) -> bool:
        """Set apart by a space from the word before, and so no later part of a hyphenated word or an identifier."""
        return " " in self.gap or not self.gap

    @property
    def opens(self) -> bool:
        """A sentence ends before this word."""
        return not _STOPS.isdisjoint(self.gap)


def words_of(text: str) -> tuple[Word, ...]:
    """All words of ``text``, in order; a number with its decimals is one word.

    >>> [word.low for word in words_of("Um, an 8.5 all-inside")]
    ['um', 'an', '8.5', 'all', 'inside']
    """
    words: list[Word] = []
    before = 0
    for match in _WORD.finditer(text):
        start, end = match.span()
        words.append(Word(start, end, match[0].lower().replace("\u2019", "'"), text[before:start]))
        before = end
    return tuple(words)


def masked(text: str, holes: Iterable[tuple[int, int, str]]) -> str:
    """``text`` with each stretch (start, end, mark) blanked and the mark put at its start: the places of all other words stay.

    >>> masked("we um drilled", [(3, 5, "")])
    'we    drilled'
    """
    out: list[str] = []
    at = 0
    for start, end, mark in sorted(holes):
        out += [text[at:start], mark[: end - start].ljust(end - start)]
        at = end
    return "".join([*out, text[at:]])


def joined(words: Sequence[Word], start: int, end: int) -> bool:
    """The words ``start`` to ``end`` follow one another with nothing but spaces and hyphens between them."""
    return all(word.gap.strip() in ("", "-") for word in words[start + 1 : end])
