"""Headings of a dictation: which words are one, and which part of the note each statement stands under."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from opnote.language.phrases import Hit
from opnote.lexicon import Section, Term

FINAL = frozenset({".", "?", "!", ";", "..."})
COLONS = frozenset({":", "colon"})
LATE = 0.6  # share of the talk after which a closing heading holds to the end


@dataclass(frozen=True, slots=True)
class Heading:
    """Tokens ``start`` to ``end`` that open a part of the note; ``labelled`` where a colon or a full stop sets them apart."""

    start: int
    end: int
    entry: Section
    labelled: bool


@dataclass(frozen=True, slots=True)
class _Under:
    """What a statement stands under, and how long that holds: ``awaiting`` where the heading was a sentence of its own."""

    entry: Section | None = None
    lasting: bool = False
    awaiting: bool = False


def find_headings(
    words: Sequence[str], hits: Iterable[Hit], predicates: Collection[str], lines: Collection[int] = frozenset()
) -> tuple[Heading, ...]:
    """The headings of a text by their words alone, in order, one a place.

    "Findings: an ACL tear" has one, "the findings were normal" has none: ``predicates`` are the words that follow a subject. ``lines``
    are the tokens at which a line of the source begins: a heading may have one to itself.
    """
    found = {heading.start: heading for heading in _outermost(_read(words, hits, lines)) if _stands(words, heading, predicates)}
    return tuple(found[start] for start in sorted(found))


def _read(words: Sequence[str], hits: Iterable[Hit], lines: Collection[int]) -> list[Heading]:
    return [
        Heading(hit.start, hit.end, hit.entry, _labelled(words, hit) or _has_a_line(hit, lines))
        for hit in hits
        if hit.use == "section" and isinstance(hit.entry, Section)
    ]


def _outermost(headings: Iterable[Heading]) -> Iterator[Heading]:
    """Those that do not begin inside an earlier one, nor lie inside a longer one; they come by place, longer ones first.

    "Diagnosis" lies inside "postoperative diagnosis", and "diagnosis is" begins inside it.
    """
    around: list[Heading] = []
    for one in headings:
        around = [other for other in around if other.end > one.start]
        if not any(other.start < one.start or other.end > one.end for other in around):
            yield one
            around.append(one)


def _has_a_line(hit: Hit, lines: Collection[int]) -> bool:
    """Whether a heading is a line of its own."""
    return hit.end in lines and (hit.start == 0 or hit.start in lines)


def _labelled(words: Sequence[str], hit: Hit) -> bool:
    """Whether a heading stands by itself: before a colon, or as a sentence of its own ("Anesthesia. General.")."""
    if hit.end >= len(words):
        return False
    if words[hit.end] in COLONS:
        return True
    return words[hit.end] == "." and (hit.start == 0 or words[hit.start - 1] in FINAL | {":"})


def _stands(words: Sequence[str], heading: Heading, predicates: Collection[str]) -> bool:
    """Whether the words are a heading and not the subject of a verb."""
    return heading.labelled or heading.entry.anywhere or heading.end >= len(words) or words[heading.end] not in predicates


def sections(
    bounds: Sequence[int],
    headings: Mapping[int, Heading],
    hits: Iterable[Hit],
    items: Collection[int] = frozenset(),
    asked: Collection[int] = frozenset(),
) -> Iterator[str]:
    """The part of the note ("" for none) that each statement stands under.

    ``bounds`` are the places where statements begin, and the end of the text; ``headings`` stand at some of them, and at some the
    ``items`` of the list under the last heading. What follows a statement that ends in a question, one of ``asked``, is its answer.
    """
    named = _kinds(hits)
    late = LATE * bounds[-1]
    under = last = _Under()
    for start, end in pairwise(bounds):
        head = headings.get(start)
        if head is not None:
            under = last = _Under(head.entry, head.labelled, awaiting=end - head.end <= 1 or end in asked)
        elif start in items:
            under = _Under(last.entry, last.lasting)
        elif under.awaiting:  # the heading was a sentence of its own: this is what it heads
            under = _Under(under.entry, under.lasting)
        elif under.entry is not None:
            under = _carried(under.entry, under.lasting and _names(under.entry, named, start, end), late=start > late)
        yield under.entry.section if under.entry else ""


def _carried(entry: Section, lasting: bool, *, late: bool) -> _Under:
    """A heading at the statement after it: one without a label holds for its own only."""
    if entry.brief or not (lasting or (entry.closing and late)):
        return _Under()
    return _Under(entry, lasting)


def _names(entry: Section, named: Mapping[str, Sequence[int]], start: int, end: int) -> bool:
    """Whether a statement names what keeps the heading up: the list of procedures ends where no action is named."""
    if not entry.while_named:
        return True
    places = named.get(entry.while_named, ())
    first = bisect_left(places, start)
    return first < len(places) and places[first] < end


def _kinds(hits: Iterable[Hit]) -> dict[str, list[int]]:
    """For each kind of term the places, in order, where one stands."""
    places: dict[str, list[int]] = {}
    for hit in hits:
        if hit.use == "term" and isinstance(hit.entry, Term):
            places.setdefault(hit.entry.kind, []).append(hit.start)
    return {kind: sorted(found) for kind, found in places.items()}
