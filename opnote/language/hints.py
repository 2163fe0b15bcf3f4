"""Hints that add up: where no cue speaks, small signs together tell that a stretch is of something not done here.

A cue decides alone. A hint has a weight; the hints of a stretch are summed for each stance, and what speaks for a thing done is taken
off. From ``ENOUGH`` on the stretch has the stance with the largest sum. The account ("hints: group 2, they-would 1") says why.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from opnote.language.clauses import MARKS, Clause, clauses
from opnote.language.grammar import Grammar
from opnote.language.phrases import Hit
from opnote.language.shapes import shapes
from opnote.language.statements import Statement
from opnote.lexicon import Hint

DENIED = "not done"
ENOUGH = 3
FEW = 14  # words to a mark from which on a stretch has none, and every clause speaks for itself


@dataclass(frozen=True, slots=True)
class Weighed:
    """Tokens, the stance that their hints add up to, and the account of it."""

    tokens: range
    stance: str
    account: str


def weighed(
    words: Sequence[str],
    statements: Sequence[Statement],
    hits: Sequence[Hit],
    hints: Sequence[Hint],
    asserted: frozenset[int],
    grammar: Grammar,
) -> Iterator[Weighed]:
    """Every stretch whose hints are enough. ``asserted`` are tokens at which a cue says that something was done."""
    shaped = {hint.shape: hint for hint in hints if hint.shape}
    placed = _placed(hits)
    for statement in statements:
        parts = clauses(words, statement, grammar.clauses)
        wide = stretches(words, statement, parts, asserted)
        for stretch in wide:
            counted = [h for h in _counted(words, stretch, placed, grammar.free) if h.stance != DENIED]
            counted += [shaped[name] for name in shapes(words, stretch, grammar.shapes) if name in shaped]
            yield from _sum(stretch, counted)
        for stretch in (range(part.start, part.end) for part in parts):  # a denial speaks of its own clause alone
            yield from _sum(stretch, [h for h in _counted(words, stretch, placed, grammar.free) if h.stance in (DENIED, "done")])


def heard(
    words: Sequence[str], statements: Sequence[Statement], hits: Sequence[Hit], hints: Sequence[Hint], grammar: Grammar
) -> frozenset[str]:
    """The ids of the hints that count anywhere in a text, whatever they add up to."""
    shaped = {hint.shape: hint.id for hint in hints if hint.shape}
    placed = _placed(hits)
    out: set[str] = set()
    for statement in statements:
        for stretch in stretches(words, statement, clauses(words, statement, grammar.clauses), frozenset()):
            out.update(hint.id for hint in _counted(words, stretch, placed, grammar.free))
            out.update(shaped[name] for name in shapes(words, stretch, grammar.shapes) if name in shaped)
    return frozenset(out)


def _counted(words: Sequence[str], stretch: range, placed: Mapping[int, Sequence[tuple[Hint, int]]], free: frozenset[str]) -> list[Hint]:
    """The hints that stand in a stretch, each once, those that must begin it only there."""
    lead = _lead(words, stretch, free)
    found = [h for place in stretch for h, end in placed.get(place, ()) if end <= stretch.stop and (not h.first or place in lead)]
    return list({hint.id: hint for hint in found}.values())


def stretches(words: Sequence[str], statement: Statement, parts: Sequence[Clause], asserted: frozenset[int]) -> list[range]:
    """A statement in stretches that say one thing: cut where it turns and around clauses that say they were done."""
    marks = sum(word in MARKS for word in words[statement.start : statement.end])
    loose = statement.end - statement.start > FEW * (1 + marks)
    out: list[range] = []
    start, alone = statement.start, False
    for part in parts:
        own = any(place in asserted for place in range(part.start, part.end))
        if part.start > start and (loose or part.turns or own or alone):
            out.append(range(start, part.start))
            start = part.start
        alone = own
    return [*out, range(start, statement.end)]


def _placed(hits: Sequence[Hit]) -> dict[int, list[tuple[Hint, int]]]:
    """The hints that count, by the token they begin at, each with its end."""
    excused: dict[int, set[int]] = defaultdict(set)
    for hit in hits:
        if hit.use == "hint-unless":
            excused[id(hit.entry)].update(range(hit.start, hit.end))
    out: dict[int, list[tuple[Hint, int]]] = defaultdict(list)
    for hit in hits:
        if hit.use == "hint" and isinstance(hit.entry, Hint) and excused[id(hit.entry)].isdisjoint(range(hit.start, hit.end)):
            out[hit.start].append((hit.entry, hit.end))
    return out


def _lead(words: Sequence[str], stretch: range, free: frozenset[str]) -> Sequence[int]:
    """The tokens at which a stretch may be said to begin: the first, and those behind small words."""
    place = stretch.start
    while place < stretch.stop - 1 and (words[place] in free or words[place] in MARKS):
        place += 1
    return range(stretch.start, place + 1)


def _sum(stretch: range, counted: Sequence[Hint]) -> Iterator[Weighed]:
    """The stance to which hints add up, if they are enough."""
    sums: dict[str, int] = defaultdict(int)
    for hint in counted:
        sums[hint.stance] += hint.weight
    against = sums.pop("done", 0)
    best = max(sums, key=lambda name: sums[name], default="")
    if best and sum(sums.values()) - against >= ENOUGH:
        account = [f"{hint.id} {'-' if hint.stance == 'done' else ''}{hint.weight}" for hint in counted]
        yield Weighed(stretch, best, f"hints: {', '.join(account)}")
