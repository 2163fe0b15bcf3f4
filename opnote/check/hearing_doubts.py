"""Hearing doubts: values that rest on a word that was read otherwise than it was heard, and words that may be others."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.reading import about, evidence
from opnote.check.wording import cite, inside, listed, thing
from opnote.record.model import About, Attribute, Entity, Evidence, Record, Repair, Unsure


@check(
    "HEAR01",
    "value-rests-on-a-repaired-word",
    severity="ask",
    kind="unclear",
    source="lexicons/mishearings, entries with `flip`, each with its source; left/right and 15/50 slips: PA 2006, ISMP 2017",
)
def value_on_a_repaired_word(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A value rests on a word that was no valid term and was read as one of a pair that is easily confused.

    Why: reading "various" as varus is likely right, but the other member of the pair reverses the meaning. Each reading is asked
    about once, with every value that rests on it.

    Silent when: the repair is not marked to be asked about; no value rests on the word.
    """
    for (heard, read_as), repairs in _readings(record).items():
        resting = tuple(found for repair in repairs for found in _resting(record, repair))
        if resting:
            things = listed(f"the {thing(entity)} ({inside((words,))})" for entity, _, words in resting)
            yield Doubt(
                f"“{heard}” was read as “{read_as}” for {things}. Is that right?",
                tuple(a for entity, name, _ in resting for a in about(entity, name)),
                tuple(words for _, _, words in resting),
            )


@check(
    "HEAR02",
    "word-that-may-be-another",
    severity="ask",
    kind="unclear",
    source="lexicons/mishearings, entries that ask, each with its source; a confidence below a half: common practice",
)
def word_that_may_be_another(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A word may be another one, and nothing in its place tells which.

    Why: both readings make sense, so the printed one is kept and the author is asked; so it is with a number, a side or a negation that
    the recogniser itself was unsure of.

    Silent when: the place of the word leaves one reading; the recogniser was unsure of a word on which no value rests.
    """
    asked: dict[tuple[str, tuple[str, ...]], list[Unsure]] = {}
    for words in record.unsure:
        asked.setdefault((words.evidence.quote.lower(), tuple(other.lower() for other in words.may_be)), []).append(words)
    for group in asked.values():
        first, places = group[0], tuple(words.evidence for words in group)
        resting = [found for place in places for found in _values_on(record, place)]
        if first.may_be:
            others = listed((f"“{other}”" for other in first.may_be), last="or")
            message = f"{cite(places)} may have been {others}. Which was it?"
        elif resting:
            things = listed(dict.fromkeys(f"the {thing(entity)}" for entity, _ in resting))
            message = f"The recogniser was unsure of {cite(places)}, on which a value of {things} rests. Is it right?"
        else:
            continue
        named = tuple(a for entity, name in resting for a in about(entity, name))
        yield Doubt(message, named or (About(type="dictation"),), places)


def _values_on(record: Record, place: Evidence) -> Iterator[tuple[Entity, str]]:
    """The values whose words hold those of a place."""
    for entity in record.entities:
        for name in entity.attributes:
            if any(_overlap(words, place.source, place.chars) for words in evidence(entity, name)):
                yield entity, name


def _readings(record: Record) -> dict[tuple[str, str], list[Repair]]:
    """The repairs to be asked about, by what was heard and what it was read as."""
    found: dict[tuple[str, str], list[Repair]] = {}
    for repair in record.repairs:
        if repair.ask:
            found.setdefault((repair.heard.lower(), repair.read_as.lower()), []).append(repair)
    return found


def _resting(record: Record, repair: Repair) -> Iterator[tuple[Entity, str, Evidence]]:
    """The values whose words hold the repaired one."""
    for entity in record.entities:
        for name, attribute in entity.attributes.items():
            found = next((words for words in attribute.evidence if _overlap(words, repair.source, repair.chars)), None)
            if found and _holds(attribute, repair.read_as):
                yield entity, name, found


def _overlap(words: Evidence, source: str, chars: tuple[int, int]) -> bool:
    return words.source == source and words.chars[0] < chars[1] and chars[0] < words.chars[1]


def _holds(attribute: Attribute, read_as: str) -> bool:
    """Whether the repaired word is the value itself and not merely near it."""
    values = attribute.value if isinstance(attribute.value, tuple) else (attribute.value,)
    words = set(read_as.lower().split())
    return any(isinstance(value, str) and words & set(value.lower().split()) for value in values)
