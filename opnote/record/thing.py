"""A thing of the record while it is put together: all facts of it, and what they are worth."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from functools import cached_property

from opnote.extract.model import Fact, Scalar

Worth = tuple[Scalar | None, float | None, float | None]  # a value, or a range's low and high
NOTHING: frozenset[Worth] = frozenset()


@dataclass(frozen=True)
class Thing:
    """All facts of one entity, in the order they were said."""

    type: str
    facts: tuple[Fact, ...]

    def values(self, name: str) -> frozenset[Worth]:
        """What an attribute is worth, by the facts that stand (not those taken back)."""
        return self._standing.get(name, NOTHING)

    def said(self, name: str) -> frozenset[Worth]:
        """As ``values``, without what only the words around lent."""
        return self._said.get(name, NOTHING)

    def taken_back(self, name: str) -> frozenset[Worth]:
        """What an attribute was said to be worth and is not."""
        return self._taken_back.get(name, NOTHING)

    @property
    def names(self) -> Collection[str]:
        """The attributes that something standing was said of."""
        return self._standing.keys()

    @cached_property
    def _standing(self) -> dict[str, frozenset[Worth]]:
        return _by_name(f for f in self.facts if not f.superseded)

    @cached_property
    def _said(self) -> dict[str, frozenset[Worth]]:
        return _by_name(f for f in self.facts if not f.superseded and not f.inherited)

    @cached_property
    def _taken_back(self) -> dict[str, frozenset[Worth]]:
        return _by_name(f for f in self.facts if f.superseded)


def _by_name(facts: Iterable[Fact]) -> dict[str, frozenset[Worth]]:
    worth: dict[str, set[Worth]] = {}
    for fact in facts:
        worth.setdefault(fact.attribute, set()).add((fact.value, fact.low, fact.high))
    return {name: frozenset(values) for name, values in worth.items()}
