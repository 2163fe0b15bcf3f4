"""What can be settled only with all things of the case in view: a tissue named in two ways, the side of the procedures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.model import Fact
from opnote.record.merge import Thing

BOTH = "semitendinosus and gracilis"
PARTS = frozenset({"semitendinosus", "gracilis"})
NEEDS = {"implant": "kind", "graft": None, "isometry": None, "tunnel": None}


def settle(things: Sequence[Thing]) -> list[Thing]:
    """The things with tissues and sides settled, without the ones that say nothing of their own."""
    for thing in things:
        if thing.type == "graft":
            _tissue(thing)
    _sides(things)
    _counts(things)
    return [t for t in things if _says_something(t)]


def _tissue(graft: Thing) -> None:
    """ "hamstring" gives way to the tendon that was named; both tendons named apart are the pair."""
    named = {f.value for f in graft.facts if f.attribute == "tissue" and not f.superseded}
    specific = named - {"hamstring"}
    whole = BOTH if (specific >= PARTS or BOTH in specific or not specific) else None
    for index, fact in enumerate(graft.facts):
        if fact.attribute != "tissue":
            continue
        if fact.value == "hamstring" and specific and not whole:
            graft.facts[index] = replace(fact, inherited=True, value=next(iter(sorted(map(str, specific)))))
        elif whole and fact.value in PARTS | {"hamstring"}:
            graft.facts[index] = replace(fact, value=whole)


def _sides(things: Sequence[Thing]) -> None:
    """A procedure without a side of its own is on the operated side, with the words that tell it."""
    case = next((t for t in things if t.type == "case"), None)
    sides = [f for f in case.facts if f.attribute == "side" and not f.superseded] if case else []
    if len({f.value for f in sides}) != 1:
        return
    for thing in things:
        if thing.type == "procedure" and "side" not in thing.names:
            thing.facts.append(replace(sides[0], frame=-1, type="procedure", inherited=True, why=("the operated side",)))


def _counts(things: Sequence[Thing]) -> None:
    """ "two anchors" that are then read out one by one are not four: the count goes where each has an identifier of its own."""
    for thing in things:
        if thing.type != "implant" or "count" not in thing.names:
            continue
        twins = [t for t in things if t is not thing and t.type == "implant" and t.values("kind") & thing.values("kind")]
        own = {name for name in ("lot", "serial", "reference") if thing.values(name)}
        if own and any(t.values(name) for t in twins for name in own):
            thing.facts = [f for f in thing.facts if f.attribute != "count"]


def _says_something(thing: Thing) -> bool:
    own = {f.attribute for f in thing.facts if not f.inherited and not f.superseded}
    if thing.type == "implant":  # sizes alone may be a plug or a thing asked for and never used
        return bool(thing.values("kind")) and bool(own & {"kind", "material", "lot", "serial", "reference", "disposition"})
    if thing.type == "graft":
        return bool(own & {"tissue", "source", "length_mm", "diameter_mm", "width_mm", "strands", "tissue_id", "lot"})
    if thing.type == "tunnel":
        return bool(own & {"diameter_mm", "depth_mm", "cortices", "landmark", "landmark_mm"})
    if thing.type == "finding":
        return bool(own & {"result", "grade", "opening_mm", "end_point"})
    return True


def facts_of(thing: Thing, name: str) -> list[Fact]:
    """The standing facts of one attribute."""
    return [f for f in thing.facts if f.attribute == name and not f.superseded]
