"""The recording's own clock: whether a dictation was spoken during the operation, and what that says of times told in the middle of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from opnote.extract.model import Fact
from opnote.transcript.model import Transcript

SPAN = 10.0  # minutes between two clock times for their distance to say anything
LIVE = (0.6, 1.6)  # minutes of recording to a minute of the clock, in a recording made during the operation
DAY = 24 * 60


def spoken_live(transcript: Transcript, facts: Iterable[Fact]) -> bool | None:
    """Whether the clock runs with the recording: True or False by the events' clock times, None where fewer than two tell.

    Two events an hour apart that are spoken of an hour apart were called out as they happened; spoken of within a minute they
    were remembered.
    """
    told = sorted(_told(transcript, facts))
    if len(told) < 2:
        return None
    (first_s, first_clock), (last_s, last_clock) = told[0], told[-1]
    minutes = (last_clock - first_clock) % DAY
    if minutes < SPAN or minutes > DAY / 2:
        return None
    share = (last_s - first_s) / 60 / minutes
    return LIVE[0] <= share <= LIVE[1]


def _told(transcript: Transcript, facts: Iterable[Fact]) -> list[tuple[float, int]]:
    """The seconds at which clock times of events were said, and the minutes of the day they tell."""
    told = []
    for fact in facts:
        if fact.type == "event" and fact.attribute == "clock" and not fact.superseded and isinstance(fact.value, str):
            second = transcript.second_at(fact.spans[0].start)
            if second is not None:
                hours, minutes = fact.value.split(":")
                told.append((second, 60 * int(hours) + int(minutes)))
    return told


def settled_times(facts: Sequence[Fact], *, live: bool | None) -> list[Fact]:
    """The facts of one source, with tourniquet minutes called out before the cuff came down taken for what they are: so far."""
    downs = [f.order for f in facts if f.type == "event" and f.attribute == "name" and f.value == "tourniquet down"]
    if not live or not downs:
        return list(facts)
    end = max(downs)
    return [
        replace(f, superseded=True, why=(*f.why, "called out before the tourniquet came down"))
        if f.type == "case" and f.attribute == "tourniquet_min" and f.order < end
        else f
        for f in facts
    ]
