"""What a speaker keeps out of the record: "grade three, I'd say. ... No, we are not writing that down." """

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.language.clauses import MARKS
from opnote.language.statements import Statement
from opnote.language.terms import Mention

FAR, WORDS = 5, 60  # statements and words before its own that a cue may take back


def struck(
    words: Sequence[str],
    statements: Sequence[Statement],
    own: Statement,
    span: tuple[int, int],
    mentions: Sequence[Mention],
    figures: frozenset[str],
) -> Iterator[range]:
    """The tokens that words which keep something out of the record (``span``) speak of.

    Where their statement names something before them ("Lachman positive we are not writing"), that much of it, and what was told before of
    the same thing. Else what was said last that holds a thing or a figure: of the other speaker only what is more than an echo or a
    question of what this speaker had said.
    """
    start, end = span
    earlier = [s for s in reversed(statements[max(0, own.index - FAR) : own.index]) if own.start - s.start <= WORDS]
    named = _named(mentions, own.start, own.end)
    if _holds(words, mentions, own.start, start, figures):
        yield range(own.start, end)
    else:
        yield range(start, end)
    if named:
        yield from (range(s.start, s.end) for s in earlier if named & _named(mentions, s.start, s.end))
        return
    if _holds(words, mentions, own.start, start, figures):
        return
    for place, statement in enumerate(earlier):
        if not _holds(words, mentions, statement.start, statement.end, figures):
            continue
        yield range(statement.start, statement.end)
        if statement.speaker == own.speaker or not _repeats(words, statement, earlier[place + 1 :], own.speaker):
            return


def _named(mentions: Sequence[Mention], start: int, end: int) -> frozenset[tuple[str, str]]:
    """The things that a stretch names."""
    return frozenset((m.kind, m.value) for m in mentions if start <= m.start < end)


def _holds(words: Sequence[str], mentions: Sequence[Mention], start: int, end: int, figures: frozenset[str]) -> bool:
    """Whether a stretch names a thing or a figure."""
    return any(start <= m.start < end for m in mentions) or any(word in figures or word[:1].isdigit() for word in words[start:end])


def _repeats(words: Sequence[str], statement: Statement, earlier: Sequence[Statement], speaker: str | None) -> bool:
    """Whether a statement only asks, or says again what the speaker before it had said."""
    if words[statement.end - 1] == "?":
        return True
    before = next((s for s in earlier if s.speaker == speaker), None)
    said = set(words[before.start : before.end]) if before else set()
    return all(word in said or word in MARKS for word in words[statement.start : statement.end])
