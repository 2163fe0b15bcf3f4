"""One spelling within a note: the dictation's, or the one that the house wants."""

from __future__ import annotations

from pathlib import Path

import pytest

from opnote import keeper
from opnote.check import knowledge_of, run
from opnote.lexicon import load
from opnote.note import compose, worksheet
from tests.compact import record_of

LEXICON = load()


def _speller(*texts: str) -> str:
    return LEXICON.speller(texts).written


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("general anaesthesia, nine millimetres", "British"),
        ("general anesthesia, nine millimeters", "American"),
        ("General Anesthesia. Anesthesia was smooth. Nine millimetres.", "American"),
        ("spinal, left knee", "British"),
        ("anesthesia, millimetres", "British"),
    ],
)
def test_the_dictation_tells_and_else_the_house(text: str, written: str) -> None:
    assert _speller(text) == written


def test_words_are_changed_and_quotes_are_not() -> None:
    american = LEXICON.speller(["anesthesia"])
    assert american.spelled("Anaesthesia was said as “anaesthesia” and “anaesthetic”: which colour?") == (
        "Anesthesia was said as “anaesthesia” and “anaesthetic”: which color?"
    )


@pytest.mark.parametrize("text", ["centrepiece", "colourless?", "the ACL", ""])
def test_a_part_of_a_word_is_left_alone(text: str) -> None:
    assert LEXICON.speller(["anesthesia"]).spelled(text) == text


@pytest.mark.parametrize(("dictated", "label"), [("general anaesthesia", "Anaesthesia"), ("general anesthesia", "Anesthesia")])
def test_labels_and_questions_of_one_case_agree(dictated: str, label: str) -> None:
    silent = record_of([{"type": "finding", "result": {"value": "torn", "quote": dictated}}])
    record = silent.model_copy(update={"findings": run(silent)})
    note, sheet = compose(record), worksheet(record)
    assert [line.label for _, line in note.lines() if line.attribute == "anesthesia"] == [label]
    told = " ".join(question.message for question in sheet.questions)
    assert label.lower() in told
    other = {"Anaesthesia": "anesthesia", "Anesthesia": "anaesthesia"}[label]
    assert other not in told.lower()


def test_a_house_has_its_way(tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_text('[[house]]\nid = "house"\nspelling = "American"\nsource = "s"\n', encoding="utf-8")
    assert keeper.faults([tmp_path], examples=False) == ()
    lexicon = load(folders=[tmp_path])
    record = record_of([{"type": "case", "side": {"value": "left", "quote": "left, anaesthesia"}}])
    told = " ".join(finding.message for finding in run(record, knowledge=knowledge_of(lexicon)))
    assert "anesthesia" in told
    assert "anaesthesia" not in told


def test_forms_that_do_not_pair_are_a_fault(tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_text(
        '[[spelling]]\nid = "x"\nbritish = ["grey", "greys"]\namerican = ["gray"]\nsource = "s"\n', encoding="utf-8"
    )
    [fault] = keeper.faults([tmp_path])
    assert fault.startswith("ours.toml: spelling x: american: must have a word for each of `british`")
