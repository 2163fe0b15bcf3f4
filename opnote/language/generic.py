"""What is said of things in general: "a ten is for giants", "most knees give you three millimetres"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.language.clauses import MARKS
from opnote.language.statements import Statement

LEADS = frozenset("and so but well now oh no yes , because you know i mean".split())
ANY = frozenset("a an any most some many few every each all".split())
TIMELESS = frozenset(
    "is are has means needs gives gets does wants makes costs takes will 'll buys works does deserves beats ruins saves".split()
)
# words of this knee
TOLD = frozenset("this that these here there now today we i my our he she him her his its it today's us me".split())
# words after the verb that tell of one thing: "a screw is in"
NOT_GENERAL = frozenset(
    "in on out up down through over open ready torn present visible evident seen noted flush going done put cut set made left gone there "
    "next fine back taken drawn driven run drilled given held found".split()
)
TITLES = frozenset({"doctor", "dr", "dr.", "mr", "mr.", "professor", "prof", "miss"})
HABITS = frozenset("does uses likes puts prefers takes swears leaves drills fixes thinks wants".split())
PARTED = frozenset("the it this that his her".split())
FAR = 8  # words of a subject


def general(words: Sequence[str], statements: Sequence[Statement]) -> Iterator[range]:
    """Tokens of statements whose subject is any thing of its kind, in a tense that is of no time."""
    for statement in statements:
        if _is_a_habit(words, statement):
            yield range(statement.start, statement.end)
            continue
        start = statement.start
        while start < statement.end - 1 and words[start] in LEADS:
            start += 1
        if words[start] in ANY and not _is_a_part(words, start) and not statement.section and _is_general(words, start, statement.end):
            yield range(statement.start, statement.end)


def _is_a_part(words: Sequence[str], start: int) -> bool:
    """As in "most of the meniscus": of one thing, not of all of a kind."""
    return start + 2 < len(words) and words[start + 1] == "of" and words[start + 2] in PARTED


def _is_general(words: Sequence[str], start: int, end: int) -> bool:
    verb = next((place for place in range(start + 1, min(end, start + FAR)) if words[place] in TIMELESS), None)
    if verb is None or any(word in MARKS for word in words[start:verb]) or words[end - 1] == "?":
        return False
    after = words[verb + 1 : verb + 4]
    told = any(word in TOLD for word in words[start:end])
    return not told and not any(word in NOT_GENERAL or word.endswith(("ed", "ing")) for word in after)


def _is_a_habit(words: Sequence[str], statement: Statement) -> bool:
    """As in "Doctor Lindqvist does a post behind hers": what somebody by name does."""
    titles = [place for place in range(statement.start, statement.end - 2) if words[place] in TITLES]
    return any(words[place] in HABITS for title in titles for place in range(title + 1, min(title + 4, statement.end)))
