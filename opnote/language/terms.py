"""Terms of the trade in a Doc: which words stand for which value of which vocabulary."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from opnote.language.phrases import HYPHEN, Hit
from opnote.lexicon import Term

PLACING = frozenset({"opens", "phase", "bone", "implant disposition"})  # tell of the terms in them and leave them alone: "tibial tunnel"
ALSO_INSIDE = "diagnosis noun"  # names its diagnosis inside a longer term too ("complex tear")


@dataclass(frozen=True, slots=True)
class Mention:
    """A term in a Doc: tokens ``start`` to ``end``, its vocabulary ``kind`` and the ``value`` it stands for there."""

    start: int
    end: int
    kind: str
    value: str
    term: str


def find_terms(words: Sequence[str], hits: Iterable[Hit]) -> tuple[Mention, ...]:
    """The mentions among ``hits`` whose context allows them, in order; what lies inside a longer one is left out.

    "medial collateral ligament" is one structure and not the side "medial"; ``words`` are the tokens in lower case.
    """
    found = {
        Mention(hit.start, hit.end, hit.entry.kind, hit.entry.value, hit.entry.id)
        for hit in hits
        if hit.use == "term" and isinstance(hit.entry, Term) and fits(hit.entry, words, hit.start, hit.end)
    }
    return tuple(_outermost(sorted(found, key=lambda m: (m.start, -m.end, m.kind, m.value, m.term))))


def fits(term: Term, words: Sequence[str], start: int, end: int) -> bool:
    """Whether the words around a term let it mean what the entry says."""
    if _stands_before(term.not_after, words, start) or _stands_after(term.not_before, words, end):
        return False
    if term.only_after and not _stands_before(term.only_after, words, start):
        return False
    if term.only_before and not _stands_after(term.only_before, words, end):
        return False
    around = {*words[max(0, start - term.within) : start], *words[end : end + term.within]}
    return not term.near or not around.isdisjoint(term.near)


def _stands_before(phrases: Iterable[str], words: Sequence[str], start: int) -> bool:
    """Whether one of the phrases ends where the term starts; a hyphen between counts for nothing."""
    said = (phrase.lower().split() for phrase in phrases)
    return any(_unhyphenated(words[max(0, start - 2 * len(phrase)) : start])[-len(phrase) :] == phrase for phrase in said)


def _stands_after(phrases: Iterable[str], words: Sequence[str], end: int) -> bool:
    """Whether one of the phrases starts where the term ends; a hyphen between counts for nothing."""
    said = (phrase.lower().split() for phrase in phrases)
    return any(_unhyphenated(words[end : end + 2 * len(phrase)])[: len(phrase)] == phrase for phrase in said)


def _unhyphenated(words: Sequence[str]) -> list[str]:
    return [word for word in words if word != HYPHEN]


def _outermost(mentions: Iterable[Mention]) -> Iterator[Mention]:
    """Leaves out what lies inside a longer mention; ``mentions`` come by their start, longer ones first."""
    around: list[Mention] = []
    for mention in mentions:
        around = [other for other in around if other.end > mention.start]
        if mention.kind == ALSO_INSIDE or not any(_holds(other, mention) for other in around):
            around.append(mention)
            yield mention


def _holds(other: Mention, mention: Mention) -> bool:
    """Whether a mention that starts no later takes another one up; a phrase that places things does so only with its own kind."""
    longer = other.end - other.start > mention.end - mention.start
    return longer and mention.end <= other.end and (other.kind not in PLACING or other.kind == mention.kind)
