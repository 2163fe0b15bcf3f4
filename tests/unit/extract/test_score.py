"""The parts of a candidate's score, each by two phrases that differ in little more than it."""

from __future__ import annotations

import pytest

from opnote.extract.cues import cue_score, never_share
from opnote.extract.linker import choose, in_centimetres
from opnote.extract.score import anchor_score, can_take, plural_score, range_score, score
from opnote.extract.weights import Weights
from tests.unit.extract.scenes_of import attribute, quantity_of, scene_of, scenes_of

DEPTH, DIAMETER = attribute("tunnel.depth_mm"), attribute("tunnel.diameter_mm")


def _cue(said: str) -> float:
    scene = scene_of(said)
    return cue_score(scene, quantity_of(scene), DEPTH) or 0.0


def test_a_cue_speaks_less_over_each_word() -> None:
    assert _cue("Depth twenty five.") > _cue("Depth about here twenty five.") > _cue("Depth about here I would say twenty five.") > 0


def test_a_cue_speaks_less_over_a_comma() -> None:
    assert _cue("Depth, twenty five.") < _cue("Depth twenty five.")


def test_another_quantity_claims_the_cue() -> None:
    scene = scene_of("Depth thirty millimetres, twenty five millimetres.")
    first, second = (cue_score(scene, quantity, DEPTH) or 0.0 for quantity in scene.quantities)
    assert first > second + Weights().other_quantity


def test_a_cue_out_of_reach_does_not_speak() -> None:
    assert _cue("Depth " + "again " * 20 + "twenty five.") == 0.0


def test_a_cue_at_the_end_of_the_statement_before_is_carried_over() -> None:
    scene = scenes_of("And the depth? / Twenty five.")[-1]
    carried = cue_score(scene, quantity_of(scene), DEPTH)
    assert carried is not None
    assert 0 < carried < Weights().cue


def test_a_word_for_another_thing_speaks_against() -> None:
    graft = attribute("graft.length_mm")
    beside, apart = scene_of("A tunnel of thirty millimetres."), scene_of("A length of thirty millimetres.")
    assert never_share(beside, quantity_of(beside), graft) > 0
    assert never_share(apart, quantity_of(apart), graft) == 0


@pytest.mark.parametrize(
    ("said", "attribute_", "expected"),
    [
        ("Reamed to nine.", "tunnel.diameter_mm", Weights().usual),
        ("Reamed to four hundred.", "tunnel.diameter_mm", Weights().outside),
        ("Reamed to four hundred millimetres.", "tunnel.diameter_mm", Weights().outside_with_unit),
        ("Seven by twenty five.", "implant.diameter_mm", Weights().usual),
        ("Twenty five by seven.", "implant.diameter_mm", 0.0),
    ],
)
def test_plausible_values_score_and_impossible_ones_lose(said: str, attribute_: str, expected: float) -> None:
    scene = scene_of(said)
    assert range_score(scene, quantity_of(scene), attribute(attribute_)) == expected


def test_before_a_plural_a_number_counts_and_before_a_singular_it_measures() -> None:
    count, diameter = attribute("implant.count"), attribute("implant.diameter_mm")
    many, one = scene_of("I used three suture anchors."), scene_of("I used a three suture anchor.")
    if quantity_of(many).kind == "number":
        assert plural_score(many, quantity_of(many), count) == Weights().counted == -plural_score(many, quantity_of(many), diameter)
    assert plural_score(one, quantity_of(one), diameter) == Weights().counted == -plural_score(one, quantity_of(one), count)


def test_a_thing_speaks_by_how_near_it_is_brought_up() -> None:
    here, before, never = (
        scene_of("The tunnel, nine."),
        scenes_of("Look at the tunnel. Nine.")[-1],
        scenes_of("Look at the clock. Nine.")[-1],
    )
    scores = [anchor_score(scene, quantity_of(scene), "tunnel") for scene in (here, before, never)]
    assert scores == sorted(scores, reverse=True)
    assert scores[1:] == [Weights().topic, Weights().absent]


@pytest.mark.parametrize(
    ("said", "name", "takes"),
    [
        ("At thirty degrees.", "tensioning.flexion_deg", True),
        ("At thirty degrees.", "tunnel.depth_mm", False),
        ("At thirty.", "tensioning.flexion_deg", True),
        ("At thirty two.", "tensioning.flexion_deg", False),  # angles of the knee are said in steps of five
        ("Two.", "implant.count", True),
        ("Two point five.", "implant.count", False),
        ("Six weeks.", "postop.to_weeks", False),  # a module of its own ties it
        ("Stable in full extension.", "finding.flexion_deg", True),
        ("He reaches full extension.", "finding.flexion_deg", False),
    ],
)
def test_what_an_attribute_can_take(said: str, name: str, takes: bool) -> None:
    scene = scene_of(said)
    assert can_take(scene, quantity_of(scene), attribute(name)) is takes


def test_the_parts_add_up() -> None:
    scene = scene_of("The femoral tunnel was reamed to nine.")
    candidate = score(scene, quantity_of(scene), DIAMETER)
    assert candidate is not None
    assert candidate.score == pytest.approx(sum(value for _, value in candidate.parts), abs=0.005)
    assert {"cue", "thing", "range", "no unit"} == {name for name, _ in candidate.parts}


def test_the_linker_says_why_nothing_won() -> None:
    [far] = choose(scene_of("And then nine."))
    assert (far.won, far.why) == (None, "no attribute takes this kind of quantity here")
    [near] = choose(scene_of("The tunnel length is ten."))
    assert near.won is None
    assert "leads" in near.why


def test_no_winner_falls_short_of_enough_or_of_the_margin() -> None:
    strict = Weights(enough=99.0)
    scene = scene_of("The femoral tunnel was reamed to nine.")
    [choice] = choose(scene)
    assert choice.won is not None
    assert choice.won.score >= scene.weights.enough
    assert choice.won.score < strict.enough


def test_centimetres_go_on_where_millimetres_make_no_sense() -> None:
    scene = scene_of("Twenty four centimetres, cut to seventeen.")
    length, number = scene.quantities
    assert in_centimetres(scene, number, attribute("graft.length_mm")).value == 170
    assert in_centimetres(scene, number, DEPTH).value == number.value
    assert in_centimetres(scene, length, attribute("graft.length_mm")).value == length.value
