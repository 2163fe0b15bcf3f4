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
    """No member of a pair stands alone in ``heard``, and no number or negation goes without a question."""
    for phrase in entry.heard:
        words = [word.low for word in words_of(phrase)]
        assert len(words) > 1 or words[0] not in FLIPS, phrase
        lost = [word for word in words if (is_number(word) or word in NEGATIONS) and word not in entry.meant]
        assert entry.flip or not lost, phrase


@pytest.mark.parametrize("entry", ENTRIES)
def test_a_word_with_an_opposite_is_asked_about(entry: Mishearing) -> None:
    meant = {word.low for word in words_of(entry.meant)}
    heard = {word.low for phrase in entry.heard for word in words_of(phrase)}
    asked = NEGATIONS | {"varus", "valgus", "anterior", "peroneal", "bicortical", "unicortical", "adductor", "cefazolin"}
    assert entry.flip or not (meant - heard) & asked


@pytest.mark.parametrize("entry", ENTRIES)
def test_a_word_read_as_a_number_keeps_away_from_numbers(entry: Mishearing) -> None:
    """Only in an identifier that is read out may it stand beside one; units may, they follow a number."""
    if is_number(entry.meant):
        in_identifier = entry.id.endswith("-in-identifier") and all(set("@*") & set(phrase) for phrase in entry.only_near)
        assert in_identifier or {"# _", "_ #"} <= set(entry.never_near)
