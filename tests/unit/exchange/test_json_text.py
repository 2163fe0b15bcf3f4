"""Records as JSON: complete, readable, and read back as they were."""

from __future__ import annotations

import json

from hypothesis import given
from hypothesis import strategies as st

from opnote.exchange import pretty, record_json, schema_json
from opnote.record.model import Record
from tests.compact import record_of

RECORD = record_of(
    [{"type": "case", "side": "left", "ebl_mL": {"value": 50, "approximate": True}}, {"type": "graft", "length_mm": {"low": 1, "high": 2}}]
)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(), lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner), max_leaves=20
)


def test_a_record_is_read_back_as_it_was() -> None:
    assert Record.model_validate_json(record_json(RECORD)) == RECORD


def test_what_says_nothing_is_left_out_inside_a_record_and_its_parts_stay() -> None:
    data = json.loads(record_json(RECORD))
    assert set(data) == set(Record.model_fields)
    assert data["findings"] == []
    assert set(data["entities"][0]["attributes"]["side"]) == {"value", "evidence"}
    assert data["entities"][0]["attributes"]["ebl_mL"]["approximate"] is True


def test_an_attribute_that_is_false_is_kept() -> None:
    record = record_of([{"type": "implant", "removed": {"value": False, "quote": "stayed in"}}])
    assert json.loads(record_json(record))["entities"][0]["attributes"]["removed"]["value"] is False


def test_the_schema_names_its_dialect_and_closes_every_part() -> None:
    schema = json.loads(schema_json())
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert all(part["additionalProperties"] is False for part in (schema, *schema["$defs"].values()))


@given(VALUES, st.integers(1, 80))
def test_pretty_json_is_the_same_json(value: object, width: int) -> None:
    assert json.loads(pretty(value, width=width)) == value


@given(st.lists(st.integers(0, 9), min_size=1))
def test_no_line_that_can_be_broken_is_too_long(value: list[int]) -> None:
    assert max(len(line) for line in pretty(value, width=20).splitlines()) <= 20
