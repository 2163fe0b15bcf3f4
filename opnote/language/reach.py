"""How far the word of a cue reaches: over clauses that do not turn away from it, to the end of what it denies, to the nearest thing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.language.clauses import LISTING, MARKS, clause_at
from opnote.language.conditions import closes, piece_before, speaks_ahead
from opnote.language.ground import Ground

BACK = 3  # clauses before its own to which a cue speaks
WIDE = 40  # words to either side beyond which a cue says nothing of a thing, however long the statement
NARROW_BACK, NARROW = 10, 16  # the same in speech without marks, where many things share a statement
ENDS = frozenset({".", "?", "!", "..."})
TOLD = 20  # words before its statement that a cue may take back
FRONT = 4  # words between the subject of a denial and its "not"
NEAR = 5  # words between a cue and the nearest thing on its side


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
        return range(piece_before(ground, clause.start, start) if closing else clause.start, clause.end)
    if scope == "backward":
        return range(_subject(ground, start, end), end)
    if scope == "before":
        return range(_before(ground), end)
    if scope == "forward":
        stop = min([_denied_end(ground, end), *(place for place in ends if place >= end)])
        return range(_fronted(ground, start), stop)
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
    own = last = clause_at(parts, start)
    conditional = parts[own].led_by in ground.grammar.reach.conditions
    while last + 1 < len(parts) and not ground.asserted(parts[last + 1]):
        follows = conditional and last == own and parts[last + 1].led_by == "then" and not ground.unmarked  # "if it slips, then a staple"
        if parts[last + 1].turns and not follows:
            break
        last += 1
    behind, ahead = (NARROW_BACK, NARROW) if ground.unmarked else (WIDE, WIDE)
    return range(max(_low(ground, own, start, end, back), start - behind), min(parts[last].end, end + ahead))


def _low(ground: Ground, own: int, start: int, end: int, back: int) -> int:
    """Where that of which a cue in clause ``own`` speaks begins, at most ``back`` clauses before it."""
    parts = ground.clauses
    if closes(ground, start, end):
        return piece_before(ground, parts[own].start, start)
    conditional = parts[own].led_by in ground.grammar.reach.conditions
    floor = max(0, own - (0 if speaks_ahead(ground, own) else min(back, 1) if conditional else back))
    if own > 0 and ground.reported and not ground.unmarked:  # "tensioned at ninety, as I do", "..., the paper says eighty": the deed stands
        apart = parts[own].led_by == "as" or ground.holds(parts[own].start, parts[own].end)
        floor = max(floor, 1) if apart else floor
    first = own
    while first > floor and not parts[first].turns and not ground.asserted(parts[first - 1]) and not speaks_ahead(ground, first):
        first -= 1
    if not conditional or parts[own].turns or floor == own:
        return parts[first].start
    piece = piece_before(ground, parts[own - 1].start, parts[own].start)
    deed = any(piece <= place < parts[own].start for place in ground.done)  # "I used a nine, a ten if it's soft": the deed stands
    return parts[own].start if deed else piece


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


def _fronted(ground: Ground, start: int) -> int:
    """Where what a forward cue speaks of begins: at a thing that is named before its own subject ("the gracilis we did not harvest")."""
    words, known = ground.words, ground.grammar.reach
    clause = ground.clauses[clause_at(ground.clauses, start)]
    first = clause.start
    while first < start and (words[first] in ground.grammar.free or words[first] == clause.led_by) and words[first] not in known.subjects:
        first += 1
    subject = next((place for place in range(start - 1, first, -1) if words[place] in known.persons), first)
    if subject == first or clause.led_by in known.conditions or words[first] not in known.subjects or start - subject > FRONT:
        return start
    named = any(first <= thing and end <= subject for thing, end in ground.things)
    plain = not ground.verbal(first, subject) and not any(word in MARKS for word in words[first:start])
    return first if named and plain else start


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
        if place > end + 1 and words[place] in known.second_verbs and words[place - 1] != "to":  # "the heart to put": no second verb
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
    if not ahead or not (MARKS | ground.grammar.reach.stops).isdisjoint(words[end : ahead[0][0]]):  # "no grip so a staple"
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
