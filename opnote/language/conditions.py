"""What a condition is of: what follows ("if it slips we have a staple"), or the piece before that it closes ("a staple if it slips")."""

from __future__ import annotations

from opnote.language.clauses import MARKS, clause_at
from opnote.language.ground import Ground

SHORTEST = 3  # words of a condition: "if it slips"
CLOSING = 3  # words behind "if" where it closes a stretch: "if he is sore"


def closes(ground: Ground, start: int, end: int) -> bool:
    """Whether a conditional cue closes its clause: "a brace only if unstable"."""
    clause = ground.clauses[clause_at(ground.clauses, start)]
    return start > clause.start + 1 and ground.words[start] in ground.grammar.reach.conditions and clause.end - end <= CLOSING


def speaks_ahead(ground: Ground, own: int) -> bool:
    """Whether a condition is of what follows alone: joined on ("and if she's stiff"), or set before a clause of its own behind a mark."""
    parts, known = ground.clauses, ground.grammar.reach
    clause = parts[own]
    if clause.led_by not in known.conditions:
        return False
    if ground.words[clause.start] in ("and", "but", "or"):
        return True
    if own == 0 or ground.unmarked:
        return False
    before = parts[own - 1]
    if _is_joined_on(ground, clause.start):
        return ground.verbal(before.start, before.end) and known.modals.isdisjoint(ground.words[before.start : before.end])
    if ground.words[clause.start - 1] not in MARKS:
        return False
    if not ground.verbal(before.start, before.end) or not known.modals.isdisjoint(ground.words[before.start : before.end]):
        return False
    inside = range(clause.start + SHORTEST, clause.end)
    mark = next((place for place in inside if ground.words[place] in MARKS), ground.statement.end)
    subject = next((place for place in inside if place < mark and ground.words[place] in known.persons), None)
    begin = mark + 1 if subject is None else subject
    end = next((part.end for part in parts if part.end > begin), begin)
    joined = not ground.grammar.clauses.joining.isdisjoint(ground.words[begin : begin + 1])
    return ground.verbal(begin, end) and not joined and (subject is not None or ground.holds(begin, end))


def _is_joined_on(ground: Ground, start: int) -> bool:
    """Whether a mark and an "and" stand right before a condition ("I see her at six weeks, and if she's stiff ...")."""
    return ground.words[start - 1] in ("and", "but") and ground.words[start - 2] in MARKS


def piece_before(ground: Ground, floor: int, condition: int) -> int:
    """Where what a trailing "if it needs it" can be about begins: the last stretch between marks that names a thing.

    Without a verb and behind a mark of its own ("a staple, a post, if it slips") it can be about all of a list.
    """
    words = ground.words
    if words[condition - 1] in MARKS and not ground.verbal(floor, condition):
        return floor
    place = condition - 2
    while place > floor and not (words[place - 1] in MARKS and (ground.verbal(floor, condition) or ground.holds(place, condition))):
        place -= 1
    return max(place, floor)
