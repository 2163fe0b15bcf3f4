"""Builds of sentences that speak of things in general, whatever their words: "staples back out", "some would put a second one in"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.language.clauses import MARKS
from opnote.language.grammar import ShapeWords

NO_PLURAL = ("ss", "us", "is")  # "meniscus", "gracilis", "less"


def shapes(words: Sequence[str], stretch: range, known: ShapeWords) -> Iterator[str]:
    """The names of the builds that a stretch has."""
    start = stretch.start
    while start < stretch.stop - 1 and words[start] in known.leads:
        start += 1
    inside = words[start : stretch.stop]
    if len(inside) < 3:
        return
    if _bare_plural(inside, known):
        yield "bare plural"
    if _some_people(inside, known):
        yield "some people"
    if _generic_you(inside, known):
        yield "generic you"
    if _own_habit(words[stretch.start : stretch.stop], known):
        yield "own habit"
    if _comparative(inside):
        yield "comparative"
    if "either" in inside[:-2] and "or" in inside[inside.index("either") :]:
        yield "either or"


def _bare_plural(inside: Sequence[str], known: ShapeWords) -> bool:
    """As in "staples back out", "old screws break": up to two words, the last a plural, and a verb of no time."""
    return any(
        word.endswith("s")
        and not word.endswith(NO_PLURAL)
        and len(word) > 3
        and word not in known.no_plurals
        and inside[place + 1] in known.bare
        and not (inside[place + 1] in known.go and known.ways.intersection(inside[place + 2 : place + 3]))
        for place, word in enumerate(inside[:2])
        if place + 1 < len(inside) and (place == 0 or (inside[0].isalpha() and inside[0] not in known.no_first))
    )


def _some_people(inside: Sequence[str], known: ShapeWords) -> bool:
    """As in "some would say", "most would go", "one keeps it at ninety", "not everybody puts it in"."""
    first = 1 if inside[0] == "not" else 0
    if inside[first] not in known.some or first + 1 >= len(inside):
        return False
    verb = inside[first + 1]
    return verb in known.some_does or (inside[first] not in known.singular and verb in known.some_do)


def _generic_you(inside: Sequence[str], known: ShapeWords) -> bool:
    """As in "you start low", "you never fix it"; not "you see", "can you hold", "if you pull"."""
    for place, word in enumerate(inside[:-1]):
        if word != "you" or (place and inside[place - 1] in known.before_you) or inside[-1] == "?":
            continue
        verb = inside[place + 1]
        if verb in known.passed and place + 2 < len(inside):
            verb = inside[place + 2]
        if verb in known.you_do and "me" not in inside[place + 2 : place + 3]:
            return True
    return False


def _own_habit(inside: Sequence[str], known: ShapeWords) -> bool:
    """As in "I put two in every footballer", "we fix ours at thirty"; not "I put two in every hole of this plate"."""
    for place, word in enumerate(inside[:-2]):
        if word in known.own and inside[place + 1] in known.own_do and (not place or inside[place - 1] not in known.before_you):
            after = inside[place + 2 :]
            return not known.any_of.isdisjoint(after) and known.this_one.isdisjoint(after)
    return False


def _comparative(inside: Sequence[str]) -> bool:
    """As in "the bigger the man the bigger the screw"."""
    places = [i for i, word in enumerate(inside[:-1]) if word == "the" and inside[i + 1].endswith(("er", "more", "less"))]
    return len(places) == 2 and places[0] == 0 and inside[places[1] - 1] not in MARKS | {"and", "of", "on", "to", "in"}
