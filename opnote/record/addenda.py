"""Addenda: what the surgeon adds later stands, and what was said otherwise before is kept as superseded, with its words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from opnote.extract.model import Fact
from opnote.lexicon import AttributeEntry, Lexicon
from opnote.record.attributes import OVERRULED
from opnote.record.thing import Thing


def overruled(thing: Thing, lexicon: Lexicon, *, sources: Sequence[str]) -> Thing:
    """A thing whose values from ``sources`` (the dictation and its addenda, in order) give way to later ones that differ.

    Dictated: "the femoral tunnel was nine"; added: "the femoral tunnel was ten". Ten stands, nine is superseded. Attributes that hold
    several values at once gain one, and those for which another value is but another word for the first keep it.
    """
    rank = {source: place for place, source in enumerate(sources)}
    latest = {name: _latest(thing, name, rank) for name in thing.names if _gives_way(lexicon.attributes.get((thing.type, name)))}
    return Thing(thing.type, tuple(_told(fact, latest.get(fact.attribute, ()), rank) for fact in thing.facts))


def _gives_way(entry: AttributeEntry | None) -> bool:
    return entry is None or not (entry.many or entry.repeat == "first")


def _latest(thing: Thing, name: str, rank: Mapping[str, int]) -> tuple[Fact, ...]:
    """What the last source that speaks of an attribute says of it."""
    said = [f for f in thing.facts if f.attribute == name and f.source in rank and not f.superseded and not f.inherited]
    last = max((rank[fact.source] for fact in said), default=0)
    return tuple(fact for fact in said if rank[fact.source] == last)


def _told(fact: Fact, latest: Sequence[Fact], rank: Mapping[str, int]) -> Fact:
    """A fact as it is once the last source has spoken."""
    if fact.superseded or not latest or rank.get(fact.source, 0) >= rank[latest[0].source]:
        return fact
    if any((fact.value, fact.low, fact.high) == (other.value, other.low, other.high) for other in latest):
        return fact
    return replace(fact, superseded=True, why=(*fact.why, f"{OVERRULED}{latest[0].source}"))
