"""Lists under a heading: the places where their items begin, numbered ("1. ACL tear 2. meniscal tear") or a line each."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

from opnote.language.headings import COLONS, FINAL, Heading

NUMBERS = {word: number for number, word in enumerate("one two three four five six seven eight nine ten eleven twelve".split(), start=1)}
CALLED = frozenset({"number", "no", "no.", "#"})  # before a number they tell that it numbers something
MARKS = frozenset({".", ")", ",", ":", "colon", "-"})  # behind a number at the beginning of an item


@dataclass(frozen=True, slots=True)
class Items:
    """Tokens at which items of lists begin, and the stops that only end an item's number ("1.") and no statement."""

    starts: frozenset[int] = frozenset()
    stops: frozenset[int] = frozenset()


def find_items(
    words: Sequence[str], headings: Iterable[Heading], breaks: Collection[int], stopped: Collection[int], lines: Collection[int]
) -> Items:
    """The items of every list that stands under a heading set apart.

    ``breaks`` are the tokens at which a paragraph or a speaker begins, ``stopped`` those behind a full stop, ``lines`` those at which
    a line of the source begins with a capital letter or a digit. "Diagnoses: 1. ACL tear. 2. Chondromalacia." has two items; "the
    fixation was at 2. Then ..." has none, because no list counts up to it.
    """
    starts: set[int] = set()
    stops: set[int] = set()
    ordered = sorted(headings, key=lambda heading: heading.start)
    limits = [*(heading.start for heading in ordered), len(words)][1:]
    for heading, limit in zip(ordered, limits, strict=True):
        if not heading.labelled:
            continue
        first = heading.end + (heading.end < len(words) and words[heading.end] in COLONS | FINAL)
        numbered = list(_numbered(words, first, limit, frozenset({*breaks, *stopped, *lines})))
        starts.update(item for item, _ in numbered)
        stops.update(stop for _, stop in numbered if stop is not None)
        if not numbered and heading.entry.listing and first in lines:
            starts.update(_lined(first, limit, lines, breaks))
    return Items(frozenset(starts), frozenset(stops))


def _numbered(words: Sequence[str], first: int, limit: int, begins: frozenset[int]) -> Iterator[tuple[int, int | None]]:
    """The items of a list that counts up from one, each with the full stop of its number, if it has one."""
    expected = 1
    for place in range(first, limit):
        if place != first and place not in begins:
            continue
        number, end = _number(words, place)
        if number == expected and end < limit and words[end] in MARKS:
            yield place, end if words[end] in FINAL else None
            expected += 1
        elif expected == 1:
            return


def _number(words: Sequence[str], place: int) -> tuple[int | None, int]:
    """The number at a place ("2", "two", "number two") and the token behind it."""
    if words[place] in CALLED and place + 1 < len(words):
        place += 1
    word = words[place]
    return (int(word) if word.isdecimal() else NUMBERS.get(word)), place + 1


def _lined(first: int, limit: int, lines: Collection[int], breaks: Collection[int]) -> Iterator[int]:
    """The lines of a block below a heading, up to the first that begins a paragraph of its own."""
    for place in sorted(place for place in lines if first <= place < limit):
        if place != first and place in breaks:
            return
        yield place
