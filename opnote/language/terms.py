"""Terms of the trade in a Doc: which words stand for which value of which vocabulary."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from opnote.language.phrases import Hit
from opnote.lexicon import Term

NEAR = 10  # words within which one of a term's `near` words must stand


@dataclass(frozen=True, slots=True)
class Mention:
    """A term in a Doc: tokens ``start`` to ``end``, its vocabulary ``kind`` and the ``value`` it stands for there."""

    start: int
    end: int
    kind: str
    value: str
    term: str


def find_terms(words: Sequence[str], hits: Iterable[Hit]) -> tuple[Mention, ...]:
    """The mentions among ``hits`` whose context allows them; of overlapping ones of a kind the longest, of any kind the outermost."""
    found = [
        Mention(hit.start, hit.end, hit.entry.kind, hit.entry.value, hit.entry.id)
        for hit in hits
        if hit.use == "term" and isinstance(hit.entry, Term) and fits(hit.entry, words, hit.start, hit.end)
    ]
    return tuple(_outermost(sorted(set(found), key=lambda m: (m.start, -m.end, m.kind, m.value, m.term))))


def fits(term: Term, words: Sequence[str], start: int, end: int) -> bool:
    """Whether the words around a term let it mean what the entry says."""
    if term.not_after and _one_before(term.not_after, words, start):
        return False
    if term.not_before and _one_after(term.not_before, words, end):
        return False
    if term.only_after and not _one_before(term.only_after, words, start):
        return False
    if term.only_before and not _one_after(term.only_before, words, end):
        return False
    around = [*words[max(0, start - NEAR) : start], *words[end : end + NEAR]]
    return not term.near or any(word in around for word in term.near)


def _one_before(phrases: Iterable[str], words: Sequence[str], start: int) -> bool:
    return any((w := p.lower().split()) and list(words[max(0, start - len(w)) : start]) == w for p in phrases)


def _one_after(phrases: Iterable[str], words: Sequence[str], end: int) -> bool:
    return any((w := p.lower().split()) and list(words[end : end + len(w)]) == w for p in phrases)


def _outermost(mentions: Sequence[Mention]) -> list[Mention]:
    """Drops what lies strictly inside a longer mention, unless the longer one is a phrase that only places or opens things."""
    kept: list[Mention] = []
    for mention in mentions:
        inside = any(
            other.start <= mention.start and mention.end <= other.end and other.end - other.start > mention.end - mention.start
            for other in kept
            if other.kind not in ("opens", "phase", "bone") or other.kind == mention.kind
        )  # fmt: skip
        if not inside or mention.kind == "diagnosis noun":  # a noun names its diagnosis also inside a longer term ("complex tear")
            kept.append(mention)
    return kept
