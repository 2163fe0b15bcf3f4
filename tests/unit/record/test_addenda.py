"""An addendum's word stands, and what was dictated otherwise is superseded with its own words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from opnote.record.addenda import overruled
from opnote.record.model import Attribute
from opnote.record.thing import Thing
from tests.unit.record.told import facts, lexicon, only, record

SOURCES = ("dictation", "addendum-1", "addendum-2")
DICTATED = (
    "Procedure: left ACL reconstruction. The femoral tunnel was reamed to nine millimetres. Tourniquet up at nine fifteen. "
    "A seven by twenty three interference screw was used in the tibia. Estimated blood loss: fifty millilitres."
)


def _overruled(kind: str, *mentions: str) -> list[tuple[object, bool]]:
    """Each mention is of a source of its own, in order: what its facts are worth and whether they are superseded."""
    told = [f for source, mention in zip(SOURCES, mentions, strict=False) for f in facts(kind, mention, source=source)]
    return [(fact.value, fact.superseded) for fact in overruled(Thing(kind, tuple(told)), lexicon(), sources=SOURCES).facts]


def test_a_later_source_overrules_an_earlier_one() -> None:
    assert _overruled("case", "ebl_mL=50", "ebl_mL=80") == [(50.0, True), (80.0, False)]


def test_the_last_addendum_has_the_last_word() -> None:
    assert _overruled("case", "ebl_mL=50", "ebl_mL=80", "ebl_mL=60") == [(50.0, True), (80.0, True), (60.0, False)]


def test_an_addendum_settles_what_was_dictated_in_two_ways() -> None:
    assert _overruled("case", "side=left; side=right", "side=right") == [("left", True), ("right", False), ("right", False)]


@pytest.mark.parametrize(
    ("mentions", "why"),
    [
        (("ebl_mL=50", "ebl_mL=50"), "the same"),
        (("ebl_mL=50", "fluids_mL=900"), "another attribute"),
        (("ebl_mL=50", "(ebl_mL=80)"), "lent by the words around"),
        (("assistants=Cole", "assistants=Birch"), "both may be true"),
        (("position=supine", "position=lateral"), "another word for the first"),
        (("ebl_mL=50; ebl_mL=80", ""), "one source that contradicts itself"),
    ],
    ids=lambda given: given if isinstance(given, str) else "",
)
def test_nothing_is_overruled(mentions: tuple[str, ...], why: str) -> None:
    assert not any(superseded for _, superseded in _overruled("case", *mentions)), why


def test_what_an_addendum_takes_back_is_not_its_word() -> None:
    assert _overruled("case", "ebl_mL=80", "not ebl_mL=80; ebl_mL=50") == [(80.0, True), (80.0, True), (50.0, False)]


def test_what_was_lent_in_the_last_source_stays_lent() -> None:
    assert _overruled("case", "ebl_mL=50", "ebl_mL=80; (ebl_mL=60)") == [(50.0, True), (80.0, False), (60.0, False)]


@given(st.lists(st.sampled_from(["ebl_mL=50", "ebl_mL=80", "(ebl_mL=60)", "not ebl_mL=50", "side=left"]), max_size=3))
def test_what_is_overruled_stays_so(mentions: list[str]) -> None:
    told = tuple(f for source, mention in zip(SOURCES, mentions, strict=False) for f in facts("case", mention, source=source))
    once = overruled(Thing("case", told), lexicon(), sources=SOURCES)
    assert overruled(once, lexicon(), sources=SOURCES) == once
    assert [fact.value for fact in once.facts] == [fact.value for fact in told]


def _old(held: Attribute) -> list[tuple[object, str, str]]:
    return [(one.value, one.evidence[0].source, one.evidence[0].quote) for one in held.superseded]


def test_a_spoken_addendum_corrects_a_size() -> None:
    held = only(record(DICTATED, "Addendum. The femoral tunnel was ten millimetres."), "tunnel")["diameter_mm"]
    assert (held.value, [words.source for words in held.evidence]) == (10.0, ["addendum-1"])
    assert _old(held) == [(9.0, "dictation", "nine millimetres")]


def test_a_spoken_addendum_corrects_a_clock_time() -> None:
    held = only(record(DICTATED, "Correction, the tourniquet went up at nine twenty five."), "event")["clock"]
    assert (held.value, _old(held)) == ("09:25", [("09:15", "dictation", "nine fifteen")])


def test_a_spoken_addendum_corrects_the_size_that_it_takes_back() -> None:
    held = only(record(DICTATED, "The tibial interference screw was nine millimetres, not seven millimetres."), "implant")["diameter_mm"]
    assert (held.value, [one.value for one in held.superseded]) == (9.0, [7.0, 7.0])


def test_a_spoken_addendum_adds_what_was_forgotten() -> None:
    screw = only(record(DICTATED, "The lot of the tibial interference screw was K 41 72."), "implant")
    assert (screw["lot"].value, screw["lot"].evidence[0].source, screw["diameter_mm"].value) == ("K4172", "addendum-1", 7.0)


def test_an_addendum_changes_no_id() -> None:
    before, after = record(DICTATED), record(DICTATED, "Addendum. The femoral tunnel was ten millimetres. Blood loss was eighty.")
    assert [entity.id for entity in after.entities][: len(before.entities)] == [entity.id for entity in before.entities]
