"""Quantities that no words of their own tie to an attribute, told by the quantity beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from opnote.extract.cues import never_share
from opnote.extract.model import Candidate, Choice
from opnote.extract.scene import Scene
from opnote.extract.score import range_score
from opnote.lexicon import AttributeEntry

DIAMETER, DEPTH, PLUG = ("tunnel", "diameter_mm"), ("tunnel", "depth_mm"), ("graft", "plug_mm")
BESIDE = 4  # words between a diameter and its depth


def by_neighbours(scene: Scene, choices: Sequence[Choice]) -> list[Choice]:
    """The choices of a statement, with what their neighbours tell of those that were left open."""
    return _listed_pairs(scene, _down_to(scene, _before_its_depth(scene, list(choices))))


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
        if first.won is not None and first.won.attribute == PLUG[1] and joined and second.quantity.kind == "pair":
            why = "listed with the one before"
            out[index] = replace(second, won=replace(first.won, parts=((why, first.won.score),)), why=why)
    return out


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
