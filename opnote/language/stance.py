"""Whether a speaker says that a thing was done: one stance for every word, from the cues of ``lexicons/stance``.

Cues speak within their statement (``reach``); questions, stretches of other talk and a recogniser's ghosts go over several.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from opnote.language.asides import Opening, asides
from opnote.language.clauses import clauses
from opnote.language.ghosts import ghosts
from opnote.language.phrases import Hit
from opnote.language.questions import answers, questions
from opnote.language.reach import Ground, reach
from opnote.language.signs import Signs
from opnote.language.statements import Statement
from opnote.language.terms import Mention
from opnote.lexicon import StanceCue

STRENGTH = {"done": 0, "planned": 1, "option": 2, "rule": 3, "not done": 4, "question": 5, "elsewhere": 6, "ghost": 7}


@dataclass(frozen=True, slots=True)
class Stance:
    """What a word's speaker says of the thing, and the id of the cue that tells ("" for plain talk)."""

    name: str = "done"
    cue: str = ""


PLAIN = Stance()


@dataclass(frozen=True, slots=True)
class _Told:
    """Tokens and the stance that they have; ``cue`` is the hit that tells."""

    tokens: range
    stance: Stance


def stances(
    words: Sequence[str],
    statements: Sequence[Statement],
    hits: Sequence[Hit],
    mentions: Sequence[Mention],
    *,
    taken: Iterable[tuple[int, int]] = (),
) -> tuple[Stance, ...]:
    """One stance a token; where several cues reach a token the strongest holds. ``taken`` are spans that only correct something."""
    signs = Signs(hits)
    cues = _Cues(words, statements, hits, mentions, frozenset(place for span in taken for place in range(*span)))
    told = [_Told(range(s.start, s.end), Stance("planned", "aftercare")) for s in statements if s.section == "plan"]
    told += cues.told()
    within = _strongest(len(words), told)
    asked = questions(words, statements, hits, signs)
    told += [_Told(q.tokens, Stance("question", "asked")) for q in asked if not q.confirmed]
    told += [
        _Told(a.tokens, within[a.source]) for a in answers(words, statements, asked, signs) if within[a.source].name in ("rule", "option")
    ]
    openings = cues.openings()
    opened = {index: stance for index, (_, stance) in openings.items()}
    told += [_Told(a.tokens, opened[a.statement]) for a in asides(words, statements, {i: o for i, (o, _) in openings.items()}, signs)]
    told += [_Told(tokens, Stance("ghost", "ghost")) for tokens in ghosts(words, statements)]
    return _strongest(len(words), told)


def _strongest(length: int, told: Iterable[_Told]) -> tuple[Stance, ...]:
    out = [PLAIN] * length
    for one in told:
        strength = STRENGTH[one.stance.name]
        for token in one.tokens:
            if strength > STRENGTH[out[token].name]:
                out[token] = one.stance
    return tuple(out)


class _Cues:
    """The cues of a text that stand: none that its own `unless` covers, that lies in a longer term, or that only corrects."""

    def __init__(
        self, words: Sequence[str], statements: Sequence[Statement], hits: Sequence[Hit], mentions: Sequence[Mention], taken: frozenset[int]
    ) -> None:
        self._words, self._statements = words, statements
        self._unless = _by_entry(hits, "cue-unless")
        self._until = _by_entry(hits, "cue-until")
        self._mentions = mentions
        longer = [m for m in mentions if m.end - m.start > 1]
        inside = {place: m.end - m.start for m in sorted(longer, key=lambda m: m.end - m.start) for place in range(m.start, m.end)}
        self._cues = [
            (h, h.entry)
            for h in sorted((h for h in hits if h.use == "cue"), key=lambda h: h.start)
            if isinstance(h.entry, StanceCue) and h.entry.stance != "question" and self._counts(h, inside, taken)
        ]

    def _counts(self, hit: Hit, inside: dict[int, int], taken: frozenset[int]) -> bool:
        if any(start < hit.end and hit.start < end for start, end in self._unless.get(id(hit.entry), ())):
            return False
        return hit.start not in taken and inside.get(hit.start, 0) <= hit.end - hit.start

    def told(self) -> Iterator[_Told]:
        """What each cue says of the words in its reach."""
        for statement, own, mentions in self._by_statement():
            if not own:
                continue
            things = [(m.start, m.end) for m in mentions]
            done = tuple(h.start for h, cue in own if cue.stance == "done")
            ground = Ground(self._words, statement, clauses(self._words, statement), things, done)
            for hit, cue in own:
                ends = [start for start, _ in self._until.get(id(cue), ()) if hit.end <= start < statement.end]
                if cue.stance != "done":
                    yield _Told(reach(ground, cue.scope, hit.start, hit.end, ends), Stance(cue.stance, cue.id))

    def openings(self) -> dict[int, tuple[Opening, Stance]]:
        """The statements that open talk about something else."""
        found: dict[int, tuple[Opening, Stance]] = {}
        for statement, own, _ in self._by_statement():
            for _, cue in own:
                if cue.scope == "onward":
                    ends = frozenset(start for start, _ in self._until.get(id(cue), ())) if cue.until else None
                    found[statement.index] = (Opening(statement.index, ends, cue.stance), Stance(cue.stance, cue.id))
        return found

    def _by_statement(self) -> Iterator[tuple[Statement, list[tuple[Hit, StanceCue]], list[Mention]]]:
        at = seen = 0
        for statement in self._statements:
            first_cue, first_mention = at, seen
            while at < len(self._cues) and self._cues[at][0].start < statement.end:
                at += 1
            while seen < len(self._mentions) and self._mentions[seen].start < statement.end:
                seen += 1
            yield statement, self._cues[first_cue:at], list(self._mentions[first_mention:seen])


def _by_entry(hits: Sequence[Hit], use: str) -> dict[int, list[tuple[int, int]]]:
    """The spans of hits of one use, by their entry."""
    spans: dict[int, list[tuple[int, int]]] = {}
    for hit in hits:
        if hit.use == use:
            spans.setdefault(id(hit.entry), []).append((hit.start, hit.end))
    return spans
