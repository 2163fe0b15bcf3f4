"""Cuts a Doc into statements: by punctuation, speakers, paragraphs and headings; without punctuation by the words that open one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from opnote.language.phrases import Hit
from opnote.lexicon import Section

FINAL = frozenset({".", "?", "!", ";", "..."})
SPARSE = 40  # more words than this to a full stop: the speech is not punctuated
LONG = 35  # a punctuated stretch longer than this is cut at openers too
SHORT = 3  # no statement shorter than this is cut off by an opener
DIAGNOSES = frozenset({"preop diagnosis", "postop diagnosis"})
BRIEF = frozenset({"header", "people", "anesthesia", "preop diagnosis", "postop diagnosis"})  # over with their statement
VERBS = frozenset({"was", "were", "is", "are", "will", "has", "had", "went", "tolerated", "then", "and", "of", "in", "to", "with", "for", "who"})


@dataclass(frozen=True, slots=True)
class Statement:
    """Tokens ``start`` to ``end``: one thing that one speaker says. ``section`` is the heading it stands under ("" for none)."""

    index: int
    start: int
    end: int
    section: str
    speaker: str | None = None
    heading: int = 0  # how many of its first tokens are the heading itself


def cut(words: Sequence[str], hits: Iterable[Hit], *, breaks: Iterable[int], speakers: Sequence[str | None]) -> tuple[Statement, ...]:
    """The statements of a text.

    ``breaks`` are tokens at which the source itself begins anew (speaker, paragraph); ``speakers`` has one label a token.
    """
    hits = list(hits)
    sections = {hit.start: hit for hit in hits if hit.use == "section" and _is_heading(words, hit)}
    starts = {0, *breaks} | {i + 1 for i, word in enumerate(words) if word in FINAL}
    headings: dict[int, Hit] = {}
    for start, hit in sections.items():
        if start in starts or _labelled(words, hit) or _section(hit) in DIAGNOSES:
            headings.setdefault(start, hit)
    starts |= set(headings)
    starts |= _opened(words, hits, starts)
    bounds = sorted(s for s in starts if s < len(words))
    statements: list[Statement] = []
    section = ""
    for index, (start, end) in enumerate(zip(bounds, [*bounds[1:], len(words)], strict=True)):
        hit = headings.get(start)
        if hit is not None:
            section = _section(hit)
        elif section in BRIEF:
            section = ""
        statements.append(Statement(index, start, end, section, speakers[start] if speakers else None, hit.end - start if hit else 0))
    return tuple(statements)


def _section(hit: Hit) -> str:
    return hit.entry.section if isinstance(hit.entry, Section) else ""


def _labelled(words: Sequence[str], hit: Hit) -> bool:
    return hit.end < len(words) and words[hit.end] in (":", "colon")


def _is_heading(words: Sequence[str], hit: Hit) -> bool:
    """A heading is labelled with a colon, or begins a statement without being the subject of a verb."""
    if _labelled(words, hit) or _section(hit) in DIAGNOSES:
        return True
    return hit.end >= len(words) or words[hit.end] not in VERBS


def _opened(words: Sequence[str], hits: Sequence[Hit], starts: set[int]) -> set[int]:
    """Where openers begin a statement: everywhere in unpunctuated speech, inside overlong stretches otherwise."""
    stops = sum(word in FINAL for word in words)
    everywhere = len(words) > SPARSE * max(1, stops)
    openers = sorted({hit.start for hit in hits if hit.use == "opener"})
    bounds = sorted({*starts, len(words)})
    cut: set[int] = set()
    for left, right in zip(bounds, bounds[1:], strict=False):
        if not everywhere and right - left <= LONG:
            continue
        at = left
        for opener in openers:
            if left < opener < right and opener - at >= SHORT and right - opener >= SHORT:
                cut.add(opener)
                at = opener
    return cut
