"""Quantities that no words of their own tie to an attribute, told by the quantity beside them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from opnote.extract.cues import never_share
from opnote.extract.model import Candidate, Choice
from opnote.extract.scene import Scene
from opnote.extract.score import PAIR, range_score
from opnote.language.model import Quantity
from opnote.lexicon import AttributeEntry

DIAMETER, DEPTH, PLUG = ("tunnel", "diameter_mm"), ("tunnel", "depth_mm"), ("graft", "plug_mm")
CUT = ("incision", "length_mm")
IN_ITS_TUNNEL = 7  # words between a tunnel and the only number said of it
FOR_NOW = ("for", "now")
GRAFT_TALK = frozenset({"graft", "tissue", "strands"})  # what a talk of a graft brings up
STEP = 6  # words between two steps of reaming
NEXT_SIZE = 1.5  # times a size by which another of the same is larger at most
SIZED = ("graft", "tunnel", "incision")
COUNTED = 3  # numbers one behind the other that are a count
BESIDE = 4  # words between a diameter and its depth


def by_neighbours(scene: Scene, choices: Sequence[Choice]) -> list[Choice]:
    """The choices of a statement, with what their neighbours tell of those that were left open."""
    told = _down_to(scene, _in_its_tunnel(scene, _before_its_depth(scene, _too_wide(scene, _steps(scene, _counted(scene, list(choices)))))))
    return _of_its_cut(scene, _listed_pairs(scene, _revised(scene, told)))


def _revised(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "a strip nine wide, and then I went to ten": what one goes to is another size of what was sized just before."""
    out = list(choices)
    for index, choice in enumerate(choices[1:], start=1):
        before = out[index - 1]
        if before.won is None or before.won.type not in SIZED or not scene.led_by(choice.quantity.start, "goes-to-a-size"):
            continue
        entry = scene.lexicon.attributes[before.won.type, before.won.attribute]
        free = choice if choice.won is None or scene.anchors[choice.won.type] else replace(choice, won=None)
        if entry.unit == "mm" and _is_open_for(scene, free, entry) and _like(before, choice):
            out[index] = _told(scene, free, entry, "the next size", "another size of what was sized before it")
    return out


def _like(first: Choice, second: Choice) -> bool:
    """Whether two numbers are so near that the second can be another size of the same."""
    one, other = first.quantity.value, second.quantity.value
    return isinstance(one, float) and isinstance(other, float) and 0 < max(one, other) <= NEXT_SIZE * min(one, other)


def _counted(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "eighteen, nineteen, twenty": of numbers that are counted aloud only the last stands, for what the first of them is."""
    out = list(choices)
    for start, end in _counts(scene, choices):
        won = [choice.won for choice in choices[start:end] if choice.won is not None]
        if len({(candidate.type, candidate.attribute) for candidate in won}) != 1:
            continue
        for index in range(start, end - 1):
            out[index] = replace(choices[index], won=None, why="counted aloud on the way to the last number")
        out[end - 1] = replace(choices[end - 1], won=won[0], why="the last of the numbers counted aloud")
    return out


def _counts(scene: Scene, choices: Sequence[Choice]) -> Iterator[tuple[int, int]]:
    """Where numbers are counted aloud: at least ``COUNTED`` of them, one behind the other, all the same step apart."""
    start = 0
    for end in range(1, len(choices) + 1):
        if end < len(choices) and _next_in_count(scene, choices[start : end + 1]):
            continue
        if end - start >= COUNTED:
            yield start, end
        start = end


def _next_in_count(scene: Scene, run: Sequence[Choice]) -> bool:
    """Whether the last of some choices goes on with the count of those before it."""
    values = [choice.quantity.value for choice in run if choice.quantity.kind == "number"]
    numbers = [value for value in values if isinstance(value, float)]
    gap = scene.between(run[-2].quantity.end, run[-1].quantity.start)
    steps = {second - first for first, second in pairwise(numbers)}
    return len(numbers) == len(run) and len(steps) == 1 and min(steps) > 0 and set(gap) <= {","}


def _steps(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "reamed to eight, then nine and finally ten": what goes up behind a diameter is the next step; "the six first" is only a step."""
    entry = scene.lexicon.attributes[DIAMETER]
    out = list(choices)
    for index, choice in enumerate(choices):
        before = out[index - 1] if index else None
        if before is not None and _attribute(before) == DIAMETER and _goes_up(scene, before, choice, entry):
            out[index] = _told(scene, choice, entry, "next step", "a step of reaming")
        elif _attribute(choice) == DIAMETER and (is_first_step(scene, choice.quantity) or _is_that_step(scene, choice)):
            out[index] = replace(choice, won=None, why="a first step of reaming, not the diameter")
        elif _is_next_step(scene, choice, entry):
            out[index] = _told(scene, choice, entry, "next step", "the step after the first one")
    return out


def _is_that_step(scene: Scene, choice: Choice) -> bool:
    """Whether a number only says the first step again ("Nine then, for now." - "Nine reamer.")."""
    return scene.focus.step is not None and choice.quantity.value == scene.focus.step


def _is_next_step(scene: Scene, choice: Choice, entry: AttributeEntry) -> bool:
    """Whether a short statement calls out the size after a first step ("Ream the femur, the six first." - "And now the seven.")."""
    first, value = scene.focus.step, choice.quantity.value
    if scene.focus.bench is not None or not GRAFT_TALK.isdisjoint(scene.focus.heard):
        return False  # a graft is sized in steps too
    if first is None or not isinstance(value, float) or not first < value <= NEXT_SIZE * first:
        return False
    around = {*scene.lead(choice.quantity.start, len(scene.words)), *scene.between(choice.quantity.end, scene.statement.end)}
    return around <= scene.words_of("calls-a-size") and _is_open_for(scene, choice, entry)


def _goes_up(scene: Scene, before: Choice, choice: Choice, entry: AttributeEntry) -> bool:
    """Whether a number is larger than the diameter before it, fits one, and stands behind words of steps alone."""
    gap = scene.between(before.quantity.end, choice.quantity.start)
    small, large = before.quantity.value, choice.quantity.value
    plain = choice.quantity.kind in ("number", "length") and range_score(scene, choice.quantity, entry) > 0
    larger = isinstance(small, float) and isinstance(large, float) and large > small
    return plain and larger and len(gap) <= STEP and set(gap) <= scene.words_of("between-steps") and bool(set(gap) - {"and"})


def is_first_step(scene: Scene, quantity: Quantity) -> bool:
    """Whether words right behind a size or its reamer make it a first step ("nine reamer first", "the six first", "nine then, for now")."""
    behind = scene.between(quantity.end, min(scene.statement.end, quantity.end + 5))
    named = behind[1:] if behind[:1] and behind[0] in scene.words_of("reamers") else behind
    return named[:1] == ("first",) or any(pair == FOR_NOW for pair in pairwise(named))


def _before_its_depth(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "seven again, twenty five deep": a bare number that fits a diameter, just before the depth of a tunnel, is its diameter."""
    won = [_attribute(choice) for choice in choices]
    if DEPTH not in won or DIAMETER in won:
        return choices
    entry = scene.lexicon.attributes[DIAMETER]
    out = list(choices)
    for index, (first, second) in enumerate(pairwise(choices)):
        close = second.quantity.start - first.quantity.end <= BESIDE
        if _attribute(second) == DEPTH and close and _is_open_for(scene, first, entry):
            out[index] = _told(scene, first, entry, "beside the depth", "just before the depth")
    return out


def _in_its_tunnel(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "femoral socket, inside out, eight point five": the only number of a statement that names a tunnel and its bone is its diameter.

    Only one with a half: a whole number behind a tunnel may count people or be the time.
    """
    bones = {m.value for m in scene.of("bone")}
    named = [m for m in scene.anchors["tunnel"] if m.kind == "opens"]
    if len(choices) != 1 or len(bones) != 1 or len(named) != 1 or not _is_halved(choices[0]):
        return choices
    choice, entry = choices[0], scene.lexicon.attributes[DIAMETER]
    behind = 0 <= choice.quantity.start - named[0].end <= IN_ITS_TUNNEL
    if not behind or not _is_open_for(scene, choice, entry):
        return choices
    return [_told(scene, choice, entry, "in its tunnel", "the only number said of a tunnel")]


def _is_halved(choice: Choice) -> bool:
    value = choice.quantity.value
    return choice.quantity.kind == "number" and isinstance(value, float) and not value.is_integer()


def _too_wide(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "drilled with the eight for about 35 millimetres": what is no diameter, behind the diameter of a tunnel, is how deep it goes."""
    wide, deep = scene.lexicon.attributes[DIAMETER], scene.lexicon.attributes[DEPTH]
    out = list(choices)
    for index, choice in enumerate(choices):
        sized = any(_attribute(before) == DIAMETER and range_score(scene, before.quantity, wide) > 0 for before in out[:index])
        if sized and _attribute(choice) == DIAMETER and _fits_only(scene, choice, deep, wide):
            out[index] = _told(scene, choice, deep, "too wide", "no diameter, and behind that of the tunnel")
    return out


def _fits_only(scene: Scene, choice: Choice, entry: AttributeEntry, other: AttributeEntry) -> bool:
    """Whether a value is usual for one attribute and outside all that another can be."""
    fits = range_score(scene, choice.quantity, entry) > 0
    return fits and range_score(scene, choice.quantity, other) < 0


def _down_to(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "ream six, to twenty five": a number behind "to" that fits a depth, after the diameter of a tunnel, is its depth."""
    won = [_attribute(choice) for choice in choices]
    if DIAMETER not in won or DEPTH in won:
        return choices
    entry = scene.lexicon.attributes[DEPTH]
    for index in range(won.index(DIAMETER) + 1, len(choices)):
        choice = choices[index]
        if scene.lead(choice.quantity.start, 1) == ("to",) and _is_open_for(scene, choice, entry):
            told = _told(scene, choice, entry, "down to", "behind the diameter, down to")
            return [*choices[:index], told, *choices[index + 1 :]]
    return choices


def _listed_pairs(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "plugs ten by twenty two and ten by twenty five": the second pair of a list is what the first is."""
    out = list(choices)
    for index, second in enumerate(choices[1:], start=1):
        first = out[index - 1]
        joined = scene.between(first.quantity.end, second.quantity.start) == ("and",)
        if first.won is not None and first.won.attribute == PLUG[1] and joined and len(second.quantity.parts) == PAIR:
            why = "listed with the one before"
            out[index] = replace(second, won=replace(first.won, parts=((why, first.won.score),)), why=why)
    return out


def _of_its_cut(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "oblique incision on the tibia, over the pes, two and a half centimetres": the only centimetres of a cut are how long it is."""
    entry = scene.lexicon.attributes[CUT]
    lengths = [choice for choice in choices if choice.quantity.said is not None and choice.quantity.said[1] == "cm"]
    things = [m for m in scene.mentions if m.kind == "tissue" or (m.kind == "opens" and m.value != entry.type)]
    cuts = [m for m in scene.of("opens") if m.value == entry.type and not _is_cutting(scene, m.start)]
    if len(lengths) != 1 or not cuts:
        return choices
    length = lengths[0]
    if any(cuts[0].start < m.start <= length.quantity.end + BESIDE for m in things):
        return choices
    measured = any(m.start >= length.quantity.end for m in scene.of("landmark"))  # "four centimetres below the joint line"
    if measured or length.quantity.start < cuts[0].end or not _is_open_for(scene, length, entry):
        return choices
    told = _told(scene, length, entry, "of its cut", "the only centimetres said of a cut")
    return [told if choice is length else choice for choice in choices]


def _is_cutting(scene: Scene, place: int) -> bool:
    """Whether "cut" is said of whatever is cut ("and cut the strip", "a small cut in the bursa"), and not of the skin over a bone."""
    lead = scene.lead(place, 1)
    verb = not lead or lead[0] in scene.words_of("cuts-what-follows")
    return scene.talk.words[place] == "cut" and (verb or not scene.of("bone"))


def _attribute(choice: Choice) -> tuple[str, str] | None:
    """The type and the name of the attribute that won a quantity."""
    return (choice.won.type, choice.won.attribute) if choice.won else None


def _is_open_for(scene: Scene, choice: Choice, entry: AttributeEntry) -> bool:
    """Whether nothing claims a quantity, it is usual for an attribute, and no word beside it says that it is something else."""
    quantity = choice.quantity
    if choice.won is not None or quantity.kind not in ("number", "length"):
        return False
    return range_score(scene, quantity, entry) > 0 and not never_share(scene, quantity, entry)


def _told(scene: Scene, choice: Choice, entry: AttributeEntry, part: str, why: str) -> Choice:
    usual = scene.weights.usual
    return replace(choice, won=Candidate(entry.type, entry.name, usual, ((part, usual),)), why=why)
