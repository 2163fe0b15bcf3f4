"""Every phrase of the corpus gives the quantities it means, one case a phrase; the sealed phrases give a score alone."""

from __future__ import annotations

import pytest

from tests.unit.language.phrases import Phrase, found_in, is_dangerous, is_right, phrases

OPEN = list(phrases("quantities_*.toml"))
SEALED = [phrase for phrase in phrases("sealed_quantities*.toml") if phrase.table != "known_failure"]
SEALED_FLOOR = 0.98


def _case(phrase: Phrase) -> object:
    marks = [pytest.mark.xfail(strict=True, reason=phrase.reason)] if phrase.table == "known_failure" else []
    return pytest.param(phrase, id=f"{phrase.table}: {phrase.said}", marks=marks)


@pytest.mark.parametrize("phrase", [_case(phrase) for phrase in OPEN])
def test_phrase_means_what_the_corpus_says(phrase: Phrase) -> None:
    found = found_in(phrase.said)
    assert is_right(phrase, found), f"{phrase.said!r} should give {phrase.means}, gave {found}"


def test_sealed_phrases_reach_the_floor_and_none_is_dangerously_wrong() -> None:
    """Only counts are shown, so that the sealed phrases stay unseen while the grammar is written."""
    found = {phrase: found_in(phrase.said) for phrase in SEALED}
    right = sum(is_right(phrase, quantities) for phrase, quantities in found.items())
    dangerous = sum(is_dangerous(phrase, quantities) for phrase, quantities in found.items())
    assert (right / len(SEALED) >= SEALED_FLOOR, dangerous) == (True, 0), f"{right} of {len(SEALED)} right, {dangerous} dangerously wrong"


def test_corpus_is_large_enough() -> None:
    count = {table: sum(phrase.table == table for phrase in OPEN) for table in ("example", "never")}
    assert count["example"] >= 400, count
    assert count["never"] >= 100, count


def test_no_phrase_stands_twice() -> None:
    texts = [phrase.said for phrase in OPEN + SEALED]
    assert len(texts) == len(set(texts)), sorted(text for text in texts if texts.count(text) > 1)
