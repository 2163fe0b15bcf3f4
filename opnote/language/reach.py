"""How far the word of a cue reaches: over clauses that do not turn away from it, to the end of what it denies, to the nearest thing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from opnote.language.clauses import LISTING, MARKS, Clause, clause_at, has_verb
from opnote.language.grammar import Grammar
from opnote.language.statements import Statement

BACK = 3  # clauses before its own to which a cue speaks
WIDE = 40  # words to either side beyond which a cue says nothing of a thing, however long the statement
NARROW_BACK, NARROW = 10, 16  # the same in speech without marks, where many things share a statement
ENDS = frozenset({".", "?", "!", "..."})
TOLD = 20  # words before its statement that a cue may take back
UNMARKED = 14  # words to a mark from which on a statement is taken to have none
SHORTEST_IF = 3  # words of a condition: "if it slips"
CLOSING = 3  # words behind a condition that closes a stretch: "if he is sore"
NEAR = 5  # words between a cue and the nearest thing on its side


@dataclass(frozen=True)
class Ground:
    """A statement as reaches need it: its clauses, the spans of its things, and tokens at which a cue's words are said to be done."""

    words: Sequence[str]
    statement: Statement
    clauses: Sequence[Clause]
    grammar: Grammar
    things: Sequence[tuple[int, int]] = ()
    done: Sequence[int] = field(default=())

    @cached_property
    def unmarked(self) -> bool:
        """Whether the statement is long and without marks."""
        inside = self.words[self.statement.start : self.statement.end]
        return len(inside) > UNMARKED * (1 + sum(word in MARKS for word in inside))

    def verbal(self, start: int, end: int) -> bool:
        """Whether a stretch has a verb."""
        return has_verb(self.words, start, end, self.grammar.clauses.verbs)

    def asserted(self, clause: Clause) -> bool:
        """Whether a clause says of itself that it was done."""
        return any(clause.start <= place < clause.end for place in self.done)

    @cached_property
    def reported(self) -> bool:
        """Whether the statement begins with a deed and how it was done ("Tensioned at ninety, ...")."""
        known, end = self.grammar.reach, self.statement.end
        place = self.statement.start + self.statement.heading
        while place < end - 1 and self.words[place] in self.grammar.free:
            place += 1
        return place + 1 < end and self.words[place] in known.deeds and self.words[place + 1] in known.how

    def holds(self, start: int, end: int) -> bool:
        """Whether a stretch names a thing or a figure."""
        return any(start <= first < end for first, _ in self.things) or any(
            word in self.grammar.questions.figures or word[:1].isdigit() for word in self.words[start:end]
        )


def reach(ground: Ground, scope: str, start: int, end: int, ends: Sequence[int]) -> range:
    """The tokens to which a cue (tokens ``start`` to ``end``) speaks; ``ends`` are tokens that end its word."""
    if scope in ("statement", "ahead", "onward"):
        kept = ground if scope != "onward" else replace(ground, done=())  # a story may say that things were done
        return _over_clauses(kept, start, end, back=0 if scope == "ahead" else BACK)
    if scope == "clause":
        clause = ground.clauses[clause_at(ground.clauses, start)]
        if ground.unmarked:
            return range(max(clause.start, start - NEAR), min(clause.end, end + 2 * NEAR))
        closing = ground.words[start] in ground.grammar.reach.conditions and clause.end - end <= 1
        return range(_piece_before(ground, clause.start, start) if closing else clause.start, clause.end)
    if scope == "backward":
        return range(_subject(ground, start, end), end)
    if scope == "before":
        return range(_before(ground), end)
    if scope == "forward":
        return range(start, min([_denied_end(ground, end), *(place for place in ends if place >= end)]))
    if scope == "previous":
        return range(_previous(ground, start), end)
    return range(start, _listed(ground, end))


def _before(ground: Ground) -> int:
    """Where the statement before begins, as far as marks tell."""
    floor = max(0, ground.statement.start - TOLD)
    place = ground.statement.start - 1
    while place > floor and ground.words[place - 1] not in ENDS:
        place -= 1
    return max(place, floor)


def _over_clauses(ground: Ground, start: int, end: int, *, back: int) -> range:
    """The clause of the cue and those around it, up to one that turns or that says of itself that it was done."""
    parts = ground.clauses
    own = first = last = clause_at(parts, start)
    conditional = parts[own].led_by in ground.grammar.reach.conditions
    closing = start > parts[own].start + 1 and ground.words[start] in ground.grammar.reach.conditions and parts[own].end - end <= CLOSING
    floor = own - (0 if closing or _speaks_ahead(ground, own) else min(back, 1) if conditional else back)
    if ground.reported and own > 0 and not ground.unmarked and ground.holds(parts[own].start, parts[own].end):
        floor = max(floor, 1)
    while first > max(0, floor) and not parts[first].turns and not ground.asserted(parts[first - 1]):
        first -= 1
    while last + 1 < len(parts) and not ground.asserted(parts[last + 1]):
        follows = conditional and last == own and parts[last + 1].led_by == "then" and not ground.unmarked  # "if it slips, then a staple"
        if parts[last + 1].turns and not follows:
            break
        last += 1
    low = parts[first].start
    if conditional and first == max(0, floor) < own:
        low = _piece_before(ground, parts[first].start, parts[own].start)
    elif conditional and first == own > max(0, floor) and not parts[own].turns:  # "I used a nine, a ten if it's soft": the deed stands
        low = _piece_before(ground, parts[own - 1].start, parts[own].start)
        low = parts[first].start if any(low <= place < parts[own].start for place in ground.done) else low
    if closing:
        low = _piece_before(ground, parts[own].start, start)
    behind, ahead = (NARROW_BACK, NARROW) if ground.unmarked else (WIDE, WIDE)
    return range(max(low, start - behind), min(parts[last].end, end + ahead))


def _speaks_ahead(ground: Ground, own: int) -> bool:
    """Whether a condition is of what follows alone: joined on ("and if she's stiff"), or set before a clause of its own behind a mark."""
    parts, known = ground.clauses, ground.grammar.reach
    clause = parts[own]
    if clause.led_by not in known.conditions:
        return False
    if ground.words[clause.start] in ("and", "but", "or"):
        return True
    if own == 0 or ground.unmarked or ground.words[clause.start - 1] not in MARKS:
        return False
    before = parts[own - 1]
    if not ground.verbal(before.start, before.end) or not known.modals.isdisjoint(ground.words[before.start : before.end]):
        return False
    inside = range(clause.start + SHORTEST_IF, clause.end)
    mark = next((place for place in inside if ground.words[place] in MARKS), ground.statement.end)
    subject = next((place for place in inside if place < mark and ground.words[place] in known.persons), None)
    begin = mark + 1 if subject is None else subject
    end = next((part.end for part in parts if part.end > begin), begin)
    joined = not ground.grammar.clauses.joining.isdisjoint(ground.words[begin : begin + 1])
    return ground.verbal(begin, end) and not joined and (subject is not None or ground.holds(begin, end))


def _piece_before(ground: Ground, floor: int, condition: int) -> int:
    """Where what a trailing "if it needs it" can be about begins: the last stretch between marks that names a thing.

    Without a verb and behind a mark of its own ("a staple, a post, if it slips") it can be about all of a list.
    """
    words = ground.words
    if words[condition - 1] in MARKS and not ground.verbal(floor, condition):
        return floor
    place = condition - 2
    while place > floor and not (_parted(words, place) and (ground.verbal(floor, condition) or ground.holds(place, condition))):
        place -= 1
    return max(place, floor)


def _parted(words: Sequence[str], place: int) -> bool:
    """Whether a stretch between marks begins at a token ("and" behind a mark belongs to it)."""
    return words[place - 1] in MARKS


def _subject(ground: Ground, start: int, end: int) -> int:
    """Where the clause of a backward cue begins; without a subject ("and was not taken") or with "it" it speaks of the one before."""
    index = clause_at(ground.clauses, start)
    clause = ground.clauses[index]
    bare = start - clause.start <= (1 if clause.led_by else 0)
    if (bare or "it" in ground.words[start:end]) and index > 0:
        index -= 1
        while (
            index > 0 and "it" in ground.words[ground.clauses[index].start : ground.clauses[index].end]
        ):  # "put one in, hated it, took it out"
            index -= 1
        return max(ground.clauses[index].start, start - (NARROW_BACK if ground.unmarked else WIDE))
    return max(_own_subject(ground, clause.start, start), start - (NARROW_BACK if ground.unmarked else WIDE))


def _own_subject(ground: Ground, first: int, start: int) -> int:
    """Past things that only stand before: in "grade one, and I'd say the block was not ..." the block is the subject, grade one is not."""
    words = ground.words
    pieces = [place for place in range(first + 1, start) if words[place - 1] in MARKS or words[place] == "and"]
    return next((place for place in reversed(pieces) if ground.verbal(place, start)), first)


def _denied_end(ground: Ground, end: int) -> int:
    """The end of what is denied ahead: over a list with "or", not into another clause."""
    words, known, ceiling = ground.words, ground.grammar.reach, min(ground.statement.end, end + (NARROW if ground.unmarked else WIDE))
    place = end
    while place < ceiling and words[place] not in known.stops:
        if words[place] in (",", "and") and not _list_goes_on(ground, place + 1, ceiling):
            break
        if words[place] in ("it", "them") and ground.verbal(end, place):
            return place + 1
        if place > end + 1 and words[place] in known.second_verbs:
            return _subject_of(words, place, end + 1, known.subjects)
        place += 1
    return place


def _subject_of(words: Sequence[str], verb: int, floor: int, subjects: frozenset[str]) -> int:
    """Where the subject of a new verb begins: at the nearest article or pronoun before it."""
    return next((place for place in range(verb - 1, max(floor, verb - 5), -1) if words[place] in subjects), verb)


def _list_goes_on(ground: Ground, start: int, ceiling: int) -> bool:
    """Whether the words after a comma or "and" are a further thing of a list and no clause."""
    words, stops = ground.words, ground.grammar.reach.stops
    stop = next((i for i in range(start, ceiling) if words[i] in stops), ceiling)
    ahead = range(start, min(stop, start + 10))
    joined = next((i for i in ahead if words[i] in LISTING), None)
    if joined is not None:
        return not ground.verbal(start, joined)
    return (
        words[start - 1] == "and"
        and not ground.verbal(start, min(ceiling, start + 6))
        and not any(w in MARKS for w in words[start : start + 3])
    )


def _listed(ground: Ground, end: int) -> int:
    """The end of the nearest thing ahead, and of those joined to it by commas and "or" ("no drain, tape or staple")."""
    words, listed, ceiling = ground.words, ground.grammar.reach.listed, ground.statement.end
    ahead = sorted(span for span in ground.things if end <= span[0] < min(ceiling, end + NEAR))
    if not ahead or any(word in MARKS for word in words[end : ahead[0][0]]):
        return next((i for i in range(end, min(ceiling, end + 2)) if words[i] in MARKS), min(ceiling, end + 2))
    reached = max(stop for start, stop in ahead if start == ahead[0][0])
    pending = reached
    for start, stop in sorted(span for span in ground.things if reached <= span[0] < ceiling):
        between = words[pending:start]
        if len(between) > 3 or not all(word in listed and word != "and" for word in between) or "no" in between:
            break
        pending = stop
        if any(word in LISTING for word in between):
            reached = stop
    return reached


def _previous(ground: Ground, start: int) -> int:
    """The start of the nearest thing before, and of those listed with it ("drains, specimens: none")."""
    floor = ground.statement.start
    behind = sorted(
        (span for span in ground.things if floor <= span[0] and span[1] <= start and start - span[1] <= NEAR), key=lambda s: (-s[1], s[0])
    )
    if not behind:
        return max(floor, start - 2)
    first = behind[0][0]
    for thing_start, thing_end in behind[1:]:
        if thing_end <= first and all(word in ground.grammar.reach.listed for word in ground.words[thing_end:first]):
            first = thing_start
    return first
