"""The recording's clock: live, told afterwards, or not known; the second of each event; minutes called out on the way."""

from __future__ import annotations

from dataclasses import replace

import pytest

from opnote.extract.model import Fact
from opnote.record.clock import settled_times, spoken_live, timed
from opnote.record.model import Attribute, Entity, Evidence
from opnote.spans import RawSpan
from opnote.transcript import Transcript, read_bytes
from tests.unit.record.told import facts, record, understood


def _spoken(*told: tuple[str, str]) -> tuple[Transcript, list[Fact]]:
    """A recording in which each clock time is called at its moment, and the facts of these events."""
    transcript = read_bytes("\n".join(f"[{moment}] clock" for moment, _ in told).encode(), name="x.txt")
    calls = []
    for place, ((_, clock), segment) in enumerate(zip(told, transcript.segments, strict=True)):
        span = (RawSpan(segment.start, segment.end),)
        calls.append(Fact("dictation", place, "event", "clock", clock, span, segment.start))
    return transcript, calls


@pytest.mark.parametrize(
    ("told", "live"),
    [
        pytest.param([("0:05:00", "08:12"), ("1:06:00", "09:14")], True, id="an hour apart, and an hour between them"),
        pytest.param([("0:50:00", "23:40"), ("1:52:00", "00:41")], True, id="over midnight"),
        pytest.param([("0:05:00", "08:12"), ("0:41:00", "09:14")], False, id="a recording much shorter than the clock"),
        pytest.param([("0:01:00", "08:12"), ("0:01:30", "09:14")], False, id="remembered within a minute"),
        pytest.param([("0:01:00", "08:12"), ("1:30:00", "08:30")], False, id="a recording much longer than the clock"),
        pytest.param([("0:05:00", "08:12")], None, id="one clock time tells nothing"),
        pytest.param([("0:05:00", "08:12"), ("0:10:00", "08:17")], None, id="too close to each other"),
        pytest.param([("0:05:00", "09:14"), ("1:06:00", "08:12")], None, id="the clock runs backwards"),
    ],
)
def test_the_distance_of_clock_times_tells_whether_it_is_live(told: list[tuple[str, str]], live: bool | None) -> None:
    assert spoken_live(*_spoken(*told)) is live


def test_a_recording_with_pauses_of_unknown_length_tells_nothing() -> None:
    transcript, calls = _spoken(("0:05:00", "08:12"), ("1:06:00", "09:14"))
    assert spoken_live(replace(transcript, restarted=True), calls) is None


def test_a_clock_time_that_was_taken_back_tells_nothing() -> None:
    transcript, (first, second) = _spoken(("0:05:00", "08:12"), ("1:06:00", "09:14"))
    corrected = Fact("dictation", 0, "event", "clock", "08:14", first.spans, 0, superseded=True)
    assert spoken_live(transcript, [corrected, second]) is None


def test_an_untimed_text_tells_nothing() -> None:
    transcript = read_bytes(b"clock clock", name="x.txt")
    calls = [Fact("dictation", n, "event", "clock", c, (RawSpan(n, n + 1),), n) for n, c in enumerate(["08:12", "09:14"])]
    assert spoken_live(transcript, calls) is None


MINUTES = [
    *facts("case", "tourniquet_min=60"),
    *facts("event", "name=tourniquet down", first=1),
    *facts("case", "tourniquet_min=72", first=2),
]


@pytest.mark.parametrize(
    ("live", "superseded"),
    [(True, [True, False, False]), (False, [False, False, False]), (None, [False, False, False])],
)
def test_minutes_before_the_cuff_came_down_are_so_far_only_in_a_live_recording(live: bool | None, superseded: list[bool]) -> None:
    assert [fact.superseded for fact in settled_times(MINUTES, live=live)] == superseded


def test_minutes_stand_where_nobody_says_that_the_cuff_came_down() -> None:
    assert settled_times(MINUTES[:1], live=True) == tuple(MINUTES[:1])


def _entity(kind: str, name: str, *seconds: float | None) -> Entity:
    evidence = tuple(Evidence(source="dictation", start_s=second, chars=(n, n + 1), quote="x") for n, second in enumerate(seconds))
    return Entity(id="e", type=kind, attributes={name: Attribute(value="tourniquet up", evidence=evidence)})


def test_an_event_is_at_the_second_of_its_name() -> None:
    at_s = timed(_entity("event", "name", 760.0, 3000.0)).attributes["at_s"]
    assert (at_s.value, at_s.unit, [words.chars for words in at_s.evidence]) == (760.0, "s", [(0, 1)])


@pytest.mark.parametrize(
    "entity",
    [
        pytest.param(_entity("event", "name", None), id="a source without seconds"),
        pytest.param(_entity("event", "clock", 760.0), id="an event without a name"),
        pytest.param(_entity("implant", "name", 760.0), id="no event"),
    ],
)
def test_nothing_else_has_a_second(entity: Entity) -> None:
    assert timed(entity) is entity


def test_of_a_name_said_in_two_sources_the_one_with_seconds_counts() -> None:
    assert timed(_entity("event", "name", None, 12.0)).attributes["at_s"].value == 12.0


def test_a_dictated_event_has_its_second_and_its_words() -> None:
    made = record("[0:10] The knee was examined. [2:30] Tourniquet up at nine fifteen. [2:40] The scope went in.")
    [event] = made.of("event")
    [words] = event.attributes["at_s"].evidence
    assert (event.attributes["at_s"].value, words.quote) == (150.0, "Tourniquet up")


def test_an_untimed_event_has_none() -> None:
    [event] = record("Tourniquet up at nine fifteen.").of("event")
    assert set(event.attributes) == {"name", "clock"}


def test_an_event_is_found_in_what_is_understood() -> None:
    _, extraction = understood(read_bytes(b"Tourniquet up at nine fifteen.", name="x.txt"))
    assert {fact.attribute for fact in extraction.facts if fact.type == "event"} == {"name", "clock"}
