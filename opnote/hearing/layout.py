"""Spoken layout words ("comma", "new paragraph") become marks, in stretches of a dictation that speak their punctuation.

A single "period" says nothing: "for a period of two weeks", "leave it alone, full stop". A stretch in which such words come thick,
of several kinds, and stand in for the written marks, does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from opnote.hearing.edits import Change
from opnote.hearing.phrases import Hit, Phrases, company, guarded
from opnote.hearing.protected import LETTERS, is_number
from opnote.hearing.words import Word
from opnote.lexicon.models import Layout

# The figures are common practice: formal dictation speaks 8 to 15 marks in 100 words, talk says such a word once in a thousand.
_APART = 60
"""Two layout words further apart than this many words do not belong to one stretch."""
_RATE = 0.02
"""Layout words per word that a stretch must reach."""
_ENOUGH, _ENOUGH_OF_ONE_KIND = 3, 6
"""Layout words that a stretch must hold: of several kinds, or all of one kind."""

_WRITTEN = ",.;:?!"
_STRENGTH = ",:;.!?"  # of marks said in one breath ("comma new paragraph") the strongest is read


def layout(text: str, words: Sequence[Word], table: Phrases[Layout]) -> list[Change]:
    """The changes of all layout words that are meant as such, in order."""
    stretches = list(_stretches(table.each(words, lambda hit: _meant(words, hit))))
    spoken = [stretch for stretch in stretches if _speaks_punctuation(words, stretch)]
    if sum(stretch[-1].last - stretch[0].first for stretch in spoken) > len(words) / 2:
        spoken = stretches  # the whole dictation is of this kind, the thin parts too
    return [change for stretch in spoken for breath in _breaths(stretch) for change in _marks(text, words, breath)]


def _meant(words: Sequence[Word], hit: Hit[Layout]) -> bool:
    if not words[hit.first].apart or (hit.last < len(words) and not words[hit.last].apart):
        return False
    near = company(words, hit.first, hit.last)
    if guarded(near, not_before=hit.entry.not_before, not_after=hit.entry.not_after):
        return False
    return hit.entry.mark not in ("-", "\u2013") or not _in_identifier(near.before, near.after)


def _in_identifier(before: str, after: str) -> bool:
    """A dash between digits or spelled letters belongs to what is read out, and stays a word for the number grammar."""
    return any(not word or is_number(word) or len(word) == 1 or word in LETTERS for word in (before, after))


def _stretches(hits: Iterable[Hit[Layout]]) -> Iterator[list[Hit[Layout]]]:
    stretch: list[Hit[Layout]] = []
    for hit in hits:
        if stretch and hit.first - stretch[-1].last > _APART:
            yield stretch
            stretch = []
        stretch.append(hit)
    if stretch:
        yield stretch


def _speaks_punctuation(words: Sequence[Word], stretch: Sequence[Hit[Layout]]) -> bool:
    kinds = {hit.entry.id for hit in stretch}
    if len(stretch) < (_ENOUGH if len(kinds) > 1 else _ENOUGH_OF_ONE_KIND):
        return False
    first, last = stretch[0].first, stretch[-1].last
    if len(stretch) < _RATE * (last - first):
        return False
    beside = {index for hit in stretch for index in (hit.first, hit.last)}
    gaps = (words[index].gap.strip() for index in range(first, last) if index not in beside)
    written = sum(1 for gap in gaps if gap and gap in _WRITTEN)
    return written <= len(stretch)


def _breaths(stretch: Sequence[Hit[Layout]]) -> Iterator[list[Hit[Layout]]]:
    """Layout words said in one breath, with no word between: "period new paragraph"; a bracket stands alone."""
    breath: list[Hit[Layout]] = []
    for hit in stretch:
        alone = hit.entry.mark not in _STRENGTH or (breath and breath[-1].entry.mark not in _STRENGTH)
        if breath and (hit.first > breath[-1].last or alone):
            yield breath
            breath = []
        breath.append(hit)
    if breath:
        yield breath


def _marks(text: str, words: Sequence[Word], breath: Sequence[Hit[Layout]]) -> Iterator[Change]:
    """The first layout word of a breath is read as its strongest mark, the others as nothing; written marks beside them give way."""
    written = words[breath[0].first].gap.strip()
    mark = _strongest([hit.entry.mark for hit in breath], written)
    for position, hit in enumerate(breath):
        start, end = words[hit.first].start, words[hit.last - 1].end
        if position == 0 and hit.first and written and mark in _STRENGTH and set(written) <= set(_WRITTEN):
            start = words[hit.first - 1].end
        while end < len(text) and text[end] in _WRITTEN:
            end += 1
        yield Change(start, end, mark if position == 0 else "", "layout", hit.entry.id)


def _strongest(marks: Sequence[str], written: str) -> str:
    """A paragraph after a written question mark keeps the question mark; else the strongest of the spoken marks."""
    if len(marks) == 1 and marks[0] not in _STRENGTH:
        return marks[0]
    ends = [written] if written in ("?", "!") and "." in marks else []
    return max((*marks, *ends), key=lambda mark: (len(mark), _STRENGTH.find(mark)))
