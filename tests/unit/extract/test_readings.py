"""Readings of ambiguous quantities: what an attribute cannot hold goes, what is left over is asked about."""

from __future__ import annotations

import pytest

from opnote.extract.readings import fitting
from opnote.language.model import Quantity
from opnote.language.quantities import find_quantities
from opnote.lexicon import load
from tests.links import mentions_of

LEXICON = load()


def _fitted(kind: str, name: str, words: str) -> Quantity:
    [quantity] = find_quantities(words.split())
    return fitting(quantity, LEXICON.attributes[kind, name], LEXICON)


@pytest.mark.parametrize(
    ("kind", "name", "words", "value", "readings"),
    [
        ("tunnel", "diameter_mm", "nine five millimetres", 9.5, ()),
        ("graft", "length_mm", "nine five millimetres", 95.0, ()),
        ("tunnel", "depth_mm", "two eight millimetres", 28.0, ()),
        ("tunnel", "depth_mm", "nine five millimetres", 9.5, (9.5, 95.0)),
        ("tunnel", "diameter_mm", "nine millimetres", 9.0, ()),
    ],
)
def test_readings_that_an_attribute_can_hold(kind: str, name: str, words: str, value: float, readings: tuple[float, ...]) -> None:
    fitted = _fitted(kind, name, words)
    assert (fitted.value, fitted.readings) == (value, readings)


def test_each_part_of_a_pair_is_measured_by_its_own_attribute() -> None:
    diameter, length = _fitted("implant", "diameter_mm", "two seven by two three").parts
    assert (diameter.value, diameter.readings) == (2.7, (2.7, 7.0))
    assert (length.value, length.readings) == (23.0, ())


def test_none_possible_leaves_the_number_as_it_was_said() -> None:
    fitted = _fitted("tunnel", "diameter_mm", "nine five centimetres")
    assert (fitted.value, fitted.said, fitted.readings) == (95.0, (9.5, "cm"), ())


@pytest.mark.parametrize(
    ("said", "facts"),
    [
        ("The screw in the tibia expiry 05/06/2028.", ["expiry=2028-05-06", "expiry=2028-06-05"]),
        ("The screw in the tibia expiry 05/16/2028.", ["expiry=2028-05-16"]),
        ("The screw in the tibia expiry 31/04/2028.", []),
    ],
)
def test_a_date_is_a_fact_for_each_day_it_may_be(said: str, facts: list[str]) -> None:
    assert [value for _, values in mentions_of(said) for value in values if value.startswith("expiry")] == facts
