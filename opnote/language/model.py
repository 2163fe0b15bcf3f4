"""What language understands of a text: quantities, terms and statements, as places in one spaCy ``Doc``."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

QuantityKind = Literal[
    "length", "angle", "force", "pressure", "volume", "mass", "duration", "period", "percent", "clock", "date", "grade",
    "count", "number", "pair", "suture size", "identifier", "age", "ordinal",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Quantity:
    """A spoken quantity: tokens ``start`` (included) to ``end`` (excluded) of the Doc, and what they are worth.

    kind and canonical unit (UCUM): length mm · angle deg · force N · pressure mm[Hg] · volume mL · mass mg or g as said ·
    duration min (minutes, hours, seconds) · period wk (days and weeks; months keep mo, years a) · percent % ·
    clock "HH:MM" · date "YYYY-MM-DD" or "YYYY-MM" · grade "2", "2+", "2B" · count (of things or times) ·
    number (no unit said) · pair ("seven by twenty-three": ``parts`` has the two) · suture size ("2-0", "#2") · identifier
    ("K4172-B") · age · ordinal.

    A range has ``low`` and ``high`` and no ``value``. ``said`` is the number and unit as spoken when they were converted
    ("24", "cm"). ``readings`` holds the possible values when the words are ambiguous ("nine five": 9.5, 95; "3/4/2026": two days);
    ``value`` is then the likelier one, and of a date or an identifier there is none. A date without value and readings is no day of
    any calendar, or has no year. ``why`` names the rules that made it, innermost first.
    """

    start: int
    end: int
    kind: QuantityKind
    value: float | str | None = None
    low: float | None = None
    high: float | None = None
    unit: str | None = None
    said: tuple[float, str] | None = None
    approximate: bool = False
    parts: tuple[Quantity, ...] = ()
    readings: tuple[float | str, ...] = ()
    why: tuple[str, ...] = field(default=())
