"""Running the checks: order, profiles, rules that are off, and records of any shape."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from opnote.check import run
from opnote.check.profiles import RANK
from opnote.errors import OpnoteError
from tests.compact import record_of

CLASH: list[dict[str, Any]] = [
    {"type": "case", "side": {"candidates": ["left", "right"]}, "counts": "incorrect"},
    {"type": "tensioning", "structure": "sMCL", "stress": "valgus", "flexion_deg": 50},
]


def test_the_gravest_comes_first() -> None:
    ranks = [RANK[finding.severity] for finding in run(record_of(CLASH))]
    assert ranks == sorted(ranks)
    assert len(set(ranks)) == 3


def test_two_runs_are_equal() -> None:
    assert run(record_of(CLASH)) == run(record_of(CLASH))


def test_every_finding_is_about_something_and_has_evidence_unless_words_are_missing() -> None:
    for finding in run(record_of(CLASH)):
        assert finding.about
        assert finding.evidence or finding.kind == "missing"


def test_a_rule_can_be_switched_off_by_id_or_slug() -> None:
    rules = {finding.rule for finding in run(record_of(CLASH), off=("SIDE01", "unusual-fixation-angle"))}
    assert {"SIDE01", "TENS03"} & rules == set()
    assert "TENS01" in rules


def test_switching_off_an_unknown_rule_is_an_error() -> None:
    with pytest.raises(OpnoteError, match='no rule "NOPE"'):
        run(record_of([]), off=("NOPE",))


def test_an_unknown_profile_is_an_error_that_names_the_known_ones() -> None:
    with pytest.raises(OpnoteError, match=r'no profile "nowhere".*cms'):
        run(record_of([]), profiles=("nowhere",))


def test_a_profile_asks_for_its_own_rows_only() -> None:
    case = [{"type": "case", "side": "left", "surgeon": "Dr Invented"}]
    cms, joint = (_asked(run(record_of(case), profiles=(name,))) for name in ("cms", "joint-commission"))
    assert "ebl_mL" in joint - cms
    assert "anesthesia" in cms - joint


def test_what_two_profiles_ask_for_is_asked_once_and_names_both() -> None:
    findings = [f for f in run(record_of([]), profiles=("cms", "joint-commission")) if "surgeon" in _asked((f,))]
    assert len(findings) == 1
    assert "CMS-3" in findings[0].message
    assert "TJC-6a" in findings[0].message


def _asked(findings: tuple[Any, ...]) -> set[str | None]:
    return {about.attribute for f in findings if f.kind == "missing" and f.severity != "info" for about in f.about}


WORDS = {
    "type": ["case", "procedure", "graft", "tunnel", "implant", "tensioning", "finding", "postop", "event", "isometry", "incision"],
    "structure": ["sMCL", "POL", "ACL", "FCL", "MPFL", "medial meniscus root", "nothing known"],
    "bone": ["femur", "tibia", "fibula", "moon"],
    "text": ["left", "right", "varus", "valgus", "interference screw", "10:05", "25:99", "2026-02", "reconstruction", "2+"],
}
NUMBERS = st.floats(min_value=-1000, max_value=1000, allow_nan=False) | st.integers(-10, 500)
SCALARS = NUMBERS | st.booleans() | st.sampled_from(WORDS["text"])
SAID = st.one_of(
    SCALARS,
    st.lists(st.sampled_from(WORDS["structure"]), min_size=1, max_size=3),
    st.fixed_dictionaries({"low": NUMBERS, "high": NUMBERS, "quote": st.just("a range")}),
    st.fixed_dictionaries({"low": NUMBERS, "quote": st.just("at least")}),
    st.fixed_dictionaries({"candidates": st.lists(SCALARS, min_size=2, max_size=3)}),
    st.fixed_dictionaries({"value": SCALARS, "quote": st.just("about"), "approximate": st.just(True)}),
)
NAMES = [
    "side",
    "surgeon",
    "preop_diagnosis",
    "counts",
    "tourniquet_min",
    "tourniquet_mmHg",
    "antibiotic",
    "date_of_surgery",
    "action",
    "kind",
    "tissue",
    "source",
    "length_mm",
    "diameter_mm",
    "depth_mm",
    "cortices",
    "landmark",
    "landmark_mm",
    "disposition",
    "expiry",
    "flexion_deg",
    "stress",
    "rotation",
    "force_N",
    "exam",
    "phase",
    "grade",
    "opening_mm",
    "result",
    "item",
    "value",
    "from_weeks",
    "to_weeks",
    "name",
    "clock",
]
ENTITIES = st.builds(
    lambda type, structure, bone, rest: {**rest, "type": type, "structure": structure, "bone": bone},
    st.sampled_from(WORDS["type"]),
    st.sampled_from(WORDS["structure"]) | st.lists(st.sampled_from(WORDS["structure"]), min_size=1, max_size=2),
    st.sampled_from(WORDS["bone"]),
    st.dictionaries(st.sampled_from(NAMES), SAID, max_size=6),
)


@settings(max_examples=150, deadline=None)
@given(st.lists(ENTITIES, max_size=6))
def test_no_record_makes_a_check_fall_over(entities: list[dict[str, Any]]) -> None:
    record = record_of(entities)
    findings = run(record)
    ids = {entity.id for entity in record.entities}
    for finding in findings:
        assert all(about.entity is None or about.entity in ids for about in finding.about)
        assert finding.message.strip()
