"""Finds the phrases of a lexicon in a row of words, and tells in which company a phrase stands.

In the company of a phrase (``only_near``, ``never_near``, ``not_before``, ``not_after``) two signs have a meaning of their own:
``_`` is the phrase itself, so that "_ load" asks for "load" right after it and "slight _" for "slight" right before it, and
``#`` is any number.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from opnote.hearing.protected import is_number
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

    def at(self, words: Sequence[Word], first: int) -> Iterator[Hit[P]]:
        """The phrases that begin with word ``first``, longest first."""
        for parts, entry in self._by_first.get(words[first].low, ()):
            last = first + len(parts)
            if tuple(word.low for word in words[first:last]) == parts and joined(words, first, last):
                yield Hit(first, last, entry)


@dataclass(frozen=True, slots=True)
class Company:
    """The words of the same sentence within ``NEAR`` words of a phrase, with ``_`` in the place of the phrase."""

    before: tuple[str, ...]
    after: tuple[str, ...]

    def holds(self, phrases: Iterable[str]) -> bool:
        """One of ``phrases`` stands in this company.

        >>> Company(("a", "slight"), ("load",)).holds(["slight _"]), Company((), ("at", "20")).holds(["at #"])
        (True, True)
        """
        plain = " ".join(("", *self.before, "_", *self.after, ""))
        counted = " ".join(("", *map(_sign, self.before), "_", *map(_sign, self.after), ""))
        return any(f" {phrase.lower()} " in (counted if "#" in phrase else plain) for phrase in phrases)


def company(words: Sequence[Word], first: int, last: int) -> Company:
    """The company in which the words ``first`` to ``last`` (excluded) stand."""
    start = first
    while start > max(0, first - NEAR) and not words[start].opens:
        start -= 1
    end = last
    while end < min(len(words), last + NEAR) and not words[end].opens:
        end += 1
    return Company(tuple(word.low for word in words[start:first]), tuple(word.low for word in words[last:end]))


def guarded(near: Company, *, not_before: Iterable[str], not_after: Iterable[str]) -> bool:
    """The phrase stands right before one of ``not_before`` or right after one of ``not_after``."""
    return near.holds([f"_ {phrase}" for phrase in not_before]) or near.holds([f"{phrase} _" for phrase in not_after])


def _sign(word: str) -> str:
    return "#" if is_number(word) else word
