"""Cuts a Doc into statements: by punctuation, speakers, paragraphs and headings; without punctuation by the words that open one."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from opnote.language.headings import FINAL, Heading, find_headings, sections
from opnote.language.lists import find_items
from opnote.language.phrases import Hit

SPARSE = 40  # more words than this to a full stop: the speech is not punctuated
LONG = 35  # a punctuated stretch longer than this is cut at openers too
SHORT = 3  # no statement shorter than this is cut off by an opener


@dataclass(frozen=True, slots=True)
class Statement:
    """Tokens ``start`` to ``end``: one thing that one speaker says. ``section`` is the heading it stands under ("" for none)."""

    index: int
    start: int
    end: int
    section: str
    speaker: str | None = None
    heading: int = 0  # how many of its first tokens are the heading itself


@dataclass(frozen=True)
class Joints:
    """The words of the lexicon that hold speech together where no statement may be cut."""

    binding: frozenset[str]
    predicates: frozenset[str]
    graded: frozenset[str]
    units: frozenset[str]
    measured: frozenset[str]
    tens: frozenset[str]

    @classmethod
    def of(cls, words: Mapping[str, frozenset[str]]) -> Joints:
        """The joints among the word sets of a lexicon."""
        return cls(words["binding"], words["predicates"], words["graded"], words["units-of-length"], words["measured"], words["tens"])


def cut(
    words: Sequence[str],
    hits: Sequence[Hit],
    joints: Joints,
    *,
    breaks: Iterable[int] = (),
    lines: Collection[int] = (),
    speakers: Sequence[str | None] = (),
) -> tuple[Statement, ...]:
    """The statements of a text, which tile its tokens.

    "Anesthesia: general. The knee was examined." is two statements, the first of them under the heading "anesthesia".
    ``words`` are the tokens in lower case, ``breaks`` tokens at which the source itself begins anew (speaker, paragraph), ``lines``
    those at which a line of it may begin a new item of a list; ``speakers`` has one label a token, or none at all.
    """
    flowing = flows(words)
    broken = {0, *breaks}
    stopped = {place + 1 for place, word in enumerate(words) if word in FINAL}
    found = find_headings(words, hits, joints.predicates, broken.union(lines))
    items = find_items(words, found, broken, stopped, lines)
    starts = broken | stopped - {stop + 1 for stop in items.stops} | items.starts
    headings = {h.start: h for h in found if h.start in starts or _opens(words, h, joints, flowing=flowing)}
    starts |= set(headings)
    starts |= set(_opened(words, hits, starts, joints, flowing=flowing))
    asked = {place + 1 for place, word in enumerate(words) if word == "?"}
    bounds = [*sorted(start for start in starts if start < len(words)), len(words)]
    named = sections(bounds, headings, hits, items.starts, asked)
    return tuple(
        Statement(
            index, start, end, section, speakers[start] if speakers else None, headings[start].end - start if start in headings else 0
        )
        for index, ((start, end), section) in enumerate(zip(pairwise(bounds), named, strict=True))
    )


def _opens(words: Sequence[str], heading: Heading, joints: Joints, *, flowing: bool) -> bool:
    """Whether a heading begins a statement of its own accord, in the middle of a sentence."""
    if not heading.labelled and _ends_a_sentence(words, heading) and _bound(words, heading.start, joints):
        return False
    return heading.labelled or heading.entry.anywhere or (flowing and not _bound(words, heading.start, joints))


def _ends_a_sentence(words: Sequence[str], heading: Heading) -> bool:
    """As in "so that's the diagnosis."; "The diagnosis." is a heading all the same."""
    opens = heading.start < 2 or words[heading.start - 2] in FINAL
    return not opens and heading.end < len(words) and words[heading.end] == "."


def flows(words: Sequence[str]) -> bool:
    """Whether the speech runs on without punctuation.

    >>> flows("we reamed to nine .".split()), flows("and then we reamed to nine".split() * 10)
    (False, True)
    """
    return len(words) > SPARSE * max(1, sum(word in FINAL for word in words))


def _bound(words: Sequence[str], start: int, joints: Joints) -> bool:
    """Whether the word before holds on to what follows ("the tourniquet", "of the femur", "a five centimetre incision")."""
    if start == 0:
        return False
    before = words[start - 1]
    if before in joints.units and words[start] in joints.measured:
        return True
    graded = start > 1 and before == "a" and words[start - 2] in joints.graded  # "Lachman one A, scope ..."
    counted = start > 1 and before in joints.graded and words[start - 2] in joints.tens  # "up at seven forty one, EUA ..."
    return before in joints.binding and not (graded or counted)


def _opened(words: Sequence[str], hits: Iterable[Hit], starts: Collection[int], joints: Joints, *, flowing: bool) -> Iterator[int]:
    """Where openers begin a statement: everywhere in flowing speech, inside overlong stretches otherwise."""
    openers = _openers(words, hits, joints)
    for left, right in pairwise(sorted({*starts, len(words)})):
        if not flowing and right - left <= LONG:
            continue
        at = left
        for opener in openers[bisect_right(openers, left) : bisect_left(openers, right)]:
            if opener - at >= SHORT and right - opener >= SHORT:
                yield opener
                at = opener


def _openers(words: Sequence[str], hits: Iterable[Hit], joints: Joints) -> list[int]:
    """The places of openers that no word before binds and that do not stand inside a term."""
    places: set[int] = set()
    inside: set[int] = set()
    for hit in hits:
        if hit.use == "opener":
            places.add(hit.start)
        elif hit.use == "term":
            inside.update(range(hit.start + 1, hit.end))
    return sorted(place for place in places - inside if not _bound(words, place, joints))
