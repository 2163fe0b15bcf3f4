"""Fluent words that a recogniser puts into silence: sentences said over and over. Phrases of its training are cues."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.language.statements import Statement

REPEATS = 3  # times that the same statement follows itself
STUTTERS = 4  # times that the same word does


def ghosts(words: Sequence[str], statements: Sequence[Statement], figures: frozenset[str]) -> Iterator[range]:
    """Runs of the same statement or word: nobody says a sentence that often. ``figures`` may be read aloud so."""
    yield from _stuttered(words, figures)
    first = 0
    for index in range(1, len(statements) + 1):
        if index < len(statements) and _same(words, statements[index], statements[first]):
            continue
        if index - first >= REPEATS:
            yield range(statements[first].start, statements[index - 1].end)
        first = index


def _stuttered(words: Sequence[str], figures: frozenset[str]) -> Iterator[range]:
    """Runs of one word, at least ``STUTTERS`` long ("you you you you")."""
    first = 0
    for place in range(1, len(words) + 1):
        if place < len(words) and words[place] == words[first]:
            continue
        if place - first >= STUTTERS and words[first].isalpha() and words[first] not in figures:
            yield range(first, place)
        first = place


def _same(words: Sequence[str], one: Statement, other: Statement) -> bool:
    return [w for w in words[one.start : one.end] if w.isalpha()] == [w for w in words[other.start : other.end] if w.isalpha()] != []
