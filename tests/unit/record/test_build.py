"""The record as a whole: ids that stay, sources, repairs, links."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from opnote.pipeline import run
from opnote.record.build import build, digest, entities_of, first_said
from opnote.record.links import linked
from opnote.record.model import Attribute, Entity, Evidence, Record
from opnote.record.sheet import read_bytes as sheet_of
from opnote.record.thing import Thing
from tests.unit.record.told import facts, lexicon, record, thing, transcript, understood

DICTATED = (
    "Surgeon: Doctor Oxenholme. Procedure: left ACL reconstruction with a quadriceps tendon autograft. "
    "The femoral tunnel was reamed to nine millimetres to a depth of thirty. The tibial tunnel was reamed to nine millimetres. "
    "An eight by twenty five titanium interference screw was used in the tibia. Drains: none."
)
UNRELATED = ("The dressing was changed.", "The family was told.", "The arthroscope was cleaned.", "Instruments went back to the tray.")
SOURCES = {source: transcript("x" * 2000, source=source) for source in ("dictation", "addendum-1")}


def _ids(made: Record) -> list[str]:
    return [entity.id for entity in made.entities]


def test_ids_survive_a_new_run() -> None:
    assert _ids(record(DICTATED)) == _ids(record(DICTATED))


@settings(max_examples=20, deadline=None)
@given(st.lists(st.sampled_from(UNRELATED), min_size=1, max_size=3))
def test_ids_stay_whatever_unrelated_is_said_later(more: list[str]) -> None:
    assert _ids(record(" ".join([DICTATED, *more]))) == _ids(record(DICTATED))


def test_ids_stay_where_more_is_said_of_the_same_things() -> None:
    more = f"{DICTATED} The lot of the tibial interference screw was K 41 72."
    assert _ids(record(more)) == _ids(record(DICTATED))


def test_the_case_keeps_its_id_when_a_sheet_comes() -> None:
    told = [understood(transcript(DICTATED))]
    sheet = sheet_of(b'patient_name = "Ann Example"\nside = "left"', name="case.toml", lexicon=lexicon())
    plain, scheduled = build(told, lexicon(), version="test"), build(told, lexicon(), version="test", sheet=sheet)
    assert _ids(scheduled) == _ids(plain)
    assert scheduled.of("case")[0].attributes["patient_name"].value == "Ann Example"


def test_two_things_whose_words_begin_alike_have_two_ids() -> None:
    things = [thing("procedure", "approach=open; structure=ACL"), thing("procedure", "approach=open; structure=PCL")]
    first, second = entities_of(things, SOURCES, lexicon())
    assert second.id == f"{first.id}-2"


def test_an_id_comes_from_the_words_and_not_from_what_they_are_worth() -> None:
    [one] = facts("tunnel", "diameter_mm=9")
    [other] = facts("tunnel", "diameter_mm=10")
    assert digest(one, SOURCES) == digest(other, SOURCES)


def test_the_dictations_words_are_first_and_lent_ones_last() -> None:
    later, lent, own = facts("tunnel", "bone=femur", source="addendum-1") + facts("tunnel", "(structure=ACL); diameter_mm=9")
    assert first_said(Thing("tunnel", (later, lent, own)), SOURCES) is own
    assert first_said(Thing("tunnel", (later, lent)), SOURCES) is lent


def test_a_thing_of_which_all_was_taken_back_is_no_entity() -> None:
    assert entities_of([thing("tunnel", "not diameter_mm=9")], SOURCES, lexicon()) == []


def test_the_record_names_its_sources_in_order() -> None:
    made = record("[0:01] Left knee. [0:09] ACL reconstruction.", "The tibial tunnel was nine millimetres.")
    assert [(source.id, source.kind, source.segments, source.live) for source in made.sources] == [
        ("dictation", "dictation", 2, None),
        ("addendum-1", "addendum", 1, None),
    ]


def test_the_pipeline_and_the_parts_build_the_same_record() -> None:
    assert run(transcript(DICTATED), lexicon=lexicon()).record.entities == record(DICTATED).entities


def test_the_record_is_the_same_whatever_the_hash_seed() -> None:
    said = "Procedure: open MPFL reconstruction right knee."
    script = (
        "import sys; from opnote.lexicon import load; from opnote.pipeline import run; from opnote.transcript import read_bytes\n"
        "print(run(read_bytes(sys.argv[1].encode(), name='x.txt'), lexicon=load()).record.model_dump_json())"
    )
    made = {
        subprocess.run(
            [sys.executable, "-c", script, said], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("1", "2")
    }
    assert len(made) == 1


def _entity(id_: str, kind: str, **values: object) -> Entity:
    words = (Evidence(source="dictation", chars=(0, 1), quote="x"),)
    return Entity(id=id_, type=kind, attributes={name: Attribute(value=value, evidence=words) for name, value in values.items()})


def test_a_tunnel_holds_the_only_graft_of_its_ligament() -> None:
    graft, tunnel = _entity("g", "graft", structure="ACL"), _entity("t", "tunnel", structure="ACL", bone="femur")
    assert [entity.links for entity in linked([graft, tunnel])] == [{}, {"holds": ("g",)}]


def test_a_screw_stands_in_the_only_tunnel_of_its_bone_and_ligament() -> None:
    tunnels = [_entity(bone, "tunnel", structure=("ACL", "MPFL"), bone=bone) for bone in ("femur", "tibia")]
    screw = _entity("s", "implant", structure="ACL", bone="tibia")
    assert list(linked([*tunnels, screw]))[-1].links == {"in": ("tibia",)}


@pytest.mark.parametrize(
    "grafts",
    [
        pytest.param([], id="no graft"),
        pytest.param(["ACL", "ACL"], id="two grafts of the ligament"),
        pytest.param(["PCL"], id="another ligament's"),
        pytest.param([None], id="a graft of no ligament"),
    ],
)
def test_without_one_thing_to_link_to_there_is_no_link(grafts: list[str | None]) -> None:
    held = [_entity(f"g{n}", "graft", **({"structure": name} if name else {"strands": 4})) for n, name in enumerate(grafts)]
    assert not any(entity.links for entity in linked([*held, _entity("t", "tensioning", structure="ACL")]))


def test_words_that_may_be_others_stand_in_the_record_with_their_place() -> None:
    [words] = record("The PCL graft was held with a stable on the tibia.").unsure
    assert (words.evidence.quote, words.may_be) == ("held with a stable", ("with a staple",))


def test_words_whose_place_leaves_one_reading_are_not_unsure() -> None:
    assert record("The knee was stable after fixation.").unsure == ()
