"""Slots are dealt to frames in the order in which they are said."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from opnote.extract.frames import Frame, Slot, arrange


def _slots(said: str, /, **places: str) -> list[Slot]:
    """Slots by the word that gives their value: ``bone="femoral tibial"`` are two bones."""
    words = said.split()
    return [Slot(name, words.index(word), words.index(word) + 1, word) for name, values in places.items() for word in values.split()]


def _values(kind: str, said: str, /, **places: str) -> list[dict[str, object]]:
    frames = arrange(kind, 0, _slots(said, **places), words=said.split())
    return [{name: slot.value for name, slot in frame.slots.items()} for frame in frames]


def test_values_that_do_not_clash_are_of_one_thing() -> None:
    said = "the femoral tunnel nine , twenty deep"
    assert _values("tunnel", said, bone="femoral", diameter_mm="nine", depth_mm="twenty") == [
        {"bone": "femoral", "diameter_mm": "nine", "depth_mm": "twenty"}
    ]


def test_a_second_value_begins_the_next_thing() -> None:
    said = "an eight then a nine"
    assert _values("tunnel", said, diameter_mm="eight nine") == [{"diameter_mm": "eight"}, {"diameter_mm": "nine"}]


def test_what_stands_just_before_the_next_thing_goes_with_it() -> None:
    said = "femoral tunnel eight , tibial nine"
    assert _values("tunnel", said, bone="femoral tibial", diameter_mm="eight nine") == [
        {"bone": "femoral", "diameter_mm": "eight"},
        {"bone": "tibial", "diameter_mm": "nine"},
    ]


def test_a_size_leads_the_kind_that_it_is_of() -> None:
    said = "a button then seven millimetre screw"
    assert _values("implant", said, kind="button screw", diameter_mm="seven") == [
        {"kind": "button"},
        {"diameter_mm": "seven", "kind": "screw"},
    ]


@pytest.mark.parametrize("break_", [",", "and", "with", "then", "at", "of"])
def test_no_value_leads_over_a_break(break_: str) -> None:
    said = f"a button seven {break_} screw"
    assert _values("implant", said, kind="button screw", diameter_mm="seven") == [
        {"kind": "button", "diameter_mm": "seven"},
        {"kind": "screw"},
    ]


def test_a_frame_keeps_one_slot_at_least() -> None:
    said = "seven screw eight screw"
    slots = [Slot("diameter_mm", 0, 1, 7.0), Slot("kind", 1, 2, "screw"), Slot("diameter_mm", 2, 3, 8.0), Slot("kind", 3, 4, "screw")]
    frames = arrange("implant", 0, slots, words=said.split())
    assert [frame.get("diameter_mm") for frame in frames] == [7.0, 8.0]
    assert all(frame.slots for frame in frames)


def test_an_opening_may_lead_its_examination_and_a_grade_may_not() -> None:
    said = "lachman two , nine of valgus"
    slots = [Slot("exam", 0, 1, "Lachman"), Slot("grade", 1, 2, "2"), Slot("opening_mm", 3, 4, 9.0), Slot("exam", 5, 6, "valgus stress")]
    first, second = arrange("finding", 0, slots, words=said.split())
    assert (first.get("grade"), first.get("opening_mm")) == ("2", None)
    assert (second.get("exam"), second.get("opening_mm")) == ("valgus stress", 9.0)


def test_a_frame_stands_on_what_was_said_of_it_and_not_on_what_was_lent() -> None:
    frame = Frame("tunnel", 0, {"bone": Slot("bone", 1, 2, "femur", inherited=True), "diameter_mm": Slot("diameter_mm", 8, 9, 9.0)})
    assert (frame.start, frame.end) == (8, 9)


SLOT = st.builds(
    lambda name, start, value: Slot(name, start, start + 1, value),
    st.sampled_from(["bone", "diameter_mm", "depth_mm"]),
    st.integers(0, 20),
    st.sampled_from([7.0, 8.0, "femur"]),
)


@given(st.lists(SLOT, max_size=8))
def test_every_slot_is_in_a_frame_and_no_frame_is_empty(slots: list[Slot]) -> None:
    frames = arrange("tunnel", 0, slots, words=["word"] * 22)
    assert all(frame.slots for frame in frames)
    assert all(any(slot.same(held) for frame in frames if (held := frame.slots.get(slot.attribute))) for slot in slots)
