"""Finds the phrases of a lexicon in a row of words, and tells in which company a phrase stands.

In the company of a phrase (``only_near``, ``never_near``, ``not_before``, ``not_after``) some signs have a meaning of their own:
``_`` is the phrase itself, so that "_ load" asks for "load" right after it and "slight _" for "slight" right before it;
``#`` is any number, ``*`` a single digit, ``@`` a spelled letter ("k", "kilo"), ``^`` the beginning of the sentence.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from opnote.hearing.protected import DIGITS, LETTERS, is_number
from opnote.hearing.words import Word, joined, words_of

P = TypeVar("P")

NEAR = 6
"""How many words on either side are the company of a phrase: about a clause of dictated speech (common practice)."""


@dataclass(frozen=True, slots=True)
class Hit(Generic[P]):
    """The words ``first`` to ``last`` (excluded) are a phrase of ``entry``."""

    first: int
    last: int
    entry: P


class Phrases(Generic[P]):
    """Phrases by their first word, longest first, each with the entry it belongs to."""

    def __init__(self, phrases: Iterable[tuple[str, P]]) -> None:
        self._by_first: dict[str, list[tuple[tuple[str, ...], P]]] = {}
        for phrase, entry in phrases:
            parts = tuple(word.low for word in words_of(phrase))
            if parts:
                self._by_first.setdefault(parts[0], []).append((parts, entry))
        for rows in self._by_first.values():
            rows.sort(key=lambda row: -len(row[0]))

    def each(self, words: Sequence[Word], accept: Callable[[Hit[P]], bool]) -> Iterator[Hit[P]]:
        """The accepted phrases in order, not overlapping; of several that begin with one word the longest."""
        index = 0
        while index < len(words):
            rows = self._by_first.get(words[index].low)
            hit = next(filter(accept, self._at(words, index, rows)), None) if rows else None
            if hit:
                yield hit
            index = hit.last if hit else index + 1

    def _at(self, words: Sequence[Word], first: int, rows: Iterable[tuple[tuple[str, ...], P]]) -> Iterator[Hit[P]]:
        for parts, entry in rows:
            last = first + len(parts)
            if tuple(word.low for word in words[first:last]) == parts and joined(words, first, last):
                yield Hit(first, last, entry)


@dataclass(frozen=True, slots=True)
class Company:
    """The words of the same sentence within ``NEAR`` words of a phrase, with ``_`` in the place of the phrase."""

    row: tuple[str, ...]
    place: int

    def holds(self, phrases: Iterable[str]) -> bool:
        """One of ``phrases`` stands in this company.

        >>> Company(("a", "slight", "_", "load"), 2).holds(["slight _"]), Company(("_", "at", "20"), 0).holds(["at #"])
        (True, True)
        """
        return any(self._holds(phrase.lower().split()) for phrase in phrases)

    @property
    def before(self) -> str:
        """The word right before the phrase, or ""."""
        return self.row[self.place - 1] if self.place and self.row[self.place - 1] != "^" else ""

    @property
    def after(self) -> str:
        """The word right after the phrase, or ""."""
        return self.row[self.place + 1] if self.place + 1 < len(self.row) else ""

    def _holds(self, parts: list[str]) -> bool:
        last = len(self.row) - len(parts)
        starts = (self.place - parts.index("_"),) if "_" in parts else range(last + 1)
        return any(0 <= start <= last and all(map(_fits, parts, self.row[start:])) for start in starts)


def company(words: Sequence[Word], first: int, last: int) -> Company:
    """The company in which the words ``first`` to ``last`` (excluded) stand."""
    start = first
    while start > max(0, first - NEAR) and not words[start].opens:
        start -= 1
    end = last
    while end < min(len(words), last + NEAR) and not words[end].opens:
        end += 1
    opening = ("^",) if start == 0 or words[start].opens else ()
    before = (*opening, *(word.low for word in words[start:first]))
    return Company((*before, "_", *(word.low for word in words[last:end])), len(before))


def guarded(near: Company, *, not_before: Iterable[str], not_after: Iterable[str]) -> bool:
    """The phrase stands right before one of ``not_before`` or right after one of ``not_after``."""
    return near.holds([f"_ {phrase}" for phrase in not_before]) or near.holds([f"{phrase} _" for phrase in not_after])


def _fits(part: str, word: str) -> bool:
    if part == "#":
        return is_number(word)
    if part == "*":
        return word in DIGITS
    return word in LETTERS if part == "@" else part == word
