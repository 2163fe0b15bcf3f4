"""Each entry of lexicons/mishearings repairs its example, leaves its counter-example.

The rules of the folder's README that `opnote lexicon check` holds stand in ``tests/unit/lexicon/test_guarded.py``.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from opnote.hearing import Heard
from opnote.hearing.protected import is_number
from opnote.lexicon import Mishearing, load

ENTRIES = [pytest.param(entry, id=entry.id) for entry in load().mishearings]


@pytest.mark.parametrize("entry", ENTRIES)
def test_its_example_is_repaired_or_doubted(entry: Mishearing, heard: Callable[[str], Heard]) -> None:
    result = heard(entry.example)
    assert entry.id in {edit.why for edit in result.edits} | {reading.why for reading in result.readings}


@pytest.mark.parametrize("entry", ENTRIES)
def test_its_counter_example_is_left_alone(entry: Mishearing, heard: Callable[[str], Heard]) -> None:
    result = heard(entry.counter_example)
    assert entry.counter_example
    assert (result.text, result.edits, result.readings) == (entry.counter_example, (), ())


@pytest.mark.parametrize("entry", ENTRIES)
def test_a_word_read_as_a_number_keeps_away_from_numbers(entry: Mishearing) -> None:
    """Only in an identifier that is read out may it stand beside one; units may, they follow a number."""
    if is_number(entry.meant):
        in_identifier = entry.id.endswith("-in-identifier") and all(set("@*") & set(phrase) for phrase in entry.only_near)
        assert in_identifier or {"# _", "_ #"} <= set(entry.never_near)
