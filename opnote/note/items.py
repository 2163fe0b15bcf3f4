"""Entities as the items of a section: every attribute as a line, the same arranged in columns, links by name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from opnote.note.cells import cell, named
from opnote.note.labels import Labels, capitalised
from opnote.note.layout import EVERYTHING, Layout, Order, SectionPlan
from opnote.note.model import Cell, Item, Line, Value
from opnote.note.wording import NOT_DICTATED, values_of
from opnote.record.model import Attribute, Entity, Record


@dataclass(frozen=True)
class Shelf:
    """What the sections draw on: the record, its labels and arrangement, the gaps that checks found, the items' names."""

    record: Record
    labels: Labels
    layout: Layout
    gaps: Mapping[tuple[str, str | None], frozenset[str]]
    names: Mapping[str, str]

    @classmethod
    def of(cls, record: Record, *, labels: Labels, layout: Layout) -> Shelf:
        """The shelf of a record."""
        return cls(record, labels, layout, _gaps(record), _names(record, layout))

    def line(self, kind: str, name: str, attribute: Attribute | None, *, entity: str | None) -> Line:
        """An attribute as a line; one that nobody said prints as a gap."""
        values = (NOT_DICTATED,) if attribute is None else values_of(attribute, self.labels.unit(kind, name))
        return Line(self.labels.label(kind, name), name, values, entity)


def _gaps(record: Record) -> dict[tuple[str, str | None], frozenset[str]]:
    """What findings of the kind "missing" name: the attributes, by type and entity."""
    gaps: dict[tuple[str, str | None], frozenset[str]] = {}
    for finding in record.findings:
        for about in finding.about if finding.kind == "missing" else ():
            if about.attribute:
                key = (about.type, about.entity)
                gaps[key] = gaps.get(key, frozenset()) | {about.attribute}
    return gaps


def entities_of(plan: SectionPlan, *, record: Record, layout: Layout) -> tuple[Entity, ...]:
    """The entities a section shows, in the plan's order, else in that of the talk."""
    if plan.type is None or plan.lines:
        return ()
    if plan.type == EVERYTHING:
        shown = layout.shown_types()
        return tuple(entity for entity in record.entities if entity.type not in shown)
    return tuple(sorted(record.of(plan.type), key=lambda entity: [_rank(entity, order) for order in plan.order]))


def _rank(entity: Entity, order: Order) -> tuple[int, float, str]:
    attribute = entity.attributes.get(order.by)
    held = None if attribute is None else next((one for one in (attribute.value, attribute.low, attribute.high) if one is not None), None)
    if isinstance(held, int | float):
        return (0, float(held), "")
    return (0, 0.0, held) if isinstance(held, str) else (-1 if order.unsaid == "first" else 1, 0.0, "")


def _names(record: Record, layout: Layout) -> dict[str, str]:
    """What each entity is called in the note: its section's word and its number there."""
    names: dict[str, str] = {}
    for plan in layout.section:
        counts: dict[str, int] = {}
        for entity in entities_of(plan, record=record, layout=layout):
            word = plan.item or capitalised(entity.type)
            counts[word] = counts.get(word, 0) + 1
            names[entity.id] = f"{word} {counts[word]}"
    return names


def items_of(plan: SectionPlan, shelf: Shelf) -> tuple[tuple[str, ...], tuple[Item, ...]]:
    """The columns and the items of a section; a column that holds nothing in any item is left out."""
    found = entities_of(plan, record=shelf.record, layout=shelf.layout)
    items = [_item(plan, entity, shelf, number=number) for number, entity in enumerate(found, start=1)]
    titles = [column.title for column in plan.column] + ["Further", "Goes with"]
    used = [index for index in range(len(titles)) if any(item.cells[index].parts for item in items)]
    slim = tuple(
        Item(item.name, item.number, item.entity, item.lines, tuple(item.cells[index] for index in used), item.links) for item in items
    )
    return tuple(titles[index] for index in used), slim


def _item(plan: SectionPlan, entity: Entity, shelf: Shelf, *, number: int) -> Item:
    expected = (*plan.expected, *sorted(shelf.gaps.get((entity.type, entity.id), ())))
    lines = {
        name: shelf.line(entity.type, name, entity.attributes.get(name), entity=entity.id) for name in _order(plan, entity, shelf, expected)
    }
    links = tuple(_link(relation, ids, shelf, entity=entity.id) for relation, ids in sorted(entity.links.items()))
    moment = any(value.text in shelf.layout.moments for line in lines.values() for value in line.values)
    cells = [cell(column, lines, kind=entity.type, labels=shelf.labels, moment=moment) for column in plan.column]
    placed = {name for column in plan.column for name in column.attributes}
    further = tuple(
        part for name, line in lines.items() if name not in placed for part in named(line, kind=entity.type, labels=shelf.labels)
    )
    partners = Cell(tuple(value for link in links for value in link.values))
    return Item(shelf.names[entity.id], number, entity.id, tuple(lines.values()), (*cells, Cell(further), partners), links)


def _order(plan: SectionPlan, entity: Entity, shelf: Shelf, expected: Sequence[str]) -> list[str]:
    """The attributes an item shows: as its columns have them, then as the attribute table has them, then by name."""
    shown = (set(entity.attributes) | set(expected)) - set(shelf.layout.not_clinical)
    first = [name for column in plan.column for name in column.attributes]
    ranked = dict.fromkeys([*first, *shelf.labels.order(entity.type), *sorted(shown)])
    return [name for name in ranked if name in shown]


def _link(relation: str, ids: Sequence[str], shelf: Shelf, *, entity: str) -> Line:
    return Line(capitalised(relation), relation, tuple(Value(shelf.names[partner]) for partner in ids if partner in shelf.names), entity)
