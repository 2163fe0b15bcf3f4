"""Words that recognisers print for the trade's terms are read as meant, where their company tells; else they become a doubt."""

from __future__ import annotations

from collections.abc import Sequence

from opnote.hearing.edits import Change, Doubt, cased
from opnote.hearing.phrases import Hit, Phrases, company
from opnote.hearing.protected import is_number
from opnote.hearing.words import Word, words_of
from opnote.lexicon.models import Mishearing


def mishearings(text: str, words: Sequence[Word], table: Phrases[Mishearing]) -> tuple[list[Change], list[Doubt]]:
    """The repairs and the doubts, in order of place and not overlapping."""
    changes: list[Change] = []
    doubts: list[Doubt] = []
    index = 0
    while index < len(words):
        hit, verdict = _first(text, words, index, table)
        if hit and verdict == "replace":
            changes.append(_repair(text, words, hit))
        elif hit:
            doubts.append(_doubt(text, words, hit))
        index = hit.last if hit else index + 1
    return changes, doubts


def _first(text: str, words: Sequence[Word], index: int, table: Phrases[Mishearing]) -> tuple[Hit[Mishearing] | None, str]:
    for hit in table.at(words, index):
        verdict = _verdict(words, hit)
        start, end = _span(words, hit)
        if verdict != "leave" and text[start:end] != hit.entry.meant:
            return hit, verdict
    return None, "leave"


def _verdict(words: Sequence[Word], hit: Hit[Mishearing]) -> str:
    entry = hit.entry
    near = company(words, hit.first, hit.last)
    if near.holds(entry.never_near) or _makes_another_number(entry, near.before[-1:], near.after[:1]):
        return "leave"
    return "replace" if near.holds(entry.only_near) else entry.otherwise


def _makes_another_number(entry: Mishearing, before: tuple[str, ...], after: tuple[str, ...]) -> bool:
    """A word that would be read as a number never joins a number beside it: "twenty to" is not made "twenty two"."""
    meant = [word.low for word in words_of(entry.meant)]
    starts, ends = bool(meant) and is_number(meant[0]), bool(meant) and is_number(meant[-1])
    return (starts and any(map(is_number, before))) or (ends and any(map(is_number, after)))


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
