"""What is one thing and what is two, from ``tests/corpus/merging.toml``; and what holds of every merge."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from opnote.extract.model import Fact
from opnote.record.merge import Apart, affinity, fits, merge, told_apart
from opnote.record.thing import Thing
from tests.stance import CORPUS
from tests.unit.record.told import facts, lexicon, thing

COUNTS = {"one": 1, "two": 2, "three": 3}
TABLES: dict[str, list[dict[str, Any]]] = tomllib.loads((CORPUS / "merging.toml").read_text(encoding="utf-8"))
CASES = [pytest.param(case, COUNTS[table], id=case["why"]) for table in COUNTS for case in TABLES[table]]
KINDS = ("implant", "tunnel", "graft", "finding", "event", "case")
VALUES = {
    "kind": ("interference screw", "suture anchor"), "bone": ("femur", "tibia"), "structure": ("ACL", "sMCL"), "diameter_mm": ("8", "9"),
    "lot": ("A1", "B2"), "name": ("tourniquet up", "incision"), "exam": ("Lachman", "dial"), "side": ("left", "right"),
}  # fmt: skip
PART = st.sampled_from([f"{mark}{name}={value}{')' if mark == '(' else ''}" for name, values in VALUES.items() for value in values
                        for mark in ("", "(", "not ")])  # fmt: skip
MENTION = st.lists(PART, min_size=1, max_size=4).map("; ".join)


@st.composite
def told(draw: st.DrawFn) -> list[Fact]:
    """Facts of some mentions of several types."""
    mentions = draw(st.lists(st.tuples(st.sampled_from(KINDS), MENTION), max_size=8))
    return [fact for frame, (kind, mention) in enumerate(mentions) for fact in facts(kind, mention, first=frame)]


@pytest.mark.parametrize(("case", "count"), CASES)
def test_mentions_are_so_many_things(case: dict[str, Any], count: int) -> None:
    said = facts(case["type"], *case["mentions"])
    if "addendum" in case:
        said += facts(case["type"], case["addendum"], source="addendum-1")
    assert len(merge(said, lexicon(), addenda=["addendum-1"])) == count


def test_the_corpus_of_merges_has_no_table_that_nobody_reads() -> None:
    assert set(TABLES) == set(COUNTS)


def test_a_thing_keeps_its_facts_in_the_order_they_were_said() -> None:
    said = facts("tunnel", "bone=femur; diameter_mm=8", "bone=femur; depth_mm=30", "bone=femur; diameter_mm=9")
    [femoral] = merge(said, lexicon())
    assert [fact.order for fact in femoral.facts] == sorted(fact.order for fact in said)


def test_of_two_things_the_one_that_says_most_of_the_same_is_meant() -> None:
    said = facts("implant", "kind=staple; bone=tibia; structure=sMCL", "kind=staple; bone=femur", "kind=staple; bone=tibia; lot=A1")
    assert [len(one.facts) for one in merge(said, lexicon())] == [6, 2]


def test_of_two_equals_the_later_is_meant() -> None:
    said = facts("implant", "kind=staple; bone=femur", "kind=staple; bone=tibia", "kind=staple; lot=A1")
    assert [one.values("lot") for one in merge(said, lexicon())] == [frozenset(), {("A1", None, None)}]


def test_a_tunnel_of_unknown_bone_is_neither_of_two() -> None:
    said = facts("tunnel", "bone=femur; structure=ACL", "bone=tibia; structure=ACL", "structure=ACL; depth_mm=30")
    assert [one.values("depth_mm") for one in merge(said, lexicon())] == [frozenset(), frozenset(), {(30.0, None, None)}]


def test_things_of_two_types_are_never_one() -> None:
    said = [*facts("tunnel", "structure=ACL; diameter_mm=9"), *facts("graft", "structure=ACL; diameter_mm=9", first=1)]
    assert [one.type for one in merge(said, lexicon())] == ["tunnel", "graft"]


def test_frames_of_two_sources_do_not_mix_by_their_number() -> None:
    said = [*facts("event", "name=tourniquet up"), *facts("event", "name=tourniquet down", source="addendum-1")]
    assert len(merge(said, lexicon(), addenda=["addendum-1"])) == 2


def test_values_that_were_taken_back_do_not_stand() -> None:
    one = thing("implant", "diameter_mm=9; not diameter_mm=8; (bone=tibia)")
    assert one.values("diameter_mm") == one.said("diameter_mm") == {(9.0, None, None)}
    assert one.taken_back("diameter_mm") == {(8.0, None, None)}
    assert one.values("bone") == {("tibia", None, None)}
    assert not one.said("bone")


def test_affinity_counts_what_is_said_alike() -> None:
    assert affinity(thing("graft", "structure=ACL; strands=4"), thing("graft", "structure=ACL; strands=2")) == 1


def test_what_tells_things_apart_stands_in_the_attribute_table() -> None:
    apart = told_apart(lexicon())
    assert apart["tensioning"] == Apart(when_said=frozenset({"structure"}))
    assert "action" in apart["procedure"].always
    assert "case" not in apart


@given(told())
def test_every_fact_stands_in_one_thing_but_what_was_lent_and_is_known(said: list[Fact]) -> None:
    things = merge(said, lexicon())
    held = [fact for one in things for fact in one.facts]
    left_out = list(said)
    for fact in held:
        left_out.remove(fact)
    assert all(fact.inherited for fact in left_out)
    assert {(one.type, name) for one in things for name in one.names} == {(f.type, f.attribute) for f in said if not f.superseded}
    assert all(fact.type == one.type for one in things for fact in one.facts)
    assert sum(one.type == "case" for one in things) <= 1


@given(told())
def test_a_merge_changes_nothing_of_what_it_is_given(said: list[Fact]) -> None:
    assert merge(said, lexicon()) == merge(list(said), lexicon())


@given(st.sampled_from(KINDS), MENTION)
def test_a_mention_said_again_word_for_word_is_the_same_thing(kind: str, mention: str) -> None:
    one = thing(kind, mention)
    again = Thing(kind, one.facts)
    assert fits(again, one, told_apart(lexicon()).get(kind, Apart()))
