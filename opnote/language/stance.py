"""Whether a speaker says that a thing was done: one stance for every word, from the cues of ``lexicons/stance``.

Cues speak within their statement (``reach``); questions, stretches of other talk and a recogniser's ghosts go over several.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from opnote.language.asides import Opening, asides, headed, pointing_back
from opnote.language.cues import cued
from opnote.language.generic import general
from opnote.language.ghosts import ghosts
from opnote.language.grammar import Grammar
from opnote.language.hints import weighed
from opnote.language.phrases import Hit
from opnote.language.questions import answers, questions
from opnote.language.signs import Signs
from opnote.language.statements import Statement
from opnote.language.terms import Mention
from opnote.lexicon import Hint, StanceCue

STRENGTH = {"done": 0, "planned": 1, "option": 2, "rule": 3, "not done": 4, "question": 5, "elsewhere": 6, "ghost": 7}


@dataclass(frozen=True, slots=True)
class Stance:
    """What a word's speaker says of the thing, and the id of the cue that tells ("" for plain talk)."""

    name: str = "done"
    cue: str = ""


PLAIN = Stance()


@dataclass(frozen=True, slots=True)
class _Told:
    """Tokens and the stance that some cue gives them."""

    tokens: range
    stance: Stance


def stances(
    words: Sequence[str],
    statements: Sequence[Statement],
    hits: Sequence[Hit],
    mentions: Sequence[Mention],
    grammar: Grammar,
    *,
    taken: Iterable[tuple[int, int]] = (),
    hints: Sequence[Hint] = (),
) -> tuple[Stance, ...]:
    """One stance a token; where several cues reach a token the strongest holds. ``taken`` are spans that only correct something."""
    signs = Signs(hits, grammar.free)
    kept_out = frozenset(place for span in taken for place in range(*span))
    cues = list(cued(words, statements, hits, mentions, grammar, taken=kept_out))
    told = [_Told(range(s.start, s.end), Stance("planned", "aftercare")) for s in statements if s.section == "plan"]
    told += [_Told(c.tokens, Stance(c.cue.stance, c.cue.id)) for c in cues]
    told += [_Told(tokens, Stance("rule", "general")) for tokens in general(words, statements, grammar.general)]
    within = _strongest(len(words), told)
    told += _by_hints(words, statements, hits, hints, within, grammar)
    within = _strongest(len(words), told)
    doubted = frozenset(place for place, stance in enumerate(within) if stance.name not in ("done", "planned"))
    asked = questions(words, statements, hits, signs, doubted, grammar)
    told += [_Told(q.tokens, Stance("question", "asked")) for q in asked if not q.confirmed]
    told += [
        _Told(a.tokens, within[a.source]) for a in answers(words, statements, asked, signs) if within[a.source].name in ("rule", "option")
    ]
    opened = {c.statement: c for c in cues if c.cue.scope == "onward"}
    openings = {index: Opening(index, c.ends if c.cue.until else None, c.cue.stance) for index, c in opened.items()}
    for aside in asides(words, statements, openings, signs, grammar.asides):
        cue = opened[aside.statement].cue
        told.append(_Told(aside.tokens, Stance(cue.stance, cue.id)))
    away = {c.statement: c for c in cues if c.cue.stance == "elsewhere"}
    told_away = {index: c.tokens for index, c in away.items()}
    for aside in [*headed(words, statements, told_away, grammar), *pointing_back(words, statements, told_away, grammar)]:
        told.append(_Told(aside.tokens, Stance("elsewhere", away[aside.statement].cue.id)))
    told += [_Told(tokens, Stance("ghost", "ghost")) for tokens in ghosts(words, statements, grammar.figures)]
    return _strongest(len(words), told)


def _by_hints(
    words: Sequence[str],
    statements: Sequence[Statement],
    hits: Sequence[Hit],
    hints: Sequence[Hint],
    within: Sequence[Stance],
    grammar: Grammar,
) -> Iterator[_Told]:
    """What hints add up to, for the words of which no cue has told anything."""
    asserted = frozenset(h.start for h in hits if h.use == "cue" and isinstance(h.entry, StanceCue) and h.entry.stance == "done")
    for found in weighed(words, statements, hits, hints, asserted, grammar):
        stance = Stance(found.stance, found.account)
        yield from (_Told(range(place, place + 1), stance) for place in found.tokens if within[place] == PLAIN)


def _strongest(length: int, told: Iterable[_Told]) -> tuple[Stance, ...]:
    out = [PLAIN] * length
    for one in told:
        strength = STRENGTH[one.stance.name]
        for token in one.tokens:
            if strength > STRENGTH[out[token].name]:
                out[token] = one.stance
    return tuple(out)


@dataclass(frozen=True, slots=True)
class Label:
    """The stance of most words of a statement, the cue that tells, and the share of the words (0 to 1) that have this stance."""

    stance: str
    cue: str
    share: float


def labels(statements: Iterable[Statement], found: Sequence[Stance]) -> tuple[Label, ...]:
    """A label for each statement, for reports; of stances with as many words the stronger holds."""
    return tuple(_label(found[s.start : s.end]) for s in statements)


def _label(inside: Sequence[Stance]) -> Label:
    counts = Counter(stance.name for stance in inside)
    name = max(counts, key=lambda n: (counts[n], STRENGTH[n]))
    cue = next(stance.cue for stance in inside if stance.name == name)
    return Label(name, cue, counts[name] / len(inside))
