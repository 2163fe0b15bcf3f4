"""How far a bone or a ligament stands from a thing, and which of two things it speaks for."""

from __future__ import annotations

import pytest

from opnote.extract.frames import Frame, Slot
from opnote.extract.places import cost, nearest, place
from opnote.extract.scene import Scene
from tests.unit.extract.scenes_of import scene_of, scenes_of


def _frame(scene: Scene, kind: str, name: str, word: str) -> Frame:
    at = scene.talk.words.index(word)
    return Frame(kind, scene.statement.index, {name: Slot(name, at, at + 1, word)})


def _cost(said: str, word: str) -> float:
    scene = scene_of(said)
    [bone] = scene.of("bone")
    return cost(scene, _frame(scene, "tunnel", "diameter_mm", word), bone)


def test_each_word_between_costs() -> None:
    assert _cost("The femur gets an eight.", "eight") < _cost("The femur, as it was planned here, gets an eight.", "eight")


def test_a_break_costs_more_than_a_word() -> None:
    assert _cost("Femur now eight.", "eight") < _cost("Femur, eight.", "eight")


def test_inside_a_thing_a_bone_costs_nothing() -> None:
    scene = scene_of("Eight in the femur deep.")
    frame = Frame("tunnel", 0, {"a": Slot("a", 0, 1), "b": Slot("b", 4, 5)})
    assert cost(scene, frame, scene.of("bone")[0]) == 0.0


def test_an_adjective_looks_ahead() -> None:
    assert _cost("Femoral eight.", "eight") < _cost("Eight femoral.", "eight")
    assert _cost("Eight, tibial screw.", "eight") > _cost("Eight, tibia.", "eight")


def test_an_adjective_of_a_place_may_look_back() -> None:
    assert _cost("Eight by the tibial cortex.", "eight") < _cost("Eight by the tibial screw.", "eight")


@pytest.mark.parametrize(("word", "bone"), [("eight", "femur"), ("nine", "tibia")])
def test_a_bone_speaks_for_the_thing_that_stands_closest(word: str, bone: str) -> None:
    scene = scene_of("Femur eight, tibia nine.")
    frames = [_frame(scene, "tunnel", "diameter_mm", said) for said in ("eight", "nine")]
    [own] = [frame for frame in frames if frame.get("diameter_mm") == word]
    found = nearest(scene, own, scene.of("bone"), frames)
    assert found is not None
    assert found.value == bone


def test_a_bone_far_away_speaks_for_nothing() -> None:
    said = "Femur " + "again " * 30 + "eight."
    scene = scene_of(said)
    frame = _frame(scene, "tunnel", "diameter_mm", "eight")
    assert nearest(scene, frame, scene.of("bone"), [frame]) is None


def test_the_topic_is_lent_where_nothing_is_named() -> None:
    scene = scenes_of("We go to the ACL on the femur. Eight.", "ACL")[-1]
    frame = _frame(scene, "tunnel", "diameter_mm", "eight")
    place(scene, [frame], structures=frozenset({"ACL"}))
    assert (frame.get("bone"), frame.get("structure")) == ("femur", "ACL")
    assert frame.slots["bone"].inherited
    assert frame.slots["structure"].inherited


def test_only_ligaments_of_the_operation_are_lent() -> None:
    scene = scenes_of("We saw the PCL. Eight.", "PCL")[-1]
    frame = _frame(scene, "tunnel", "diameter_mm", "eight")
    place(scene, [frame], structures=frozenset({"ACL"}))
    assert "structure" not in frame.slots


def test_a_graft_is_lent_no_bone() -> None:
    scene = scene_of("Graft through the femur, eight.", "ACL")
    frame = _frame(scene, "graft", "diameter_mm", "eight")
    place(scene, [frame], structures=frozenset({"ACL"}))
    assert "bone" not in frame.slots


def test_the_topic_lends_no_bone_to_a_button() -> None:
    scene = scenes_of("Femoral socket done. Button, twelve.")[-1]
    start = scene.statement.start
    frame = Frame("implant", scene.statement.index, {"kind": Slot("kind", start, start + 1, "cortical button")})
    place(scene, [frame], structures=frozenset())
    assert "bone" not in frame.slots
