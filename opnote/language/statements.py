"""Cuts a Doc into statements: by punctuation, speakers, paragraphs and headings; without punctuation by the words that open one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from opnote.language.phrases import Hit
from opnote.lexicon import Section

FINAL = frozenset({".", "?", "!", ";", "..."})
SPARSE = 40  # more words than this to a full stop: the speech is not punctuated
LONG = 35  # a punctuated stretch longer than this is cut at openers too
LATE = 0.6  # share of the talk after which a plan is the aftercare
GRADES = frozenset({"one", "two", "three", "1", "2", "3"})
UNITS = frozenset({"m", "mm", "cm", "centimeter", "centimetre", "centimeters", "centimetres", "millimeter", "millimetre", "inch"})
MEASURED = frozenset({"incision", "graft", "femoral", "tibial"})
SHORT = 3  # no statement shorter than this is cut off by an opener
DIAGNOSES = frozenset({"preop diagnosis", "postop diagnosis"})
BRIEF = frozenset({"header", "people", "anesthesia", "preop diagnosis", "postop diagnosis"})  # over with their statement
BINDING = frozenset(
    {
        "the",
        "a",
        "an",
        "of",
        "in",
        "on",
        "for",
        "to",
        "with",
        "at",
        "by",
        "from",
        "my",
        "his",
        "her",
        "this",
        "that",
        "through",
        "into",
        "over",
        "no",
        "and",
        "hinged",
        "or",
        "under",
        "total",
        "their",
        "its",
        "any",
        "one",
        "two",
        "left",
        "right",
        "new",
        "old",
        "thigh",
        "pneumatic",
        "not",
        "was",
        "is",
        "were",
        "as",
        "your",
    }
)
VERBS = frozenset(
    {"was", "were", "is", "are", "will", "has", "had", "went", "tolerated", "then", "and", "of", "in", "to", "with", "for", "who", "b", "c"}
)


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
    sections = {hit.start: hit for hit in _outermost([h for h in hits if h.use == "section"]) if _is_heading(words, hit)}
    starts = {0, *breaks} | {i + 1 for i, word in enumerate(words) if word in FINAL}
    flowing = _flows(words)
    headings: dict[int, Hit] = {}
    for start, hit in sections.items():
        if start in starts or _labelled(words, hit) or _section(hit) in DIAGNOSES or (flowing and not _bound(words, start)):
            headings.setdefault(start, hit)
    starts |= set(headings)
    starts |= _opened(words, hits, starts)
    bounds = sorted(s for s in starts if s < len(words))
    actions = [h.start for h in hits if h.use == "term" and getattr(h.entry, "kind", "") == "action"]
    statements: list[Statement] = []
    section, lasting, awaiting = "", False, False
    for index, (start, end) in enumerate(zip(bounds, [*bounds[1:], len(words)], strict=True)):
        head = headings.get(start)
        if section == "procedures" and head is None and not awaiting and not any(start <= place < end for place in actions):
            lasting = False
        if head is not None:
            section, lasting = _section(head), _labelled(words, head)
        elif not awaiting and (section in BRIEF or not (lasting or _stays(section, start, words))):
            section = ""
        awaiting = head is not None and end - head.end <= 1  # the heading is a sentence of its own: what it heads comes next
        statements.append(Statement(index, start, end, section, speakers[start] if speakers else None, head.end - start if head else 0))
    return tuple(statements)


def _stays(section: str, start: int, words: Sequence[str]) -> bool:
    """A heading without a colon holds for its own statement only; aftercare, said last, goes on to the end."""
    return section == "plan" and start > LATE * len(words)


def _flows(words: Sequence[str]) -> bool:
    """Whether the speech runs on without punctuation."""
    return len(words) > SPARSE * max(1, sum(word in FINAL for word in words))


def _outermost(hits: Sequence[Hit]) -> list[Hit]:
    """Hits that do not lie inside a longer one ("diagnosis" inside "postoperative diagnosis")."""
    return [h for h in hits if not any(o.start <= h.start and h.end <= o.end and o.end - o.start > h.end - h.start for o in hits)]


def _section(hit: Hit) -> str:
    return hit.entry.section if isinstance(hit.entry, Section) else ""


def _labelled(words: Sequence[str], hit: Hit) -> bool:
    """Whether a heading stands by itself: before a colon, or as a sentence of its own ("Anesthesia. General.")."""
    if hit.end >= len(words):
        return False
    alone = words[hit.end] == "." and (hit.start == 0 or words[hit.start - 1] in FINAL or words[hit.start - 1] == ":")
    return words[hit.end] in (":", "colon") or alone


def _is_heading(words: Sequence[str], hit: Hit) -> bool:
    """A heading is labelled with a colon, or begins a statement without being the subject of a verb."""
    if _labelled(words, hit) or _section(hit) in DIAGNOSES:
        return True
    return hit.end >= len(words) or words[hit.end] not in VERBS


def _bound(words: Sequence[str], start: int) -> bool:
    """Whether the word before holds on to what follows ("the tourniquet", "of the femur")."""
    graded = start > 1 and words[start - 1] == "a" and words[start - 2] in GRADES  # "Lachman one A, scope ..."
    measured = start > 0 and words[start - 1] in UNITS and words[start] in MEASURED  # "a five centimetre incision"
    return measured or (start > 0 and words[start - 1] in BINDING and not graded)


def _within(place: int, spans: Sequence[tuple[int, int]]) -> bool:
    return any(start < place < end for start, end in spans)


def _opened(words: Sequence[str], hits: Sequence[Hit], starts: set[int]) -> set[int]:
    """Where openers begin a statement: everywhere in unpunctuated speech, inside overlong stretches otherwise."""
    everywhere = _flows(words)
    terms = [(hit.start, hit.end) for hit in hits if hit.use == "term"]
    openers = sorted({h.start for h in hits if h.use == "opener" and not _bound(words, h.start) and not _within(h.start, terms)})
    bounds = sorted({*starts, len(words)})
    cut: set[int] = set()
    for left, right in pairwise(bounds):
        if not everywhere and right - left <= LONG:
            continue
        at = left
        for opener in openers:
            if left < opener < right and opener - at >= SHORT and right - opener >= SHORT:
                cut.add(opener)
                at = opener
    return cut
