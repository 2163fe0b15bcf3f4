"""What is said of things in general: "a ten is for giants", "most knees give you three millimetres"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.language.clauses import MARKS
from opnote.language.grammar import GeneralWords
from opnote.language.statements import Statement

FAR = 8  # words of a subject


def general(words: Sequence[str], statements: Sequence[Statement], known: GeneralWords) -> Iterator[range]:
    """Tokens of statements whose subject is any thing of its kind, in a tense that is of no time."""
    for statement in statements:
        if _is_a_habit(words, statement, known):
            yield range(statement.start, statement.end)
            continue
        start = statement.start
        while start < statement.end - 1 and words[start] in known.leads:
            start += 1
        if words[start] not in known.any_kind or statement.section or _is_a_part(words, start, known):
            continue
        if _is_general(words, start, statement.end, known):
            yield range(statement.start, statement.end)


def _is_a_part(words: Sequence[str], start: int, known: GeneralWords) -> bool:
    """As in "most of the meniscus": of one thing, not of all of a kind."""
    return start + 2 < len(words) and words[start + 1] == "of" and words[start + 2] in known.parted


def _is_general(words: Sequence[str], start: int, end: int, known: GeneralWords) -> bool:
    verb = next((place for place in range(start + 1, min(end, start + FAR)) if words[place] in known.timeless), None)
    if verb is None or any(word in MARKS for word in words[start:verb]) or words[end - 1] == "?":
        return False
    after = words[verb + 1 : verb + 4]
    told = any(word in known.told for word in words[start:end])
    return not told and not any(word in known.not_general or word.endswith(("ed", "ing")) for word in after)


def _is_a_habit(words: Sequence[str], statement: Statement, known: GeneralWords) -> bool:
    """As in "Doctor Lindqvist does a post behind hers": what somebody by name does."""
    titles = [place for place in range(statement.start, statement.end - 2) if words[place] in known.titles]
    return any(words[place] in known.habits for title in titles for place in range(title + 1, min(title + 4, statement.end)))
