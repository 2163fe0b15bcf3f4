"""One attribute from all that was said of it: values, lists, candidates, superseded ones, and their evidence."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from opnote.lexicon import AttributeEntry
from opnote.record.attributes import attribute, by_worth
from opnote.record.model import Attribute
from opnote.transcript import Transcript
from tests.unit.record.told import facts, only, record, transcript

SOURCES: dict[str, Transcript] = {source: transcript("x" * 2000, source=source) for source in ("dictation", "addendum-1")}


def _entry(**fields: object) -> AttributeEntry:
    return AttributeEntry.model_validate({"type": "tunnel", "name": "x", "label": "x", "value": "words", "source": "test", **fields})


def _attribute(*mentions: str, source: str = "dictation", **fields: object) -> Attribute | None:
    return attribute(facts("tunnel", *mentions, source=source), SOURCES, _entry(**fields))


def _places(held: Attribute) -> list[int]:
    return [words.chars[0] for words in held.evidence]


def test_what_is_said_twice_alike_has_the_evidence_of_both() -> None:
    held = _attribute("x=8", "x=8")
    assert held is not None
    assert (held.value, _places(held), held.candidates, held.superseded) == (8.0, [0, 100], (), ())


def test_words_are_alike_whatever_their_capitals() -> None:
    held = _attribute("x=None", "x=none")
    assert held is not None
    assert (held.value, len(held.evidence)) == ("None", 2)


def test_two_values_that_nobody_corrected_are_candidates() -> None:
    held = _attribute("x=8", "x=9", "x=8")
    assert held is not None
    assert (held.value, held.evidence) == (None, ())
    assert [(candidate.value, candidate.evidence[0].chars[0]) for candidate in held.candidates] == [(9.0, 100), (8.0, 0)]


def test_an_attribute_that_the_table_does_not_know_conflicts_too() -> None:
    held = attribute(facts("tunnel", "x=8", "x=9"), SOURCES, None)
    assert held is not None
    assert len(held.candidates) == 2


def test_of_a_thing_that_changes_the_latest_value_stands_and_the_first_is_superseded() -> None:
    held = _attribute("x=8", "x=9", repeat="latest")
    assert held is not None
    assert (held.value, [(old.value, old.evidence[0].chars[0]) for old in held.superseded]) == (9.0, [(8.0, 0)])


def test_a_value_said_again_at_the_end_is_the_latest() -> None:
    held = _attribute("x=8", "x=9", "x=8", repeat="latest")
    assert held is not None
    assert (held.value, [old.value for old in held.superseded]) == (8.0, [9.0])


def test_another_word_for_the_first_changes_nothing() -> None:
    held = _attribute("x=supine", "x=leg holder", repeat="first")
    assert held is not None
    assert (held.value, held.superseded, held.candidates) == ("supine", (), ())


def test_several_values_may_be_true_at_once() -> None:
    held = _attribute("x=ACL", "x=PCL", many=True)
    assert held is not None
    assert (held.value, _places(held)) == (("ACL", "PCL"), [0, 100])


def test_one_value_of_many_is_no_list() -> None:
    held = _attribute("x=ACL", "x=ACL", many=True)
    assert held is not None
    assert held.value == "ACL"


def test_what_was_taken_back_is_kept_with_its_words() -> None:
    held = _attribute("not x=8; x=9")
    assert held is not None
    assert (held.value, [(old.value, old.evidence[0].chars) for old in held.superseded]) == (9.0, [(8.0, (0, 1))])


def test_of_what_was_only_taken_back_nothing_is_left() -> None:
    assert _attribute("not x=8") is None


def test_what_was_said_counts_before_what_was_lent() -> None:
    held = _attribute("(x=femur)", "x=tibia")
    assert held is not None
    assert (held.value, _places(held)) == ("tibia", [100])


def test_what_was_lent_counts_where_nothing_else_was_said() -> None:
    held = _attribute("(x=femur)")
    assert held is not None
    assert held.value == "femur"


@given(st.lists(st.sampled_from(["x=8", "x=9", "x=nine", "x=Nine"]), max_size=8))
def test_facts_are_dealt_to_groups_that_say_the_same(mentions: list[str]) -> None:
    said = facts("tunnel", *mentions)
    groups = by_worth(said, SOURCES)
    assert sorted((f for group in groups for f in group), key=lambda f: f.order) == said
    assert all(len({str(f.value).lower() for f in group}) == 1 for group in groups)
    assert len({str(group[0].value).lower() for group in groups}) == len(groups)
    assert [group[-1].order for group in groups] == sorted(group[-1].order for group in groups)


@pytest.mark.parametrize(
    ("said", "value", "old"),
    [
        ("The femoral tunnel was reamed to eight, correction, nine millimetres.", 9.0, [8.0]),
        ("The femoral tunnel was reamed to eight millimetres. The femoral tunnel was reamed to nine millimetres.", 9.0, [8.0]),
        ("The femoral tunnel was reamed to nine millimetres.", 9.0, []),
    ],
)
def test_a_dictated_value_that_gave_way_is_kept_with_its_quote(said: str, value: float, old: list[float]) -> None:
    held = only(record(said), "tunnel")["diameter_mm"]
    assert held.value == value
    assert [(one.value, bool(one.evidence[0].quote)) for one in held.superseded] == [(worth, True) for worth in old]


def test_a_dictated_contradiction_is_a_question() -> None:
    held = only(record("Blood loss was fifty millilitres. The graft went in. Estimated blood loss: eighty millilitres."), "case")["ebl_mL"]
    assert (held.value, [(one.value, one.evidence[0].quote) for one in held.candidates]) == (
        None,
        [(50.0, "fifty millilitres"), (80.0, "eighty millilitres")],
    )


def _worths(held: Attribute | None) -> tuple[object, list[object]]:
    assert held is not None
    return held.value, [candidate.value for candidate in held.candidates]


@pytest.mark.parametrize("repeat", ["conflict", "first", "latest"])
def test_the_readings_of_ambiguous_words_are_candidates_that_nobody_decides_between(repeat: str) -> None:
    assert _worths(_attribute("x=2.7|7", repeat=repeat)) == (None, [2.7, 7.0])


def test_ambiguous_words_said_plainly_elsewhere_are_settled() -> None:
    assert _worths(_attribute("x=2.7|7", "x=7")) == (7.0, [])
    assert _worths(_attribute("x=7", "x=2.7|7")) == (7.0, [])


def test_a_plain_value_that_is_none_of_the_readings_settles_nothing() -> None:
    assert _worths(_attribute("x=2.7|7", "x=8")) == (None, [2.7, 7.0, 8.0])
