"""Tissues of grafts that are named loosely: a hamstring graft is one of two tendons, or both."""

from __future__ import annotations

from dataclasses import replace

from opnote.extract.model import Fact
from opnote.record.thing import Thing

LOOSE = "hamstring"
PARTS = frozenset({"semitendinosus", "gracilis"})
BOTH = "semitendinosus and gracilis"
HAMSTRINGS = PARTS | {LOOSE, BOTH}


def with_tissue(graft: Thing) -> Thing:
    """A graft whose loosely named tissue gives way to the tendon that was named; both tendons named apart are the pair.

    "Hamstring graft" with "semitendinosus, four strands" is semitendinosus; alone it is both tendons.
    """
    if graft.type != "graft":
        return graft
    named = {str(value) for value, _, _ in graft.values("tissue")} - {LOOSE}
    pair = not named or BOTH in named or named >= PARTS
    return Thing(graft.type, tuple(_tissue(fact, named, pair=pair) if fact.attribute == "tissue" else fact for fact in graft.facts))


def _tissue(fact: Fact, named: set[str], *, pair: bool) -> Fact:
    if pair:
        return replace(fact, value=BOTH) if fact.value == LOOSE or fact.value in PARTS else fact
    return replace(fact, value=min(named), inherited=True) if fact.value == LOOSE else fact


def another_tissue(graft: Thing, other: Thing) -> bool:
    """Whether two grafts are of different tissues, which one graft named in two ways is not."""
    mine, others = ({str(value) for value, _, _ in thing.values("tissue")} for thing in (graft, other))
    return bool(mine and others) and mine.isdisjoint(others) and not mine | others <= HAMSTRINGS
