"""What the checks know: structures, ranges, limits, orders, word lists and profiles, all read from ``lexicons/``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Annotated, Literal, TypeVar

from pydantic import Field, model_validator

from opnote.check.profiles import Profiles, read_profiles
from opnote.check.tables import Entry, Text, read_tables
from opnote.lexicon import AttributeEntry, Lexicon, load
from opnote.record.model import Severity
from opnote.resources import lexicons_dir

Pair = tuple[float, float]


class Sourced(Entry):
    """An entry that states something about surgery, and therefore says who says so."""

    source: Text


class Structure(Sourced):
    """A ligament: where it is, and how its graft is never fixed.

    compartment     medial, lateral, central or patellar
    bones           bones its tunnels and implants can stand in
    never_stress    stresses under which its fixation makes no sense; ``stress`` is the one that closes its side
    exam            the examination that opens the knee when it is torn
    never_rotation  rotations of the tibia that slacken its graft
    never_landmark  landmarks of the other side; ``but_landmark`` lists ``BONE LANDMARK`` pairs that are all the same measured from
    """

    compartment: Literal["medial", "lateral", "central", "patellar"]
    bones: tuple[Text, ...]
    stress: str = ""
    exam: str = ""
    never_stress: tuple[Text, ...] = ()
    never_rotation: tuple[Text, ...] = ()
    never_landmark: tuple[Text, ...] = ()
    but_landmark: tuple[Text, ...] = ()


class Range(Sourced):
    """Plausible values of an attribute, for entities that fit ``where`` (attribute -> allowed values).

    usual   outside it a value is odd: asked about only if ``ask`` is true, used for hints in any case; ``also`` is a second usual range
    hard    outside it a value is almost always a slip of unit, digit or slot
    """

    type: Text
    attribute: Text
    where: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    usual: Pair | None = None
    also: Pair | None = None
    hard: Pair | None = None
    ask: bool = False

    @model_validator(mode="after")
    def _consistent(self) -> Range:
        for pair in (self.usual, self.also, self.hard):
            if pair and pair[0] > pair[1]:
                raise ValueError("a range runs from low to high")
        if self.usual and self.hard and not (self.hard[0] <= self.usual[0] and self.usual[1] <= self.hard[1]):
            raise ValueError("the usual range lies inside the hard one")
        if self.ask and not self.usual:
            raise ValueError("`ask` needs a usual range")
        if not self.usual and not self.hard:
            raise ValueError("a range needs `usual` or `hard`")
        return self


class Limit(Sourced):
    """A number, or two, that a check compares with: ``low`` and ``high`` are the last values that raise nothing."""

    low: float = float("-inf")
    high: float = float("inf")


class Order(Sourced):
    """Two events of a case, the earlier one first."""

    first: Text
    then: Text
    severity: Severity = "stop"


class WordList(Sourced):
    """Words that a check treats alike."""

    members: Annotated[tuple[Text, ...], Field(min_length=1)]


class Off(Sourced):
    """A check (``id``) that a site has switched off; the source says who decided it."""


TABLES: dict[str, type[Entry]] = {
    "structure": Structure,
    "range": Range,
    "limit": Limit,
    "order": Order,
    "list": WordList,
    "off": Off,
}
E_ = TypeVar("E_", bound=Entry)


@dataclass(frozen=True)
class Knowledge:
    """All of it, by id; ranges by type and attribute; ``attributes`` is the lexicon's attribute table."""

    structures: Mapping[str, Structure]
    ranges: Mapping[tuple[str, str], tuple[Range, ...]]
    limits: Mapping[str, Limit]
    orders: tuple[Order, ...]
    lists: Mapping[str, WordList]
    attributes: Mapping[tuple[str, str], AttributeEntry]
    profiles: Profiles
    off: tuple[str, ...] = ()

    def members(self, name: str) -> frozenset[str]:
        """The words of a list."""
        return frozenset(self.lists[name].members)

    def label(self, type: str, attribute: str) -> str:
        """What people read for an attribute."""
        entry = self.attributes.get((type, attribute))
        return entry.label if entry else attribute.rpartition("_")[0].replace("_", " ") or attribute


def knowledge_of(lexicon: Lexicon, *, folders: Sequence[Path] = ()) -> Knowledge:
    """The knowledge of the built-in lexicons with the ``procedures`` and ``profiles`` of ``folders`` laid over them.

    Raises ``LexiconError`` with every fault.
    """
    roots = (lexicons_dir(), *folders)
    tables = read_tables([root / "procedures" for root in roots], TABLES)

    def of(table: str, model: type[E_]) -> dict[str, E_]:
        return {id: entry for id, entry in tables[table].items() if isinstance(entry, model)}

    return Knowledge(
        structures=of("structure", Structure),
        ranges=_by_attribute(of("range", Range).values()),
        limits=of("limit", Limit),
        orders=tuple(of("order", Order).values()),
        lists=of("list", WordList),
        attributes=lexicon.attributes,
        profiles=read_profiles([root / "profiles" for root in roots]),
        off=tuple(of("off", Off)),
    )


def _by_attribute(ranges: Iterable[Range]) -> dict[tuple[str, str], tuple[Range, ...]]:
    """Ranges under their type and attribute, those with the most conditions first."""
    found: dict[tuple[str, str], tuple[Range, ...]] = {}
    for bounds in sorted(ranges, key=lambda bounds: -len(bounds.where)):
        key = (bounds.type, bounds.attribute)
        found[key] = (*found.get(key, ()), bounds)
    return found


@cache
def built_in() -> Knowledge:
    """The knowledge of the built-in lexicons alone; read once."""
    return knowledge_of(load())
