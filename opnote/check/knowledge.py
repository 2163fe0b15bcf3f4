"""What the checks know: structures, ranges, limits, orders, word lists and profiles, all read from ``lexicons/``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TypeVar

from opnote.check import registry
from opnote.check.entries import TABLES, Limit, Off, Order, WordList
from opnote.check.entries import Range as Range
from opnote.check.entries import Structure as Structure
from opnote.check.profiles import PROFILE_TABLES, Profiles, profiles_of
from opnote.check.references import Named, procedure_faults, profile_faults
from opnote.check.tables import Entry, read_tables
from opnote.errors import LexiconError
from opnote.lexicon import AttributeEntry, Lexicon, load
from opnote.resources import lexicons_dir

E_ = TypeVar("E_", bound=Entry)


@dataclass(frozen=True)
class Knowledge:
    """All of it, by id; ranges by type and attribute; ``lexicon`` is what they speak of."""

    structures: Mapping[str, Structure]
    ranges: Mapping[tuple[str, str], tuple[Range, ...]]
    limits: Mapping[str, Limit]
    orders: tuple[Order, ...]
    lists: Mapping[str, WordList]
    lexicon: Lexicon
    profiles: Profiles
    off: tuple[str, ...] = ()

    @property
    def attributes(self) -> Mapping[tuple[str, str], AttributeEntry]:
        """The lexicon's attribute table."""
        return self.lexicon.attributes

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
    profiles = read_tables([root / "profiles" for root in roots], PROFILE_TABLES)
    named = Named(lexicon, _rules(), {table: read_tables([roots[0] / "procedures"], TABLES).ids(table) for table in ("limit", "list")})
    faults = [*tables.faults, *procedure_faults(tables, named), *profiles.faults, *profile_faults(profiles, named)]
    if faults:
        raise LexiconError(faults)

    def of(table: str, model: type[E_]) -> dict[str, E_]:
        return {id: entry for id, entry in tables.entries[table].items() if isinstance(entry, model)}

    return Knowledge(
        structures=of("structure", Structure),
        ranges=_by_attribute(of("range", Range).values()),
        limits=of("limit", Limit),
        orders=tuple(of("order", Order).values()),
        lists=of("list", WordList),
        lexicon=lexicon,
        profiles=profiles_of(profiles),
        off=tuple(of("off", Off)),
    )


def _rules() -> frozenset[str]:
    """The ids and the names of all checks, by either of which one may be switched off."""
    return frozenset(name for check in registry.checks() for name in (check.id, check.slug))


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
