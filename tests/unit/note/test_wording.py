"""Attributes as the note prints them."""

from __future__ import annotations

from typing import Any

import pytest

from opnote.note.wording import gave_way, said_text, suffix_unit, values_of
from opnote.record.model import Attribute, Candidate, Evidence, GaveWay, Said

WORDS = Evidence(source="dictation", start_s=67.9, chars=(0, 5), quote="words")


def attribute(**held: Any) -> Attribute:
    return Attribute(**{"evidence": (WORDS,), **held})


@pytest.mark.parametrize(
    ("held", "unit", "printed"),
    [
        ({"value": 8.0}, "mm", "8 mm"),
        ({"value": 4.75}, "mm", "4.75 mm"),
        ({"value": 20}, "deg", "20°"),
        ({"value": -5}, "deg", "-5°"),
        ({"value": 250}, "mm[Hg]", "250 mmHg"),
        ({"value": 80, "approximate": True}, "N", "about 80 N"),
        ({"value": 1}, "wk", "1 week"),
        ({"value": 6}, "wk", "6 weeks"),
        ({"value": 4}, None, "4"),
        ({"value": "2B"}, None, "2B"),
        ({"value": True}, None, "yes"),
        ({"value": False}, None, "no"),
        ({"low": 25, "high": 30}, "mm", "25-30 mm"),
        ({"low": -5, "high": 130}, "deg", "-5 to 130°"),
        ({"low": 25}, "mm", "at least 25 mm"),
        ({"high": 30}, "mm", "up to 30 mm"),
        ({"low": 25, "high": 30, "approximate": True}, "mm", "about 25-30 mm"),
    ],
)
def test_a_value_is_printed_with_the_trades_unit(held: dict[str, Any], unit: str | None, printed: str) -> None:
    (value,) = values_of(attribute(**held), unit)
    assert (value.text, value.state, value.evidence) == (printed, "said", (WORDS,))


def test_the_records_own_unit_goes_before_the_tables() -> None:
    (value,) = values_of(attribute(value=3, unit="d"), "wk")
    assert value.text == "3 days"


def test_a_list_is_printed_value_by_value() -> None:
    assert [value.text for value in values_of(attribute(value=("general", "regional")), None)] == ["general", "regional"]


def test_an_open_conflict_shows_all_candidates_and_their_evidence() -> None:
    other = WORDS.model_copy(update={"start_s": 70.0})
    candidates = (Candidate(value=8, evidence=(WORDS,)), Candidate(low=9, high=10, evidence=(other,)))
    (value,) = values_of(Attribute(candidates=candidates), "mm")
    assert (value.text, value.state, value.evidence) == ("[conflict: 8 mm / 9-10 mm]", "conflict", (WORDS, other))


def test_a_period_said_in_days_is_printed_in_days() -> None:
    (value,) = values_of(attribute(value=10 / 7, unit="wk", said=Said(value=10, unit="d")), "wk")
    assert value.text == "10 days"


def test_a_length_said_in_centimetres_is_printed_in_the_tables_unit() -> None:
    (value,) = values_of(attribute(value=280, unit="mm", said=Said(value=28, unit="cm")), "mm")
    assert value.text == "280 mm"
    assert said_text(Said(value=28, unit="cm")) == "28 cm"


def test_a_second_of_the_recording_is_printed_as_its_moment() -> None:
    (value,) = values_of(attribute(value=5348.1, unit="s"), "s")
    assert value.text == "1:29:08"


@pytest.mark.parametrize(
    ("why", "printed"),
    [
        ("correction", "corrected from 60 min"),
        ("addendum", "changed in an addendum from 60 min"),
        ("interim", "called out before its end: 60 min"),
        ("earlier", "before that: 60 min"),
    ],
)
def test_a_value_that_gave_way_is_printed_with_the_reason(why: GaveWay, printed: str) -> None:
    assert gave_way(Candidate(value=60, evidence=(WORDS,), gave_way=why), "min") == printed


@pytest.mark.parametrize(
    ("name", "unit"), [("diameter_mm", "mm"), ("tourniquet_mmHg", "mm[Hg]"), ("to_weeks", "wk"), ("end_point", None), ("lot", None)]
)
def test_a_name_may_fix_a_unit(name: str, unit: str | None) -> None:
    assert suffix_unit(name) == unit
