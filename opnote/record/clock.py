"""The recording's own clock: when an event was spoken of, and whether a dictation was spoken during the operation."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from opnote.extract.model import Fact
from opnote.record.attributes import SO_FAR
from opnote.record.model import Attribute, Entity
from opnote.transcript.model import Transcript

SPAN = 10.0  # minutes between two clock times for their distance to say anything
LIVE = (0.6, 1.6)  # minutes of recording to a minute of the clock, in a recording made during the operation
DAY = 24 * 60
MOMENT = "the recording's clock"


def timed(entity: Entity) -> Entity:
    """An event with the second of the recording at which its name was first said (``at_s``); in an untimed source it has none.

    "[12:40] Tourniquet up" is at 760 s. Of a live recording that is when it happened; of any other only when it was spoken of.
    """
    name = entity.attributes.get("name")
    if entity.type != "event" or name is None:
        return entity
    words = next((words for words in name.evidence if words.start_s is not None), None)
    if words is None:
        return entity
    at_s = Attribute(value=words.start_s, unit="s", evidence=(words,), why=(MOMENT,))
    return entity.model_copy(update={"attributes": {**entity.attributes, "at_s": at_s}})


def spoken_live(transcript: Transcript, facts: Iterable[Fact]) -> bool | None:
    """Whether the clock runs with the recording: True or False by the events' clock times, None where fewer than two tell.

    Two events an hour apart that are spoken of an hour apart were called out as they happened; spoken of within a minute they
    were remembered. A recording whose clock does not run through tells nothing: the pauses in it are not known.
    """
    if transcript.restarted:
        return None
    told = sorted(_told(transcript, facts))
    if len(told) < 2:
        return None
    (first_s, first_clock), (last_s, last_clock) = told[0], told[-1]
    minutes = (last_clock - first_clock) % DAY
    if minutes < SPAN or minutes > DAY / 2:
        return None
    share = (last_s - first_s) / 60 / minutes
    return LIVE[0] <= share <= LIVE[1]


def _told(transcript: Transcript, facts: Iterable[Fact]) -> Iterator[tuple[float, int]]:
    """The seconds at which clock times of events were said, and the minutes of the day they tell."""
    for fact in facts:
        if (fact.type, fact.attribute) != ("event", "clock") or fact.superseded:
            continue
        second = transcript.second_at(fact.spans[0].start)
        if second is not None:
            hours, minutes = str(fact.value).split(":")
            yield second, 60 * int(hours) + int(minutes)


def settled_times(facts: Sequence[Fact], *, live: bool | None) -> tuple[Fact, ...]:
    """The facts of one source, with tourniquet minutes called out before the cuff came down taken for what they are: so far.

    Live: "sixty minutes", then "tourniquet down", then "total time seventy two" is 72 minutes, with 60 superseded.
    """
    downs = [f.order for f in facts if f.type == "event" and f.attribute == "name" and f.value == "tourniquet down"]
    if not live or not downs:
        return tuple(facts)
    return tuple(_so_far(fact) if _is_minutes(fact) and fact.order < max(downs) else fact for fact in facts)


def _is_minutes(fact: Fact) -> bool:
    return (fact.type, fact.attribute) == ("case", "tourniquet_min")


def _so_far(fact: Fact) -> Fact:
    return replace(fact, superseded=True, why=(*fact.why, SO_FAR))
