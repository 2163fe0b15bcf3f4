"""Attributes as printed text: trade units, ranges, conflicts, clock times of the recording."""

from __future__ import annotations

from collections.abc import Mapping

from opnote.moments import moment
from opnote.note.model import Value
from opnote.record.model import Attribute, Candidate, GaveWay, Said, Scalar

NOT_DICTATED = Value("[not dictated]", "not dictated")

# UCUM codes and what the trade prints; a unit that is not listed prints as it stands.
_TRADE = {
    "deg": "°", "mm[Hg]": "mmHg", "wk": "weeks", "d": "days", "mo": "months", "a": "years", "h": "h", "[in_i]": "in",
    "[lbf_av]": "lbf", "[lb_av]": "lb", "kgf": "kgf", "1": "", "times": "",
}  # fmt: skip
_ONE = {"weeks": "week", "days": "day", "months": "month", "years": "year"}
SECOND = "s"  # of the recording: printed as its moment
_SUFFIXES = {"mm": "mm", "deg": "deg", "N": "N", "mmHg": "mm[Hg]", "min": "min", "mL": "mL", "weeks": "wk", "s": "s"}


def suffix_unit(attribute: str) -> str | None:
    """The UCUM code that an attribute's name fixes ("depth_mm": "mm"), if it fixes one."""
    return _SUFFIXES.get(attribute.rpartition("_")[2]) if "_" in attribute else None


def number(value: float) -> str:
    """A number as short as it can be written.

    >>> number(8.0), number(4.75)
    ('8', '4.75')
    """
    return f"{value:.12g}"


def scalar(value: Scalar) -> str:
    """A value without its unit; truth reads "yes" or "no"."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return number(value) if isinstance(value, int | float) else " ".join(value.split())


def with_unit(text: str, unit: str | None, *, one: bool = False) -> str:
    """A number's text with the trade's unit behind it.

    >>> with_unit("250", "mm[Hg]"), with_unit("20", "deg"), with_unit("1", "wk", one=True)
    ('250 mmHg', '20°', '1 week')
    """
    trade = _TRADE.get(unit, unit) if unit else ""
    if one:
        trade = _ONE.get(trade, trade)
    if not trade:
        return text
    return f"{text}°" if trade == "°" else f"{text} {trade}"


def span(low: float | None, high: float | None) -> str:
    """A range without its unit.

    >>> span(25, 30), span(-5, 130), span(None, 30)
    ('25-30', '-5 to 130', 'up to 30')
    """
    if low is None or high is None:
        return f"up to {number(high)}" if high is not None else f"at least {number(low or 0)}"
    return f"{number(low)} to {number(high)}" if low < 0 or high < 0 else f"{number(low)}-{number(high)}"


def _one(held: Attribute | Candidate, unit: str | None) -> str:
    if held.low is not None or held.high is not None:
        return with_unit(span(held.low, held.high), unit)
    value = held.value
    if value is None or isinstance(value, tuple):
        raise ValueError("a single value, a range or candidates")
    numeric = isinstance(value, int | float) and not isinstance(value, bool)
    if unit == SECOND and isinstance(value, int | float):
        return moment(value)
    return with_unit(scalar(value), unit, one=value == 1) if numeric else scalar(value)


def candidate_text(candidate: Candidate, unit: str | None) -> str:
    """One of several values, or a superseded one, as printed."""
    return _one(candidate, unit)


_GAVE_WAY: Mapping[GaveWay | None, str] = {
    None: "corrected from {}",
    "correction": "corrected from {}",
    "addendum": "changed in an addendum from {}",
    "interim": "called out before its end: {}",
    "earlier": "before that: {}",
}


def gave_way(candidate: Candidate, unit: str | None) -> str:
    """A value that gave way to a later one, with the reason."""
    return _GAVE_WAY[candidate.gave_way].format(candidate_text(candidate, unit))


def said_text(said: Said) -> str:
    """A quantity as it was spoken, before conversion."""
    return with_unit(number(said.value), said.unit, one=said.value == 1)


def _period(attribute: Attribute) -> str:
    """A period that was said in days or months, as it was said: "10 days" rather than "1.42857 weeks"."""
    said = attribute.said
    return said_text(said) if said and attribute.value is not None and said.unit in ("d", "mo", "a") else ""


def values_of(attribute: Attribute, unit: str | None) -> tuple[Value, ...]:
    """An attribute as printed values: one, or one for each member of a list. ``unit`` is a UCUM code."""
    unit = attribute.unit or unit
    if attribute.candidates:
        texts = " / ".join(candidate_text(candidate, unit) for candidate in attribute.candidates)
        evidence = tuple(piece for candidate in attribute.candidates for piece in candidate.evidence)
        return (Value(f"[conflict: {texts}]", "conflict", evidence),)
    if isinstance(attribute.value, tuple):
        return tuple(Value(scalar(member), evidence=attribute.evidence) for member in attribute.value)
    text = _period(attribute) or _one(attribute, unit)
    return (Value(f"about {text}" if attribute.approximate else text, evidence=attribute.evidence),)
