"""The stance cues of a text that count, statement by statement, and how far each of them speaks."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from opnote.language.clauses import Clause, clause_at, clauses
from opnote.language.grammar import Grammar
from opnote.language.ground import Ground
from opnote.language.phrases import Hit
from opnote.language.reach import reach
from opnote.language.statements import Statement
from opnote.language.struck import struck
from opnote.language.terms import Mention
from opnote.lexicon import StanceCue


@dataclass(frozen=True, slots=True)
class Cued:
    """A cue, the index of its statement, the tokens it speaks of, and the tokens that would end what it opens."""

    cue: StanceCue
    statement: int
    tokens: range
    ends: frozenset[int]


def cued(
    words: Sequence[str],
    statements: Sequence[Statement],
    hits: Sequence[Hit],
    mentions: Sequence[Mention],
    grammar: Grammar,
    *,
    taken: frozenset[int],
) -> Iterator[Cued]:
    """Every cue that counts: none that its own `unless` covers, that lies in a longer term, or whose tokens are ``taken``."""
    until: dict[int, list[int]] = defaultdict(list)
    for hit in hits:
        if hit.use == "cue-until":
            until[id(hit.entry)].append(hit.start)
    found = _counting(hits, mentions, taken)
    at = seen = 0
    for statement in statements:
        first, first_mention = at, seen
        while at < len(found) and found[at][0].start < statement.end:
            at += 1
        while seen < len(mentions) and mentions[seen].start < statement.end:
            seen += 1
        if at > first:
            yield from _taken_back(words, statements, statement, found[first:at], mentions, grammar)
            yield from _in_statement(words, statement, found[first:at], mentions[first_mention:seen], until, grammar)


def _in_statement(
    words: Sequence[str],
    statement: Statement,
    own: Sequence[tuple[Hit, StanceCue]],
    mentions: Sequence[Mention],
    until: dict[int, list[int]],
    grammar: Grammar,
) -> Iterator[Cued]:
    asserted = tuple(hit.start for hit, cue in own if cue.stance == "done")
    parts = clauses(words, statement, grammar.clauses)
    ground = Ground(words, statement, parts, grammar, [(m.start, m.end) for m in mentions], asserted)
    for hit, cue in own:
        if cue.stance == "done" or cue.scope == "said" or (cue.stance == "not done" and _supposed(parts, own, hit.start, grammar)):
            continue
        places = until.get(id(cue), [])
        if cue.scope == "onward":
            ends = frozenset(places)
            yield Cued(cue, statement.index, reach(ground, cue.scope, hit.start, hit.end, ()), ends)
            continue
        near = places[bisect_left(places, hit.end) : bisect_left(places, statement.end)]
        tokens = reach(ground, cue.scope, hit.start, hit.end, near)
        if cue.stance != "not done" or not _as_a_rule(parts, own, hit.start, tokens, ground):
            yield Cued(cue, statement.index, tokens, frozenset())


def _supposed(parts: Sequence[Clause], own: Sequence[tuple[Hit, StanceCue]], place: int, grammar: Grammar) -> bool:
    """Whether a denial stands in a condition that some cue speaks of: "if you can't get a nine" denies nothing."""
    clause = parts[clause_at(parts, place)]
    conditional = clause.led_by in grammar.reach.conditions
    return conditional and any(cue.stance in ("option", "rule") and clause.start <= hit.start < place for hit, cue in own)


def _as_a_rule(parts: Sequence[Clause], own: Sequence[tuple[Hit, StanceCue]], place: int, tokens: range, ground: Ground) -> bool:
    """Whether a denial belongs to a rule of its own clause that holds all it denies: "you never go under eight" tells of no case."""
    clause = parts[clause_at(parts, place)]
    rules = [(hit, cue) for hit, cue in own if cue.stance == "rule" and cue.scope != "onward" and clause.start <= hit.start < clause.end]
    told = (reach(ground, cue.scope, hit.start, hit.end, ()) for hit, cue in rules)
    return any(rule.start <= tokens.start and tokens.stop <= rule.stop for rule in told)


def _taken_back(
    words: Sequence[str],
    statements: Sequence[Statement],
    statement: Statement,
    own: Sequence[tuple[Hit, StanceCue]],
    mentions: Sequence[Mention],
    grammar: Grammar,
) -> Iterator[Cued]:
    """What the cues of a statement take back of what was said."""
    for hit, cue in own:
        if cue.scope == "said":
            for tokens in struck(words, statements, statement, (hit.start, hit.end), mentions, grammar.questions.figures):
                yield Cued(cue, statement.index, tokens, frozenset())


def _counting(hits: Sequence[Hit], mentions: Sequence[Mention], taken: frozenset[int]) -> list[tuple[Hit, StanceCue]]:
    """The cues that count, in order."""
    excused: dict[int, set[int]] = defaultdict(set)
    for hit in hits:
        if hit.use == "cue-unless":
            excused[id(hit.entry)].update(range(hit.start, hit.end))
    ends: dict[int, int] = {}  # for each token in a term of several words, how far the term goes
    lengths: dict[int, int] = {}
    fates = {place for m in mentions if m.kind == "implant disposition" for place in range(m.start, m.end)}  # "opened, never used" is told
    for mention in mentions:
        for place in range(mention.start, mention.end) if mention.end - mention.start > 1 else ():
            ends[place] = max(ends.get(place, 0), mention.end)
            lengths[place] = max(lengths.get(place, 0), mention.end - mention.start)
    return [
        (hit, hit.entry)
        for hit in sorted((h for h in hits if h.use == "cue"), key=lambda h: (h.start, h.end))
        if isinstance(hit.entry, StanceCue)
        and hit.entry.stance != "question"
        and hit.start not in taken
        and fates.isdisjoint(range(hit.start, hit.end))
        and excused[id(hit.entry)].isdisjoint(range(hit.start, hit.end))
        and lengths.get(hit.start, 0) <= hit.end - hit.start
        and ends.get(hit.end - 1, 0) <= hit.end
    ]
