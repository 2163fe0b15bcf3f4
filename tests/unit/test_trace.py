"""``opnote trace``: for a value, a second or a word, everything that was made of the words."""

from __future__ import annotations

import pytest

from opnote.errors import OpnoteError
from opnote.lexicon import load
from opnote.pipeline import Run, run
from opnote.trace import Branch, at_second, lines, of_value, of_word
from opnote.transcript import read_bytes

DICTATED = (
    b"[0:04] The femoral tunnel for the graph was reamed to um nine, no, sorry, eight millimetres. "
    b"[0:12] ACL reconstruction, left knee.\n[0:20] A staple could be used."
)


@pytest.fixture(scope="module")
def made() -> Run:
    return run(read_bytes(DICTATED, name="dictation.txt"), lexicon=load())


def _text(branches: tuple[Branch, ...]) -> str:
    return "\n".join(lines(branches))


def test_a_value_shows_words_quantity_candidates_and_why_one_won(made: Run) -> None:
    text = _text(of_value(made, "tunnel.diameter_mm"))
    assert text.startswith("tunnel.diameter_mm = 8 mm  (tunnel-")
    assert 'quantity: "eight millimetres" is length 8 mm' in text
    assert "won " in text
    assert "placed: " in text
    assert "corrected from 9 mm" in text


def test_a_second_shows_the_edits_of_hearing_and_the_facts(made: Run) -> None:
    text = _text(at_second(made, 5))
    assert 'repair: "graph" read as "graft"' in text
    assert 'filler: "um" left out' in text
    assert "diameter_mm = 8.0" in text
    assert "diameter_mm = 9.0 (taken back" in text


def test_a_word_shows_its_stance(made: Run) -> None:
    text = _text(of_word(made, "STAPLE"))
    assert "dictated: A staple could be used." in text
    assert "stance: option" in text
    assert "fact: " not in text


def test_a_word_is_found_as_it_is_read_too(made: Run) -> None:
    assert of_word(made, "graft") == of_word(made, "graph")


def test_without_a_name_every_value_is_shown(made: Run) -> None:
    values = sum(len(entity.attributes) for entity in made.record.entities)
    assert len(of_value(made)) == values


@pytest.mark.parametrize("name", ["graft.colour", "bone", "tunnel.lot"])
def test_a_value_that_is_not_there_names_those_that_are(name: str, made: Run) -> None:
    with pytest.raises(OpnoteError, match=r"it has .*tunnel"):
        of_value(made, name)


def test_a_second_of_silence(made: Run) -> None:
    with pytest.raises(OpnoteError, match=r"nothing is said at 10:00"):
        at_second(made, 600)


def test_a_second_of_an_untimed_source() -> None:
    untimed = run(read_bytes(b"Left knee.", name="dictation.txt"), lexicon=load())
    with pytest.raises(OpnoteError, match="no seconds"):
        at_second(untimed, 1)
