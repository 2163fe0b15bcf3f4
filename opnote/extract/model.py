"""What the linker gives on: facts, each tied to a thing of the operation and to the words it came from."""

from __future__ import annotations

from dataclasses import dataclass, field

from opnote.language.model import Quantity
from opnote.spans import RawSpan

Scalar = bool | int | float | str
LEADS = "leads clearly"  # why a candidate won by its score alone


@dataclass(frozen=True, slots=True)
class Fact:
    """One attribute of one frame. ``frame`` numbers the mention of a thing (the record joins frames that are one thing).

    A range has ``low`` and ``high`` instead of ``value``. ``spans`` are the dictated words; ``order`` is the place in the talk.
    ``superseded`` says that the speaker took it back for the value of the fact that carries the same ``frame`` and attribute.
    ``reading`` says that it is one of several values that the same words may mean, each a fact of its own.
    ``inherited`` marks what the words around lent to this frame (a bone, a ligament): the record lets a said value overrule it.
    """

    source: str
    frame: int
    type: str
    attribute: str
    value: Scalar | None
    spans: tuple[RawSpan, ...]
    order: int
    low: float | None = None
    high: float | None = None
    unit: str | None = None
    said: tuple[float, str] | None = None
    approximate: bool = False
    superseded: bool = False
    inherited: bool = False
    reading: bool = False
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Candidate:
    """One attribute that a quantity might have filled, its score and the parts of the score."""

    type: str
    attribute: str
    score: float
    parts: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Choice:
    """What the linker thought of one quantity: all candidates, best first, and the one that won (or None and why)."""

    quantity: Quantity
    candidates: tuple[Candidate, ...]
    won: Candidate | None
    why: str


@dataclass(frozen=True)
class Extraction:
    """All facts of one source and, for ``opnote trace``, every choice that was made."""

    facts: tuple[Fact, ...]
    choices: tuple[Choice, ...] = field(default=())
