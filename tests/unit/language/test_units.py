"""The table of units: its factors against the definitions they come from, its codes against the UCUM grammar where a library has it."""

from __future__ import annotations

import pytest

from opnote.language.quantities import find_quantities
from opnote.language.quantities.units import ALL, Unit

# Exact by definition: inch and pound (international yard and pound agreement, 1959), standard gravity (ISO 80000-3), as Python sees them.
DEFINED = {
    "cm": 10.0,
    "m": 1000.0,
    "[in_i]": 25.4,
    "[lbf_av]": 4.4482216152605,
    "kgf": 9.80665,
    "[lb_av]": 0.45359237,
    "L": 1000.0,
    "h": 60.0,
    "s": 1 / 60,
    "d": 1 / 7,
    "fortnight": 2.0,
}
PINT_NAMES = {
    "mm": "millimeter", "cm": "centimeter", "m": "meter", "[in_i]": "inch", "deg": "degree", "N": "newton", "[lbf_av]": "pound_force",
    "kgf": "kilogram_force", "[lb_av]": "pound", "mm[Hg]": "millimeter_Hg", "mL": "milliliter", "L": "liter", "g": "gram",
    "mg": "milligram", "ug": "microgram", "kg": "kilogram",
    "s": "second", "min": "minute", "h": "hour", "d": "day", "wk": "week", "fortnight": "fortnight",
}  # fmt: skip


@pytest.mark.parametrize("unit", ALL, ids=lambda unit: unit.code)
def test_factor_is_the_defined_one(unit: Unit) -> None:
    assert unit.factor == pytest.approx(DEFINED.get(unit.code, 1.0), rel=1e-12)


@pytest.mark.parametrize("unit", [unit for unit in ALL if unit.code in PINT_NAMES], ids=lambda unit: unit.code)
def test_factor_agrees_with_pint(unit: Unit) -> None:
    pint = pytest.importorskip("pint", reason="pint is an optional reference")
    registry = pint.UnitRegistry()
    expected = registry.Quantity(1, PINT_NAMES[unit.code]).to(PINT_NAMES[unit.canonical]).magnitude
    assert unit.factor == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("said", "value", "unit"),
    [
        ("one inch", 25.4, "mm"),
        ("ten pounds", 44.48, "N"),
        ("ten kilograms of force", 98.07, "N"),
        ("a litre", 1000.0, "mL"),
        ("one hour", 60.0, "min"),
        ("ninety seconds", 1.5, "min"),
        ("ten days", 1.43, "wk"),
        ("two hundred and fifty millimetres of mercury", 250.0, "mm[Hg]"),
        ("thirty ccs", 30.0, "mL"),
    ],
)
def test_said_units_become_canonical_ones(said: str, value: float, unit: str) -> None:
    [quantity] = find_quantities(said.split())
    assert (quantity.value, quantity.unit) == (value, unit)
