"""The entries of ``lexicons/procedures/``: what the checks compare with."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from opnote.check.tables import Entry, Text
from opnote.lexicon.models import Bound
from opnote.record.model import Severity


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
    usual: tuple[Bound, Bound] | None = None
    also: tuple[Bound, Bound] | None = None
    hard: tuple[Bound, Bound] | None = None
    ask: bool = False

    @model_validator(mode="after")
    def _consistent(self) -> Range:
        for name, pair in (("usual", self.usual), ("also", self.also), ("hard", self.hard)):
            if pair and pair[0] > pair[1]:
                raise ValueError(f"{name}: runs from low to high")
        if self.usual and self.hard and not (self.hard[0] <= self.usual[0] and self.usual[1] <= self.hard[1]):
            raise ValueError("usual: lies inside `hard`")
        if self.ask and not self.usual:
            raise ValueError("ask: needs `usual`, the range outside which is asked")
        if not self.usual and not self.hard:
            raise ValueError("usual: is needed, or `hard`")
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
    """Words that a check treats alike.

    ``of`` says what they are: values of a vocabulary, of two of them ("structure + bone"), or attributes ("attribute").
    """

    of: str = ""
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
