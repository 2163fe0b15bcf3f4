"""Facts in, record out: entities with their attributes, links and ids."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from opnote.extract.model import Extraction, Fact
from opnote.language.talk import Talk
from opnote.lexicon import Lexicon
from opnote.record.account import account
from opnote.record.addenda import overruled
from opnote.record.attributes import Sources, attribute, evidence_at
from opnote.record.clock import settled_times, spoken_live, timed
from opnote.record.links import linked
from opnote.record.merge import merge
from opnote.record.model import Entity, MadeBy, Record, Repair, Source, SourceMend, Unsure
from opnote.record.scheduled import joined
from opnote.record.settle import settle
from opnote.record.sheet import Sheet, only_scheduled
from opnote.record.thing import Thing
from opnote.spans import RawSpan
from opnote.transcript.model import Transcript

Told = Sequence[tuple[Talk, Extraction]]


def build(talks: Told, lexicon: Lexicon, *, version: str, sheet: Sheet | None = None) -> Record:
    """The record of one case from its dictation and addenda, in order, and its case sheet."""
    spoken = [talk.heard.transcript for talk, _ in talks]
    sources = {transcript.source: transcript for transcript in (*spoken, *([sheet.transcript] if sheet else []))}
    live = {talk.heard.transcript.source: spoken_live(talk.heard.transcript, extraction.facts) for talk, extraction in talks}
    things = things_of(talks, lexicon, live=live, sheet=sheet)
    entities = entities_of(things, sources, lexicon)
    return Record(
        made_by=MadeBy(opnote=version, lexicons=lexicon.sha256),
        sources=tuple(_source(transcript, live.get(transcript.source)) for transcript in sources.values()),
        entities=tuple(linked(joined(entities, sheet, lexicon, talks=[talk for talk, _ in talks]))),
        account=tuple(row for talk, extraction in talks for row in account(talk, _kept(extraction, things), lexicon.words["surgical"])),
        repairs=tuple(repair for talk, _ in talks for repair in _repairs(talk)),
        unsure=tuple(words for talk, _ in talks for words in _unsure(talk)),
    )


def _kept(extraction: Extraction, things: Iterable[Thing]) -> Extraction:
    """What was extracted, without the facts that no thing of the record holds: their words were not used after all."""
    held = {_place(fact) for thing in things for fact in thing.facts}
    return replace(extraction, facts=tuple(fact for fact in extraction.facts if _place(fact) in held))


def _place(fact: Fact) -> tuple[str, int, str, tuple[RawSpan, ...]]:
    return (fact.source, fact.frame, fact.attribute, fact.spans)


def things_of(talks: Told, lexicon: Lexicon, *, live: Mapping[str, bool | None], sheet: Sheet | None = None) -> tuple[Thing, ...]:
    """The things that all sources together speak of: merged, then ruled by the addenda, then settled among each other."""
    facts = [f for talk, extraction in talks for f in settled_times(extraction.facts, live=live[talk.heard.transcript.source])]
    sources = [talk.heard.transcript.source for talk, _ in talks]
    merged = merge([*only_scheduled(sheet, facts), *facts], lexicon, addenda=sources[1:])
    return settle([overruled(thing, lexicon, sources=sources) for thing in merged], lexicon)


def entities_of(things: Iterable[Thing], sources: Sources, lexicon: Lexicon) -> list[Entity]:
    """The things as entities, each with an id of its own; one of which all was taken back is none."""
    entities: list[Entity] = []
    taken: set[str] = set()
    for thing in things:
        named = {name: [f for f in thing.facts if f.attribute == name] for name in dict.fromkeys(f.attribute for f in thing.facts)}
        told = {name: attribute(facts, sources, lexicon.attributes.get((thing.type, name))) for name, facts in named.items()}
        attributes = {name: held for name, held in told.items() if held is not None}
        if attributes:
            name = _free(f"{thing.type}-{digest(first_said(thing, sources), sources)}", taken)
            taken.add(name)
            entities.append(timed(Entity(id=name, type=thing.type, attributes=attributes)))
    return entities


def first_said(thing: Thing, sources: Sources) -> Fact:
    """The fact whose words speak of a thing first: the dictation's before an addendum's, and what was lent from elsewhere last."""
    rank = {source: place for place, source in enumerate(sources)}
    return min(thing.facts, key=lambda fact: (rank[fact.source], fact.inherited, fact.order))


def digest(fact: Fact, sources: Sources) -> str:
    """A short name for a fact, from its place and its words, so that it survives a new run and whatever is said later."""
    start = fact.spans[0].start
    words = sources[fact.source].quote(fact.spans[0])
    return hashlib.sha256(f"{fact.source}:{start}:{fact.attribute}:{words}".encode()).hexdigest()[:8]


def _free(stem: str, taken: set[str]) -> str:
    """The stem, or the stem with the first number that makes it an id of its own ("ACL and PCL reconstruction" begin alike)."""
    name, number = stem, 2
    while name in taken:
        name, number = f"{stem}-{number}", number + 1
    return name


def _source(transcript: Transcript, live: bool | None) -> Source:
    return Source(
        id=transcript.source, kind=transcript.kind, name=transcript.name, sha256=transcript.sha256,
        segments=len(transcript.segments), duration_s=transcript.duration_s, live=live,
        mends=tuple(SourceMend(line=mend.line, what=mend.what, kind=mend.kind) for mend in transcript.mends),
    )  # fmt: skip


def _repairs(talk: Talk) -> Iterator[Repair]:
    transcript = talk.heard.transcript
    for edit in talk.heard.edits:
        if edit.kind == "repair":
            yield Repair(
                source=transcript.source, start_s=transcript.second_at(edit.raw.start), chars=(edit.raw.start, edit.raw.end),
                heard=transcript.quote(edit.raw).strip(), read_as=edit.read_as.strip(), why=edit.why, ask=edit.ask,
            )  # fmt: skip


def _unsure(talk: Talk) -> Iterator[Unsure]:
    transcript = talk.heard.transcript
    for reading in talk.heard.readings:
        words = evidence_at(transcript, talk.heard.raw(reading.text))
        may_be = tuple(option for option, _ in reading.options if option.lower() != words.quote.lower())
        yield Unsure(evidence=words, may_be=may_be, why=reading.why)
