"""Clock times said in twelve hours beside others said in twenty-four."""

from __future__ import annotations

import pytest

from opnote.extract.clocks import afternoon
from opnote.extract.frames import Frame, Slot


def _events(*clocks: str, why: tuple[str, ...] = ()) -> list[Frame]:
    return [Frame("event", i, {"clock": Slot("clock", i, i + 1, clock, why=why)}) for i, clock in enumerate(clocks)]


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        (["13:05", "03:10"], ["13:05", "15:10"]),
        (["12:40", "01:05", "02:30"], ["12:40", "13:05", "14:30"]),
        (["08:05", "09:42"], ["08:05", "09:42"]),  # nothing says afternoon
        (["11:30", "12:10"], ["11:30", "12:10"]),  # nearer in the morning
    ],
)
def test_times_are_of_the_afternoon_where_another_is_and_they_come_nearer(said: list[str], meant: list[str]) -> None:
    frames = _events(*said)
    afternoon(frames)
    assert [frame.get("clock") for frame in frames] == meant


@pytest.mark.parametrize("why", ["am", "oh-prefixed"])
def test_a_time_said_to_be_of_the_morning_stays(why: str) -> None:
    frames = [*_events("14:00"), *_events("03:10", why=(why,))]
    afternoon(frames)
    assert [frame.get("clock") for frame in frames] == ["14:00", "03:10"]
