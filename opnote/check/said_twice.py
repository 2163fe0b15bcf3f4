"""Said two ways: what the speaker said differently and never corrected."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.reading import about
from opnote.check.wording import cite, listed, measure, number, thing
from opnote.record.model import Candidate, Entity, Record

ITSELF = ("value", "result", "name", "exam", "item")  # attributes that say what the thing is and not something of it
ELSEWHERE = {("case", "side"), ("procedure", "side")}  # SIDE01 asks about these


@check("SAID01", "said-two-ways", severity="stop", kind="conflict", source="common practice")
def said_two_ways(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """One thing is said in two ways and neither is taken back.

    Why: the tool never decides between two things a surgeon said; the value stays open until the author settles it. It stops the
    note where a wrong value harms (list ``harmful``), else it asks.

    Silent when: the speaker corrected the first value ("nine, no, eight"), or it is the side (SIDE01); the case sheet alone says otherwise
    (SHEET01).
    """
    harmful = known.members("harmful")
    for entity in record.entities:
        for name, attribute in entity.attributes.items():
            said = spoken(attribute.candidates, record)
            if len(said) < 2 or (entity.type, name) in ELSEWHERE or _one_saying(said, record):
                continue
            ways = listed((said_as(c, name) for c in said), last="and as")
            yield Doubt(
                f"The {_what(known, entity, name)} was said as {ways}. Which is right?",
                about(entity, name),
                tuple(words for c in attribute.candidates for words in c.evidence),
                severity="stop" if name in harmful else "ask",
            )


@check("SAID02", "words-of-two-meanings", severity="stop", kind="unclear", source="common practice; dates: ISO 8601 exists for this reason")
def words_of_two_meanings(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The same words may mean two values.

    Why: "three slash four" is a day of March or of April, and "two seven by twenty" two screws of seven or one of 2.7; the tool decides
    neither. It stops the note where a wrong value harms (list ``harmful``), else it asks.

    Silent when: the value is also said plainly, or only one meaning is possible for such a thing.
    """
    harmful = known.members("harmful")
    for entity in record.entities:
        for name, attribute in entity.attributes.items():
            said = spoken(attribute.candidates, record)
            if len(said) < 2 or not _one_saying(said, record):
                continue
            meanings = listed((wording(c, name) for c in said), last="or")
            yield Doubt(
                f"The {_what(known, entity, name)} was said as {cite(said[0].evidence)}, which may mean {meanings}. Which is it?",
                about(entity, name),
                tuple(dict.fromkeys(words for c in said for words in c.evidence)),
                severity="stop" if name in harmful else "ask",
            )


def _one_saying(candidates: Iterable[Candidate], record: Record) -> bool:
    """Whether all of several values come from the same words."""
    sheets = sheets_of(record)
    return len({tuple(words for words in c.evidence if words.source not in sheets) for c in candidates}) == 1


def sheets_of(record: Record) -> set[str]:
    """The ids of the case sheets."""
    return {source.id for source in record.sources if source.kind == "case sheet"}


def spoken(candidates: Iterable[Candidate], record: Record) -> list[Candidate]:
    """The candidates that somebody said, those of the case sheet left out."""
    sheets = sheets_of(record)
    return [c for c in candidates if any(words.source not in sheets for words in c.evidence)]


def _what(known: Knowledge, entity: Entity, name: str) -> str:
    if name in ITSELF:
        return thing(entity)
    return known.label(entity.type, name) + ("" if entity.type == "case" else f" of the {thing(entity)}")


def said_as(candidate: Candidate, name: str) -> str:
    """One of several values with its words and its second; the words alone where they are the value."""
    words, value = cite(candidate.evidence), wording(candidate, name)
    return words if words.lower().startswith(f"“{value.lower()}”") else f"{value} {words}"


def wording(candidate: Candidate, name: str) -> str:
    """One of several values as a message shows it."""
    if isinstance(candidate.value, int | float) and not isinstance(candidate.value, bool):
        return measure(candidate.value, name)
    if candidate.value is not None:
        return str(candidate.value)
    bounds = [bound for bound in (candidate.low, candidate.high) if bound is not None]
    return " to ".join([*(number(bound) for bound in bounds[:-1]), measure(bounds[-1], name)])
