"""What an entry of ``procedures/`` or ``profiles/`` names and nothing has: each such name is told with what there is."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from opnote.check.entries import Limit, Off, Order, Range, Structure, WordList
from opnote.check.profiles import Element, Row
from opnote.check.tables import Tables
from opnote.lexicon import Lexicon
from opnote.lexicon.references import ATTRIBUTE, unknown

#: Limits whose ids end in a value of a vocabulary (or, for "", in anything).
LIMIT_FAMILIES = {"dose-g-": "antibiotic", "folded-graft-": "structure", "opening-grade-": ""}

Found = Iterator[tuple[str, str]]


@dataclass(frozen=True)
class Named:
    """What may be named: the lexicon's vocabularies and attributes, the rules of the program, the ids of the built-in tables."""

    lexicon: Lexicon
    rules: frozenset[str]
    built_in: Mapping[str, Collection[str]]

    @cached_property
    def values(self) -> dict[str, frozenset[str]]:
        """The values of each vocabulary."""
        found: dict[str, set[str]] = {}
        for term in self.lexicon.terms:
            found.setdefault(term.kind, set()).update([term.value, *term.each])
        return {kind: frozenset(values) for kind, values in found.items()}

    def attributes(self, thing: str) -> frozenset[str]:
        """The attributes of a type of thing."""
        return frozenset(name for owner, name in self.lexicon.attributes if owner == thing)

    def of(self, kind: str, field: str, *names: str) -> Found:
        """The names that are no value of a vocabulary."""
        yield from ((field, what) for what in unknown(f'value of the vocabulary "{kind}"', names, self.values[kind]))

    def pairs(self, kinds: str, field: str, *names: str) -> Found:
        """The names that are not a value of the first vocabulary and one of the second, with a blank between."""
        first, second = kinds.split(" + ")
        known = [f"{one} {other}" for one in self.values[first] for other in self.values[second]]
        yield from ((field, what) for what in unknown(f"{first} with a {second}", names, known))

    def where(self, field: str, thing: str, conditions: Mapping[str, Iterable[str]]) -> Found:
        """The conditions on attributes that a thing lacks, or on values that they cannot have."""
        names = self.attributes(thing)
        for name, allowed in conditions.items():
            yield from ((field, what) for what in unknown(f'attribute of "{thing}"', [name], names))
            entry = self.lexicon.attributes.get((thing, name))
            if entry and entry.terms:
                yield from self.of(entry.terms, f"{field}.{name}", *allowed)


def procedure_faults(tables: Tables, named: Named) -> Iterator[str]:
    """The loose ends of structures, ranges, limits, orders, lists and rules switched off."""
    for table, entries in tables.entries.items():
        for id, entry in entries.items():
            yield from (tables.fault(table, id, field, what) for field, what in _of(entry, named))


def _of(entry: object, named: Named) -> Found:
    match entry:
        case Structure():
            yield from _structure(entry, named)
        case Range():
            yield from _range(entry, named)
        case Limit():
            yield from _limit(entry, named)
        case Order():
            yield from _order(entry, named)
        case WordList():
            yield from _list(entry, named)
        case Off():
            yield from _off(entry, named)


def _structure(entry: Structure, named: Named) -> Found:
    yield from named.of("structure", "id", entry.id)
    yield from named.of("bone", "bones", *entry.bones)
    for field in ("stress", "never_stress"):
        held = getattr(entry, field)
        yield from named.of("stress", field, *((held,) if isinstance(held, str) and held else held or ()))
    yield from named.of("exam", "exam", *([entry.exam] if entry.exam else []))
    yield from named.of("rotation", "never_rotation", *entry.never_rotation)
    yield from named.of("landmark", "never_landmark", *entry.never_landmark)
    yield from named.pairs("bone + landmark", "but_landmark", *entry.but_landmark)


def _range(entry: Range, named: Named) -> Found:
    if entry.type not in named.lexicon.things:
        yield from (("type", what) for what in unknown("thing", [entry.type], named.lexicon.things))
        return
    yield from (("attribute", what) for what in unknown(f'attribute of "{entry.type}"', [entry.attribute], named.attributes(entry.type)))
    held = named.lexicon.attributes.get((entry.type, entry.attribute))
    if held and held.value != "quantity":
        yield "attribute", f'"{entry.attribute}" holds no number'
    yield from named.where("where", entry.type, entry.where)


def _limit(entry: Limit, named: Named) -> Found:
    for start, kind in LIMIT_FAMILIES.items():
        if entry.id.startswith(start):
            if kind:
                yield from named.of(kind, "id", entry.id.removeprefix(start))
            return
    yield from (("id", f"{what} (a check asks for it by name: only one of these can be replaced)") for what in
                unknown("limit", [entry.id], named.built_in["limit"]))  # fmt: skip


def _order(entry: Order, named: Named) -> Found:
    yield from named.of("event", "first", entry.first)
    yield from named.of("event", "then", entry.then)


def _list(entry: WordList, named: Named) -> Found:
    yield from (("id", f"{what} (a check asks for it by name: only one of these can be replaced)") for what in
                unknown("list", [entry.id], named.built_in["list"]))  # fmt: skip
    if entry.of == ATTRIBUTE:
        yield from (("members", what) for what in unknown("attribute", entry.members, {name for _, name in named.lexicon.attributes}))
    elif " + " in entry.of and all(kind in named.values for kind in entry.of.split(" + ")):
        yield from named.pairs(entry.of, "members", *entry.members)
    elif entry.of in named.values:
        yield from named.of(entry.of, "members", *entry.members)
    elif entry.of:
        yield from (("of", what) for what in unknown("vocabulary", [entry.of], named.values))


def _off(entry: Off, named: Named) -> Found:
    if named.rules.isdisjoint((entry.id.upper(), entry.id.lower())):
        yield from (("id", what) for what in unknown("rule", [entry.id], named.rules))


def profile_faults(tables: Tables, named: Named) -> Iterator[str]:
    """The loose ends of rows and elements."""
    for id, entry in tables.entries["row"].items():
        yield from (tables.fault("row", id, field, what) for field, what in _row(entry, tables))
    for id, entry in tables.entries["element"].items():
        yield from (tables.fault("element", id, field, what) for field, what in _element(entry, tables, named))


def _row(entry: object, tables: Tables) -> Found:
    if isinstance(entry, Row):
        yield from (("profile", what) for what in unknown("profile", [entry.profile], tables.ids("profile")))
        yield from (("elements", what) for what in unknown("element", entry.elements, tables.ids("element")))


def _element(entry: object, tables: Tables, named: Named) -> Found:
    if not isinstance(entry, Element):
        return
    yield from (("question", what) for what in unknown("question", [entry.question], tables.ids("question")))
    if entry.of not in named.lexicon.things:
        yield from (("of", what) for what in unknown("thing", [entry.of], named.lexicon.things))
    else:
        yield from (("any_of", what) for what in unknown(f'attribute of "{entry.of}"', entry.any_of, named.attributes(entry.of)))
        yield from named.where("where", entry.of, entry.where)
        yield from named.where("unless", entry.of, entry.unless)
    if entry.per and entry.per.type not in named.lexicon.things:
        yield from (("per.type", what) for what in unknown("thing", [entry.per.type], named.lexicon.things))
    elif entry.per:
        both = named.attributes(entry.per.type) & named.attributes(entry.of)
        yield from (
            ("per.same", what) for what in unknown(f'attribute of both "{entry.per.type}" and "{entry.of}"', [entry.per.same], both)
        )
        yield from named.where("per.where", entry.per.type, entry.per.where)
