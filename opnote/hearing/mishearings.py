"""Words that recognisers print for the trade's terms are read as meant, where their company tells; else they become a doubt."""

from __future__ import annotations

from collections.abc import Sequence

from opnote.hearing.edits import Change, Doubt, cased
from opnote.hearing.phrases import Hit, Phrases, company
from opnote.hearing.words import Word
from opnote.lexicon.models import Mishearing


def mishearings(text: str, words: Sequence[Word], table: Phrases[Mishearing]) -> tuple[list[Change], list[Doubt]]:
    """The repairs and the doubts, in order of place and not overlapping."""
    changes: list[Change] = []
    doubts: list[Doubt] = []
    for hit in table.each(words, lambda hit: _verdict(text, words, hit) != "leave"):
        if _verdict(text, words, hit) == "replace":
            changes.append(_repair(text, words, hit))
        else:
            doubts.append(_doubt(text, words, hit))
    return changes, doubts


def _verdict(text: str, words: Sequence[Word], hit: Hit[Mishearing]) -> str:
    start, end = _span(words, hit)
    near = company(words, hit.first, hit.last)
    if text[start:end] == hit.entry.meant or near.holds(hit.entry.never_near):
        return "leave"
    return "replace" if near.holds(hit.entry.only_near) else hit.entry.otherwise


def _span(words: Sequence[Word], hit: Hit[Mishearing]) -> tuple[int, int]:
    return words[hit.first].start, words[hit.last - 1].end


def _repair(text: str, words: Sequence[Word], hit: Hit[Mishearing]) -> Change:
    start, end = _span(words, hit)
    return Change(start, end, cased(text[start:end], hit.entry.meant), "repair", hit.entry.id, ask=hit.entry.flip)


def _doubt(text: str, words: Sequence[Word], hit: Hit[Mishearing]) -> Doubt:
    """Heard and meant weigh the same: nothing here tells which."""
    start, end = _span(words, hit)
    heard = text[start:end]
    return Doubt(start, end, ((heard, 0.5), (cased(heard, hit.entry.meant), 0.5)), hit.entry.id)
