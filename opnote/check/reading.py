"""How checks read a record: numbers, words and clocks of an attribute, with nothing assumed where a value is not settled."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from opnote.check.profiles import texts
from opnote.record.model import About, Attribute, Entity, Evidence, Record

HALF_DAY = 12 * 60
BORROWED = ("contralateral", "opposite knee", "opposite leg", "other knee", "other leg", "opposite side", "other side")


@dataclass(frozen=True, slots=True)
class Spread:
    """A number as it was said: a value (``low`` equal to ``high``) or a range."""

    low: float
    high: float

    def outside(self, pair: tuple[float, float]) -> bool:
        """Whether all of it lies outside, so that no reading of it fits."""
        return self.high < pair[0] or self.low > pair[1]


def spread(entity: Entity, name: str) -> Spread | None:
    """The number or range of an attribute; None where it is absent, not a number, half a range or not settled."""
    attribute = entity.attributes.get(name)
    if attribute is None or attribute.candidates:
        return None
    if isinstance(attribute.value, int | float) and not isinstance(attribute.value, bool):
        return Spread(attribute.value, attribute.value)
    if attribute.low is None or attribute.high is None:
        return None
    return Spread(min(attribute.low, attribute.high), max(attribute.low, attribute.high))


def exact(entity: Entity, name: str) -> float | None:
    """The one number of an attribute; None where it is a range, approximate or not settled."""
    held = spread(entity, name)
    if held is None or held.low != held.high or entity.attributes[name].approximate:
        return None
    return held.low


def word(entity: Entity, name: str) -> str | None:
    """The one word of an attribute; None where it is a list, a number or not settled."""
    held = texts(entity, name)
    return next(iter(held)) if len(held) == 1 else None


def structures(entity: Entity) -> frozenset[str]:
    """The structures an entity serves."""
    return texts(entity, "structure")


def evidence(entity: Entity, *names: str) -> tuple[Evidence, ...]:
    """The words behind some attributes of an entity, those of candidates included; all attributes when none is named."""
    found: list[Evidence] = []
    for attribute in (entity.attributes[name] for name in (names or tuple(entity.attributes)) if name in entity.attributes):
        found += attribute.evidence
        found += [words for candidate in attribute.candidates for words in candidate.evidence]
    return tuple(found)


def own_evidence(entity: Entity) -> tuple[Evidence, ...]:
    """The words that speak of an entity itself, without what only the talk around lent to it; all words where there are no others."""
    own = tuple(name for name, attribute in entity.attributes.items() if not attribute.lent)
    return evidence(entity, *own) if own else evidence(entity)


def about(entity: Entity, *names: str) -> tuple[About, ...]:
    """What a doubt about some attributes of an entity is about."""
    return tuple(About(entity=entity.id, type=entity.type, attribute=name) for name in names)


def case_of(record: Record) -> Entity | None:
    """The case entity, if anything of it was said."""
    return next(iter(record.of("case")), None)


def in_place(entity: Entity) -> bool:
    """Whether a device stayed in the patient."""
    return not texts(entity, "disposition") & {"opened not used", "removed"}


def minutes(clock: str) -> int | None:
    """Minutes after midnight of "HH:MM"; None for anything else."""
    hours, colon, rest = clock.partition(":")
    if not colon or not (hours.isdecimal() and rest.isdecimal()) or int(hours) > 23 or int(rest) > 59:
        return None
    return int(hours) * 60 + int(rest)


def clocks(record: Record, event: str) -> tuple[tuple[int, Entity], ...]:
    """The events of one name that have a settled clock time, in minutes after midnight."""
    found = ((minutes(word(entity, "clock") or ""), entity) for entity in record.of("event") if word(entity, "name") == event)
    return tuple((time, entity) for time, entity in found if time is not None)


def elapsed(start: int, end: int) -> int:
    """Minutes from one clock time to the next, over midnight, and whether or not the hours were said on a 12-hour clock.

    >>> elapsed(23 * 60 + 40, 35), elapsed(11 * 60 + 50, 1 * 60 + 5)
    (55, 75)
    """
    return (end - start) % HALF_DAY


def same_place(record: Record, entity: Entity, type: str) -> Entity | None:
    """The one entity of ``type`` at the same bone for the same structures as ``entity``; None where there is none, or a choice.

    A link of that name decides before the place does.
    """
    linked = [other for other in record.of(type) if other.id in entity.links.get(type, ())]
    if len(linked) == 1:
        return linked[0]
    bone, served = word(entity, "bone"), structures(entity)
    if bone is None or not served:
        return None
    there = [other for other in record.of(type) if word(other, "bone") == bone and structures(other) & served]
    return there[0] if len(there) == 1 and structures(there[0]) == served else None


def graft_of(record: Record, entity: Entity) -> Entity | None:
    """The one graft of the structures that ``entity`` serves; None where there is none, or a choice."""
    served = structures(entity)
    grafts = [graft for graft in record.of("graft") if structures(graft) & served]
    return grafts[0] if len(grafts) == 1 and structures(grafts[0]) == served else None


def borrowed(attribute: Attribute) -> bool:
    """Whether the words speak of the other leg on purpose."""
    words = [e.quote.lower() for e in attribute.evidence] + [e.quote.lower() for c in attribute.candidates for e in c.evidence]
    return any(cue in quote for quote in words for cue in BORROWED)


def held(record: Record, name: str) -> Iterator[Entity]:
    """All entities that have an attribute of a name."""
    return (entity for entity in record.entities if name in entity.attributes)
