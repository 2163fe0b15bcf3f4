"""Clauses of a statement, found by marks, joining words and verbs: how far a cue can speak."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from opnote.language.grammar import ClauseWords
from opnote.language.statements import Statement

MARKS = frozenset({",", ";", ":", ".", "?", "!", "-", "--", "...", "\u2013", "\u2014"})
LISTING = frozenset({"or", "nor"})


@dataclass(frozen=True, slots=True)
class Clause:
    """Tokens ``start`` to ``end``, led by what joins them to the clause before ("" for nothing); it may turn away from that one."""

    start: int
    end: int
    led_by: str
    turns: bool


def has_verb(words: Sequence[str], start: int, end: int, verbs: frozenset[str]) -> bool:
    """Whether a stretch looks as if it had a finite verb or a participle that stands for one."""
    return any(word in verbs or (len(word) > 4 and word.endswith("ed")) for word in words[start:end])


def clauses(words: Sequence[str], statement: Statement, known: ClauseWords) -> tuple[Clause, ...]:
    """The clauses of a statement; a stretch without a verb belongs to the one before it, the first ones to the one after."""
    verbs = known.verbs
    joined: list[Clause] = []
    for piece in _pieces(words, statement, known):
        verbal = has_verb(words, piece.start, piece.end, verbs) or _has_subject(words, piece, known)
        leading = joined and piece.led_by not in known.subordinate and not has_verb(words, joined[-1].start, joined[-1].end, verbs)
        if joined and (not verbal or leading):
            first = joined[-1]
            joined[-1] = Clause(first.start, piece.end, first.led_by, first.turns)
        else:
            joined.append(piece)
    return tuple(joined)


def _has_subject(words: Sequence[str], piece: Clause, known: ClauseWords) -> bool:
    """Whether a subordinate stretch has a subject behind what leads it: its verb may be any word ("if it blows out")."""
    return piece.led_by in known.subordinate and any(
        words[place] in known.subordinate and words[place + 1] in known.subjects for place in range(piece.start, piece.end - 2)
    )


def _pieces(words: Sequence[str], statement: Statement, known: ClauseWords) -> list[Clause]:
    """The stretches between marks and joining words."""
    pieces: list[Clause] = []
    joining, contrast = known.joining, known.contrast
    start, led_by = statement.start, ""
    for place in range(statement.start, statement.end):
        word = words[place]
        if word in known.behind_marks and place > start and words[place - 1] not in {"and", *MARKS}:
            continue  # "it might yet come to a staple"
        if word in joining and place > start:
            pieces.append(Clause(start, place, led_by, led_by in contrast))
            start, led_by = place, word
        elif word in joining:
            led_by = word if led_by in ("", "and") else led_by  # "and then", "but if": the first that turns holds
        elif word in MARKS:
            pieces.append(Clause(start, place + 1, led_by, led_by in contrast))
            start, led_by = place + 1, ""
    if start < statement.end:
        pieces.append(Clause(start, statement.end, led_by, led_by in contrast))
    return pieces


def clause_at(found: Sequence[Clause], place: int) -> int:
    """The index of the clause in which a token stands."""
    return next(i for i, clause in enumerate(found) if place < clause.end)
