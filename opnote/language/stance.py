"""Whether a speaker says that a thing was done: one stance for every word, from the cues of ``lexicons/stance``."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from opnote.language.phrases import Hit
from opnote.language.statements import Statement
from opnote.language.terms import Mention
from opnote.lexicon import StanceCue

STRENGTH = {"done": 0, "planned": 1, "option": 2, "rule": 3, "not done": 4, "question": 5, "elsewhere": 6, "ghost": 7}
CONTRAST = frozenset({"but", "so", "however", "although", "though", "yet", "then"})
CLAUSE = frozenset({",", ";", ":", "but", "so", "and", "then", "because", "which"})
LISTING = frozenset({"or", "nor", "and", ","})


@dataclass(frozen=True, slots=True)
class Stance:
    """What a word's speaker says of the thing, and the id of the cue that tells ("" for plain talk)."""

    name: str = "done"
    cue: str = ""


def stances(words: Sequence[str], statements: Iterable[Statement], hits: Sequence[Hit], mentions: Sequence[Mention]) -> tuple[Stance, ...]:
    """One stance a token; where several cues reach a token the strongest holds."""
    out = [Stance()] * len(words)
    cues = [hit for hit in hits if hit.use == "cue" and not _undone(hit, hits) and not _inside(hit, mentions)]
    for statement in statements:
        for hit in cues:
            if statement.start <= hit.start < statement.end and isinstance(hit.entry, StanceCue):
                for token in reach(words, statement, hit, hit.entry, hits, mentions):
                    if STRENGTH[hit.entry.stance] > STRENGTH[out[token].name]:
                        out[token] = Stance(hit.entry.stance, hit.entry.id)
    return tuple(out)


def _undone(cue: Hit, hits: Sequence[Hit]) -> bool:
    """Whether one of the cue's own `unless` phrases covers it."""
    return any(h.use == "cue-unless" and h.entry is cue.entry and h.start < cue.end and cue.start < h.end for h in hits)


def _inside(cue: Hit, mentions: Sequence[Mention]) -> bool:
    """Whether the cue's words are part of a longer term ("no end point")."""
    return any(m.start <= cue.start and cue.end <= m.end and m.end - m.start > cue.end - cue.start for m in mentions)


def reach(
    words: Sequence[str], statement: Statement, hit: Hit, cue: StanceCue, hits: Sequence[Hit], mentions: Sequence[Mention]
) -> range:
    """The tokens to which a cue speaks."""
    if cue.scope == "statement":
        return range(_back(words, hit.start, statement.start, CONTRAST), _ahead(words, hit.end, statement.end, CONTRAST))
    if cue.scope == "backward":
        joined = hit.start > statement.start and words[hit.start - 1] == "and"  # "was seen and was not taken": the subject stands before
        return range(_back(words, hit.start - 1 if joined else hit.start, statement.start, CLAUSE), hit.end)
    if cue.scope == "forward":
        ends = [h.start for h in hits if h.use == "cue-until" and h.entry is cue and hit.end <= h.start < statement.end]
        return range(hit.start, min([_ahead(words, hit.end, statement.end, frozenset({",", ";", "but", "so"})), *ends]))
    return range(hit.start, _listed(words, hit.end, statement.end, mentions))


def _back(words: Sequence[str], start: int, floor: int, stops: frozenset[str]) -> int:
    while start > floor and words[start - 1] not in stops:
        start -= 1
    return start


def _ahead(words: Sequence[str], end: int, ceiling: int, stops: frozenset[str]) -> int:
    while end < ceiling and words[end] not in stops:
        end += 1
    return end


def _listed(words: Sequence[str], end: int, ceiling: int, mentions: Sequence[Mention]) -> int:
    """The end of the nearest mention, and of those joined to it by "or" ("no drain, tape or staple")."""
    ahead = sorted({(m.start, m.end) for m in mentions if end <= m.start < min(ceiling, end + 4)})
    if not ahead:
        return min(ceiling, end + 2)
    reached = max(m_end for m_start, m_end in ahead if m_start == ahead[0][0])
    for start, stop in sorted({(m.start, m.end) for m in mentions if reached <= m.start < ceiling}):
        between = words[reached:start]
        if len(between) > 3 or not any(word in ("or", "nor") for word in between):
            break
        reached = stop
    return reached
