"""What is found in a phrase and why, as rows for people: keepers of the lexicons and writers of bug reports."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Final, NamedTuple

from opnote.language.model import Quantity
from opnote.language.quantities.identifiers import DEFAULT_IDENTIFIER_CUES
from opnote.language.quantities.scan import scan

_NAMES: Final = {
    "deg": "degrees", "[in_i]": "inches", "[lbf_av]": "pounds of force", "[lb_av]": "pounds", "kgf": "kilograms of force",
    "mm[Hg]": "mmHg", "ug": "micrograms", "s": "seconds", "min": "minutes", "h": "hours", "d": "days", "wk": "weeks",
    "fortnight": "fortnights", "mo": "months", "a": "years", "m": "metres", "L": "litres", "N": "newtons",
}  # fmt: skip
"""What people call the units whose code (UCUM) they would not read at once."""
_BOUND, _READINGS, _CLOCK, _UNIT = "bound=", "readings=", "clock=", "unit "


class Explained(NamedTuple):
    """One quantity in words: what was said, its kind, its value as text ("25 to 30", "7 x 23", "9.5 or 95"), unit and rules.

    ``unit`` is the canonical one's code, ``as_said`` the number and unit that were spoken, where they were converted ("2.5 inches").
    """

    words: str
    kind: str
    value: str
    unit: str
    why: str
    as_said: str = ""


def explain_quantities(
    words: Sequence[str], *, identifier_cues: Collection[tuple[str, ...]] = DEFAULT_IDENTIFIER_CUES
) -> tuple[Explained, ...]:
    """The quantities of ``words`` (token texts), explained.

    >>> [row] = explain_quantities("about seven or eight millimetres".split())
    >>> row.words, row.value, row.unit, row.why
    ('about seven or eight millimetres', 'about 7 to 8', 'mm', 'number; range: or; unit mm')
    """
    found = scan(words, identifier_cues)
    return tuple(explained(quantity, " ".join(words[quantity.start : quantity.end])) for quantity in found)


def explained(quantity: Quantity, words: str) -> Explained:
    """``quantity``, which stands in ``words``, explained."""
    rules = "; ".join(_rule(reason) for reason in quantity.why if not reason.startswith((_BOUND, _READINGS, _CLOCK)))
    as_said = _counted(*quantity.said) if quantity.said else _in_days(quantity)
    return Explained(words, quantity.kind, worth(quantity), quantity.unit or "", rules, as_said)


def _in_days(quantity: Quantity) -> str:
    """A range of weeks that was said in days, in days ("day ten to fourteen"); "" for any other quantity."""
    if quantity.unit != "wk" or quantity.low is None or quantity.high is None or quantity.low.is_integer() or quantity.high.is_integer():
        return ""
    return f"{quantity.low * 7:.0f} to {quantity.high * 7:.0f} days"


def _counted(number: float, unit: str) -> str:
    """A number with its unit, "1 hour", "2.5 inches"."""
    name = unit_name(unit)
    return (
        f"{number:g} {'inch' if name == 'inches' else name.removesuffix('s')}" if number == 1 and unit in _NAMES else f"{number:g} {name}"
    )


def unit_name(code: str) -> str:
    """What people call a unit: "inches" for ``[in_i]``; the code itself where it is plain ("mm")."""
    return _NAMES.get(code, "" if code == "times" else code)


def _rule(reason: str) -> str:
    if reason.startswith(_UNIT):
        name = unit_name(reason.removeprefix(_UNIT))
        return f"{_UNIT}{name}" if name else "counted"
    before, _, last = reason.rpartition(" ")
    return f"{before} {unit_name(last)}" if reason.startswith("said ") and last in _NAMES else reason


def worth(quantity: Quantity) -> str:
    """What a quantity is worth, without its unit: "about 7 to 8", "at least 60", "7 x 23", "2.7, 27 or 7 x 20", "no certain value"."""
    bound = next((f"{reason.removeprefix(_BOUND)} " for reason in quantity.why if reason.startswith(_BOUND)), "")
    return bound + ("about " if quantity.approximate else "") + _value(quantity)


def _value(quantity: Quantity) -> str:
    if quantity.parts:
        return " x ".join(_value(part) for part in quantity.parts)
    if quantity.low is not None and quantity.high is not None:
        return f"{quantity.low:g} to {quantity.high:g}"
    if quantity.readings:
        *others, last = (_scalar(reading) for reading in quantity.readings)
        return f"{', '.join(others)} or {last}" if others else last
    if quantity.value is None:
        return "no certain value"
    clock = next((reason.removeprefix(_CLOCK) for reason in quantity.why if reason.startswith(_CLOCK)), None)
    return f"{_scalar(quantity.value)} or {clock}" if clock else _scalar(quantity.value)


def _scalar(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:g}"
