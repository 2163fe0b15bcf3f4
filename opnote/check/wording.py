"""How checks speak: a thing's name, a value with its words and its second, a list; so that every message is cut alike."""

from __future__ import annotations

from collections.abc import Iterable

from opnote.check.reading import evidence, spread, structures
from opnote.moments import place
from opnote.record.model import Entity, Evidence

LONGEST_QUOTE = 60
UNITS = {"mm": "mm", "deg": "°", "N": "N", "mmHg": "mmHg", "min": "min", "mL": "mL", "weeks": "weeks"}


def number(value: float) -> str:
    """A number without a needless point: 7.0 is "7"."""
    return f"{value:g}"


def when(words: Evidence) -> str:
    """The second at which something was said, as m:ss or h:mm:ss; a line where the source has no time."""
    return place(words.start_s, words.line) or "no time"


def cite(words: Iterable[Evidence]) -> str:
    """The first of some words, quoted, with its moment, for a sentence: “seven by thirty” (4:12)."""
    quote, _, moment = inside(words).rpartition(", ")
    return f"{quote} ({moment})" if quote else ""


def inside(words: Iterable[Evidence]) -> str:
    """The first of some words, quoted, with its moment, for use between brackets: “seven by thirty”, 4:12."""
    first = min(words, key=lambda e: (e.start_s if e.start_s is not None else 0.0, e.chars), default=None)
    if first is None:
        return ""
    quote = first.quote if len(first.quote) <= LONGEST_QUOTE else first.quote[: LONGEST_QUOTE - 1].rstrip() + "…"
    return f"“{quote}”, {when(first)}"


def cited(entity: Entity, name: str) -> str:
    """The words of an attribute, quoted, with their moment, for use between brackets."""
    return inside(evidence(entity, name))


def amount(entity: Entity, name: str) -> str:
    """A number with its unit: "7 mm", "18 to 22 mm"."""
    held, unit = spread(entity, name), UNITS.get(name.rpartition("_")[2], "")
    if held is None:
        return ""
    figure = number(held.low) if held.low == held.high else f"{number(held.low)} to {number(held.high)}"
    return figure + (unit if unit == "°" else f" {unit}" if unit else "")


def measure(value: float, name: str) -> str:
    """A bare number with the unit of an attribute."""
    unit = UNITS.get(name.rpartition("_")[2], "")
    return number(value) + (unit if unit == "°" else f" {unit}" if unit else "")


def listed(things: Iterable[str], *, last: str = "and") -> str:
    """Things as a list of a sentence: "a, b and c"."""
    *head, tail = tuple(things)
    return f"{', '.join(head)} {last} {tail}" if head else tail


def served(entity: Entity) -> str:
    """The structures an entity serves, as words; "" where none was said."""
    return " and ".join(sorted(structures(entity)))


def thing(entity: Entity) -> str:
    """A short name a surgeon recognises: "7 × 25 mm interference screw in the femur for sMCL"."""
    value = {name: str(a.value) for name, a in entity.attributes.items() if isinstance(a.value, str)}
    bone = f" in the {value['bone']}" if "bone" in value else ""
    what = served(entity)
    if entity.type == "implant":
        return f"{_size(entity)}{value.get('kind', 'implant')}{bone}{f' for {what}' if what else ''}"
    if entity.type == "graft":
        return " ".join(filter(None, (what, value.get("tissue", ""), "graft")))
    if entity.type == "tunnel":
        return f"{f'{what} ' if what else ''}tunnel{bone}"
    if entity.type == "tensioning":
        return f"{what or 'graft'} fixation"
    name = value.get("exam") or value.get("item") or value.get("name") or value.get("action")
    return " ".join(filter(None, (what, name or entity.type)))


def _size(entity: Entity) -> str:
    figures = [number(held.low) for name in ("diameter_mm", "length_mm") if (held := spread(entity, name)) and held.low == held.high]
    return f"{' × '.join(figures)} mm " if figures else ""
