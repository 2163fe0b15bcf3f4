"""Clauses of a statement, found by marks, joining words and verbs: how far a cue can speak."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from opnote.language.statements import Statement

MARKS = frozenset({",", ";", ":", ".", "?", "!", "-", "--", "...", "\u2013", "\u2014"})
JOINING = frozenset(
    "and but so then because although though while whereas which who until yet however or nor as when where if unless".split()
)
CONTRAST = frozenset("but so however yet then instead therefore although though while whereas".split())
SUBORDINATE = frozenset("because although though while whereas which who when where if unless".split())
LISTING = frozenset({"or", "nor"})
VERBS = frozenset(
    "was were is are am be been being has have had did do does will would could can may might must should shall 's 're 'm 've "
    "'d 'll ca wo used went go goes going gone came come comes got get gets took take takes puts put held hold holds cut left "
    "found find felt feel gave give gives made make makes ran sat sits set sets drove let lets kept keep keeps said says saw "
    "see sees want wants need needs uses use broke stood stands bit bites tied lost sent brought bought thought knew know "
    "slid slides fits fit opens open reads read say fix fixes pull pulls leave leaves drill ream threw told drew shook spun "
    "rang wrote wore grew spoke chose rode rose tore sank caught taught bent hung led meant met paid slept spent struck swung "
    "won grows throws tells add adds keeps steps".split()
)


@dataclass(frozen=True, slots=True)
class Clause:
    """Tokens ``start`` to ``end``, led by what joins them to the clause before ("" for nothing)."""

    start: int
    end: int
    led_by: str

    @property
    def turns(self) -> bool:
        """Whether the clause turns away from what was said before it."""
        return self.led_by in CONTRAST


def has_verb(words: Sequence[str], start: int, end: int) -> bool:
    """Whether a stretch looks as if it had a finite verb or a participle that stands for one."""
    return any(word in VERBS or (len(word) > 4 and word.endswith("ed")) for word in words[start:end])


def clauses(words: Sequence[str], statement: Statement) -> tuple[Clause, ...]:
    """The clauses of a statement; a stretch without a verb belongs to the one before it, the first ones to the one after."""
    pieces = _pieces(words, statement)
    joined: list[Clause] = []
    for piece in pieces:
        verbal = has_verb(words, piece.start, piece.end)
        leading = joined and piece.led_by not in SUBORDINATE and not has_verb(words, joined[-1].start, joined[-1].end)
        if joined and (not verbal or leading):
            joined[-1] = Clause(joined[-1].start, piece.end, joined[-1].led_by)
        else:
            joined.append(piece)
    return tuple(joined)


def _pieces(words: Sequence[str], statement: Statement) -> list[Clause]:
    """The stretches between marks and joining words."""
    pieces: list[Clause] = []
    start, led_by = statement.start, ""
    for place in range(statement.start, statement.end):
        word = words[place]
        if word in JOINING and place > start:
            pieces.append(Clause(start, place, led_by))
            start, led_by = place, word
        elif word in JOINING:
            led_by = word if led_by in ("", "and") else led_by  # "and then", "but if": the first that turns holds
        elif word in MARKS:
            pieces.append(Clause(start, place + 1, led_by))
            start, led_by = place + 1, ""
    if start < statement.end:
        pieces.append(Clause(start, statement.end, led_by))
    return pieces


def clause_at(found: Sequence[Clause], place: int) -> int:
    """The index of the clause in which a token stands."""
    return next(i for i, clause in enumerate(found) if place < clause.end)
