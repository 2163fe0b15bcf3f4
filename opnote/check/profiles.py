"""Profiles of required elements: which standard asks for what, as data; and what of it a record leaves unsaid."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Annotated, TypeVar

from pydantic import BaseModel, ConfigDict, Field, model_validator

from opnote.check.tables import Entry, Tables, Text
from opnote.errors import OpnoteError
from opnote.lexicon.plain import nearest
from opnote.record.model import Entity, Record, Severity

RANK: dict[Severity, int] = {"stop": 0, "ask": 1, "info": 2}


class Question(Entry):
    """The sentence that asks for elements; ``{things}`` is replaced by what was not said."""

    text: Text

    @model_validator(mode="after")
    def _has_things(self) -> Question:
        if "{things}" not in self.text:
            raise ValueError("text: must have {things}, in the place of what was not said")
        return self


class Per(BaseModel):
    """For each entity of another type that fits ``where``, the element is needed with the same value of ``same``."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    type: Text
    where: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    same: Text


class Element(Entry):
    """Something a note must say.

    of       the entity type that carries it; every entity of it that fits ``where`` is looked at, except those that fit ``unless``
    any_of   attributes of which one must have been said; empty: one entity of the type is enough
    per      see ``Per``: then the element is looked for once for each value
    """

    label: Text
    of: Text
    any_of: tuple[Text, ...] = ()
    where: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    unless: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    per: Per | None = None
    severity: Severity
    question: Text

    @property
    def about(self) -> str | None:
        """The attribute that a finding on this element names."""
        return self.any_of[0] if self.any_of else None


class Profile(Entry):
    """A standard that lists required elements."""

    title: Text
    source: Text


class Row(Entry):
    """A row of a standard: the element it asks for. ``id`` is the row's own name ("CMS-6")."""

    profile: Text
    elements: Annotated[tuple[Text, ...], Field(min_length=1)]


PROFILE_TABLES: dict[str, type[Entry]] = {"profile": Profile, "row": Row, "element": Element, "question": Question}
E_ = TypeVar("E_", bound=Entry)


@dataclass(frozen=True)
class Profiles:
    """All profiles, their rows and elements; ``selected`` are the profiles in force."""

    profiles: Mapping[str, Profile]
    rows: tuple[Row, ...]
    elements: Mapping[str, Element]
    questions: Mapping[str, Question]
    selected: tuple[str, ...] = ()

    def select(self, names: Iterable[str]) -> Profiles:
        """The same with other profiles in force. Raises ``OpnoteError`` for a name that is not known."""
        names = tuple(names)
        for name in names:
            if name not in self.profiles:
                raise OpnoteError(f'no profile "{name}"', hint=nearest(name, self.profiles))
        return replace(self, selected=names)

    def required(self) -> Iterator[tuple[Element, tuple[str, ...]]]:
        """Each element that a selected profile asks for, once, with the rows that ask for it."""
        for element in self.elements.values():
            rows = tuple(row.id for row in self.rows if row.profile in self.selected and element.id in row.elements)
            if rows:
                yield element, rows


@dataclass(frozen=True, slots=True)
class Unsaid:
    """A required element that the record lacks: at an entity, for a value of ``per.same``, or altogether."""

    element: Element
    rows: tuple[str, ...]
    entity: Entity | None = None
    value: str = ""


def profiles_of(tables: Tables) -> Profiles:
    """The profiles of the entries that were read."""

    def of(table: str, model: type[E_]) -> dict[str, E_]:
        return {id: entry for id, entry in tables.entries[table].items() if isinstance(entry, model)}

    return Profiles(of("profile", Profile), tuple(of("row", Row).values()), of("element", Element), of("question", Question))


def fits(entity: Entity, where: Mapping[str, tuple[str, ...]]) -> bool:
    """Whether an entity has, for every attribute of ``where``, only values that are allowed there (a list: all of them)."""
    return all((held := texts(entity, name)) and held <= set(allowed) for name, allowed in where.items())


def texts(entity: Entity, name: str) -> frozenset[str]:
    """The words an attribute holds: one, several for a list, none where it is absent, a number or not settled."""
    attribute = entity.attributes.get(name)
    value = attribute.value if attribute else None
    return frozenset(v for v in (value if isinstance(value, tuple) else (value,)) if isinstance(v, str))


def unsaid(record: Record, element: Element, rows: tuple[str, ...]) -> Iterator[Unsaid]:
    """What a record leaves unsaid of one element."""
    entities = [entity for entity in record.of(element.of) if fits(entity, element.where)]
    if element.per:
        yield from (Unsaid(element, rows, None, value) for value in _lacking(record, element, element.per))
    elif not element.any_of or (element.of == "case" and not entities):
        if not entities:
            yield Unsaid(element, rows)
    else:
        for entity in entities:
            if not set(element.any_of) & set(entity.attributes) and not (element.unless and fits(entity, element.unless)):
                yield Unsaid(element, rows, entity)


def _lacking(record: Record, element: Element, per: Per) -> list[str]:
    """The values of ``per.same`` for which no entity says the element, in the order they were said."""
    allowed = set(per.where.get(per.same, ()))
    rest = {name: values for name, values in per.where.items() if name != per.same}
    wanted = [v for e in record.of(per.type) if fits(e, rest) for v in sorted(texts(e, per.same)) if not allowed or v in allowed]
    said = {v for e in record.of(element.of) if set(element.any_of) & set(e.attributes) for v in texts(e, per.same)}
    return [value for value in dict.fromkeys(wanted) if value not in said]
