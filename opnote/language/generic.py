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
NOT_GENERAL = frozenset(  # words after the verb that tell of one thing: "a screw is in"
    "in on out up down through over open ready torn present visible evident seen noted flush going done put cut set made left gone there next "
    "fine back taken drawn driven run drilled given held found".split()
)
FAR = 8  # words of a subject


def general(words: Sequence[str], statements: Sequence[Statement]) -> Iterator[range]:
    """Tokens of statements whose subject is any thing of its kind, in a tense that is of no time."""
    for statement in statements:
        start = statement.start
        while start < statement.end - 1 and words[start] in LEADS:
            start += 1
        if words[start] in ANY and not statement.section and _is_general(words, start, statement.end):
            yield range(statement.start, statement.end)


def _is_general(words: Sequence[str], start: int, end: int) -> bool:
    verb = next((place for place in range(start + 1, min(end, start + FAR)) if words[place] in TIMELESS), None)
    if verb is None or any(word in MARKS for word in words[start:verb]) or words[end - 1] == "?":
        return False
    after = words[verb + 1 : verb + 4]
    told = any(word in TOLD for word in words[start:end])
    return not told and not any(word in NOT_GENERAL or word.endswith(("ed", "ing")) for word in after)
