"""Links between things: an implant holds in a tunnel, a tunnel holds a graft, a fixation tensions a graft."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.record.model import Entity, Scalar

RELATIONS = (("implant", "tunnel", "in", ("bone", "structure")), ("tunnel", "graft", "holds", ("structure",)),
             ("tensioning", "graft", "tensions", ("structure",)), ("isometry", "graft", "tests for", ("structure",)))  # fmt: skip


def linked(entities: Sequence[Entity]) -> Iterator[Entity]:
    """The entities with their links, where the attributes they share leave one thing only."""
    for entity in entities:
        links: dict[str, tuple[str, ...]] = {}
        for owner, other, relation, shared in RELATIONS:
            if entity.type != owner:
                continue
            fitting = [e.id for e in entities if e.type == other and all(_meet(entity, e, name) for name in shared)]
            if len(fitting) == 1:
                links[relation] = (fitting[0],)
        yield entity.model_copy(update={"links": links}) if links else entity


def _meet(one: Entity, other: Entity, name: str) -> bool:
    return bool(_values(one, name) & _values(other, name))


def _values(entity: Entity, name: str) -> set[Scalar]:
    attribute = entity.attributes.get(name)
    if attribute is None or attribute.value is None:
        return set()
    return set(attribute.value) if isinstance(attribute.value, tuple) else {attribute.value}
