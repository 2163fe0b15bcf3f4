"""What is settled with all things in view: tissues, sides, counts, and what is no thing at all."""

from __future__ import annotations

import pytest

from opnote.record.settle import counted, operated_side, says_something, settle, sided
from opnote.record.thing import Thing
from opnote.record.tissues import with_tissue
from tests.unit.record.told import lexicon, thing


def _values(one: Thing, name: str) -> list[str]:
    return sorted(str(value) for value, _, _ in one.values(name))


@pytest.mark.parametrize(
    ("mentions", "tissue"),
    [
        (["tissue=hamstring"], ["semitendinosus and gracilis"]),
        (["tissue=hamstring", "tissue=semitendinosus"], ["semitendinosus"]),
        (["tissue=semitendinosus", "tissue=gracilis"], ["semitendinosus and gracilis"]),
        (["tissue=hamstring", "tissue=semitendinosus and gracilis"], ["semitendinosus and gracilis"]),
        (["tissue=gracilis", "tissue=semitendinosus and gracilis"], ["semitendinosus and gracilis"]),
        (["tissue=quadriceps tendon"], ["quadriceps tendon"]),
        (["tissue=quadriceps tendon", "tissue=Achilles"], ["Achilles", "quadriceps tendon"]),
        (["diameter_mm=8"], []),
    ],
)
def test_a_loose_tissue_gives_way_to_the_tendon_that_was_named(mentions: list[str], tissue: list[str]) -> None:
    assert _values(with_tissue(thing("graft", *mentions)), "tissue") == tissue


def test_a_tissue_that_was_taken_back_names_nothing() -> None:
    assert _values(with_tissue(thing("graft", "tissue=hamstring; not tissue=gracilis")), "tissue") == ["semitendinosus and gracilis"]


def test_a_loose_tissue_is_only_lent_where_the_tendon_is_named() -> None:
    graft = with_tissue(thing("graft", "tissue=hamstring", "tissue=gracilis"))
    assert [fact.inherited for fact in graft.facts] == [True, False]


def test_only_grafts_have_tissues_to_settle() -> None:
    tunnel = thing("tunnel", "tissue=hamstring")
    assert with_tissue(tunnel) is tunnel


def test_a_procedure_without_a_side_is_on_the_operated_one() -> None:
    case, procedure = thing("case", "side=left"), thing("procedure", "structure=ACL; action=reconstruction", first=1)
    [_, settled] = settle([case, procedure], lexicon())
    [side] = [fact for fact in settled.facts if fact.attribute == "side"]
    assert (side.value, side.inherited, side.spans, side.why) == ("left", True, case.facts[0].spans, ("the operated side",))


@pytest.mark.parametrize("case", ["side=left; side=right", "not side=left", "ebl_mL=50"])
def test_an_unsettled_side_is_lent_to_nothing(case: str) -> None:
    assert operated_side([thing("case", case)]) is None


def test_without_a_case_there_is_no_side() -> None:
    assert operated_side([thing("procedure", "side=left")]) is None


def test_a_procedures_own_side_stays() -> None:
    procedure = thing("procedure", "action=reconstruction; side=right")
    assert sided(procedure, operated_side([thing("case", "side=left")])) is procedure


def test_nothing_but_procedures_takes_the_side_over() -> None:
    graft = thing("graft", "tissue=gracilis")
    assert sided(graft, operated_side([thing("case", "side=left")])) is graft


def test_a_count_goes_where_each_has_an_identifier_of_its_own() -> None:
    first, second = thing("implant", "kind=suture anchor; count=2; lot=A1"), thing("implant", "kind=suture anchor; lot=B2", first=1)
    assert not counted(first, [first, second]).values("count")


@pytest.mark.parametrize(
    "twin",
    [
        pytest.param("kind=suture anchor", id="the other has no identifier"),
        pytest.param("kind=staple; lot=B2", id="the other is of another kind"),
        pytest.param("kind=suture anchor; serial=7", id="the other has another sort of identifier"),
        pytest.param("kind=suture anchor; lot=B2; disposition=opened not used", id="the other was never used"),
    ],
)
def test_a_count_stays(twin: str) -> None:
    first, second = thing("implant", "kind=suture anchor; count=2; lot=A1"), thing("implant", twin, first=1)
    assert counted(first, [first, second]) is first


def test_a_count_stays_where_nothing_else_is_said() -> None:
    alone = thing("implant", "kind=suture anchor; count=2; lot=A1")
    assert counted(alone, [alone]) is alone


@pytest.mark.parametrize(
    ("kind", "mention", "says"),
    [
        ("implant", "kind=staple", True),
        ("implant", "(kind=staple); lot=A1", True),
        ("implant", "(kind=staple); bone=tibia", False),
        ("implant", "diameter_mm=9; length_mm=25", False),
        ("graft", "tissue=gracilis", True),
        ("graft", "structure=ACL", False),
        ("graft", "structure=ACL; not strands=4", False),
        ("tunnel", "bone=femur; cortices=bicortical", True),
        ("tunnel", "bone=femur; structure=ACL", False),
        ("finding", "exam=Lachman; grade=2", True),
        ("finding", "exam=Lachman; phase=before", False),
        ("tensioning", "structure=ACL", True),
        ("event", "name=time out", True),
    ],
)
def test_a_thing_of_which_too_little_was_said_is_none(kind: str, mention: str, says: bool) -> None:
    assert says_something(thing(kind, mention), lexicon()) is says
    assert bool(settle([thing(kind, mention)], lexicon())) is says


def test_a_distance_from_nowhere_is_left_out() -> None:
    settled = settle([thing("tunnel", "bone=fibula; landmark_mm=10; diameter_mm=7")], lexicon())
    assert [sorted(one.names) for one in settled] == [["bone", "diameter_mm"]]
    settled = settle([thing("tunnel", "bone=femur; landmark_mm=4; landmark=medial epicondyle")], lexicon())
    assert [sorted(one.names) for one in settled] == [["bone", "landmark", "landmark_mm"]]


@pytest.mark.parametrize(("others", "kept"), [("bone=femur; diameter_mm=9", 1), ("structure=ACL; depth_mm=30", 2)])
def test_a_tunnel_of_unknown_bone_is_left_out_beside_others_of_which_it_is_known(others: str, kept: int) -> None:
    assert len(settle([thing("tunnel", others), thing("tunnel", "diameter_mm=8", first=1)], lexicon())) == kept


def test_what_was_never_used_is_in_no_bone_that_was_only_lent() -> None:
    [lent] = settle([thing("implant", "kind=screw; disposition=opened not used; (bone=femur); (structure=ACL)")], lexicon())
    assert sorted(lent.names) == ["disposition", "kind"]
    [said] = settle([thing("implant", "kind=screw; disposition=opened not used; bone=femur")], lexicon())
    assert "bone" in said.names
