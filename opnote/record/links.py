"""Links between things: an implant holds in a tunnel, a tunnel holds a graft, a fixation tensions a graft."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from opnote.record.model import Entity, Scalar


@dataclass(frozen=True, slots=True)
class Relation:
    """Things of type ``one`` stand in a relation to the only thing of type ``other`` that shares all these attributes with them."""

    one: str
    name: str
    other: str
    shared: tuple[str, ...]


RELATIONS = (
    Relation("implant", "in", "tunnel", shared=("bone", "structure")),
    Relation("tunnel", "holds", "graft", shared=("structure",)),
    Relation("tensioning", "tensions", "graft", shared=("structure",)),
    Relation("isometry", "tests for", "graft", shared=("structure",)),
)


def linked(entities: Sequence[Entity]) -> Iterator[Entity]:
    """The entities with their links, where the attributes they share leave one thing only.

    With one ACL graft the ACL's femoral tunnel holds it; with two there is no telling, and no link.
    """
    for entity in entities:
        links = {r.name: (partner.id,) for r in RELATIONS if r.one == entity.type and (partner := _only(entity, r, entities))}
        yield entity.model_copy(update={"links": links}) if links else entity


def _only(entity: Entity, relation: Relation, entities: Sequence[Entity]) -> Entity | None:
    """The one thing that an entity can stand in a relation to, or None where there is none or more."""
    fitting = [e for e in entities if e.type == relation.other and all(_meet(entity, e, name) for name in relation.shared)]
    return fitting[0] if len(fitting) == 1 else None


def _meet(one: Entity, other: Entity, name: str) -> bool:
    return not _values(one, name).isdisjoint(_values(other, name))


def _values(entity: Entity, name: str) -> frozenset[Scalar]:
    attribute = entity.attributes.get(name)
    if attribute is None or attribute.value is None:
        return frozenset()
    return frozenset(attribute.value) if isinstance(attribute.value, tuple) else frozenset((attribute.value,))
