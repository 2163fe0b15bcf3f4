"""Each entry of lexicons/mishearings repairs its example, leaves its counter-example, and keeps the rules of the folder's README."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from opnote.hearing import Heard
from opnote.hearing.protected import FLIPS, NEGATIONS, is_number
from opnote.hearing.words import words_of
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
def test_it_never_makes_a_protected_word_another(entry: Mishearing) -> None:
    """No valid number, negation or member of a pair stands alone in ``heard``."""
    for phrase in entry.heard:
        words = [word.low for word in words_of(phrase)]
        assert len(words) > 1 or not (is_number(words[0]) or words[0] in NEGATIONS or words[0] in FLIPS), phrase


@pytest.mark.parametrize("entry", ENTRIES)
def test_a_number_or_a_word_with_an_opposite_is_asked_about(entry: Mishearing) -> None:
    meant = [word.low for word in words_of(entry.meant)]
    heard = {word.low for phrase in entry.heard for word in words_of(phrase)}
    changes = [
        word for word in meant if word not in heard and (is_number(word) or word in NEGATIONS or word in {"varus", "valgus", "anterior"})
    ]
    assert entry.flip or not changes
