"""Facts in, record out: entities with their attributes, links and ids."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence

from opnote.extract.model import Extraction, Fact
from opnote.language.talk import Talk
from opnote.lexicon import AttributeEntry, Lexicon
from opnote.record.account import account
from opnote.record.clock import settled_times, spoken_live
from opnote.record.links import linked
from opnote.record.merge import Thing, merge
from opnote.record.model import Attribute, Candidate, Entity, Evidence, MadeBy, Record, Repair, Said, Source
from opnote.record.scheduled import joined
from opnote.record.settle import settle
from opnote.record.sheet import Sheet, only_scheduled
from opnote.spans import RawSpan
from opnote.transcript.model import Transcript

LIST_VALUED = frozenset({"structure"})


def build(talks: Sequence[tuple[Talk, Extraction]], lexicon: Lexicon, *, version: str, sheet: Sheet | None = None) -> Record:
    """The record of one case from its dictation and addenda, in order, and its case sheet."""
    read = [talk.heard.transcript for talk, _ in talks] + ([sheet.transcript] if sheet else [])
    transcripts = {transcript.source: transcript for transcript in read}
    live = {talk.heard.transcript.source: spoken_live(talk.heard.transcript, extraction.facts) for talk, extraction in talks}
    spoken = [f for talk, extraction in talks for f in settled_times(extraction.facts, live=live[talk.heard.transcript.source])]
    things = settle(merge([*only_scheduled(sheet, spoken), *spoken]))
    entities: list[Entity] = []
    seen: set[str] = set()
    for thing in things:
        entity = _entity(thing, transcripts, lexicon, seen)
        if entity is not None:
            entities.append(entity)
    return Record(
        made_by=MadeBy(opnote=version, lexicons=lexicon.sha256),
        sources=tuple(_source(t, live.get(t.source)) for t in transcripts.values()),
        entities=tuple(linked(joined(entities, sheet, lexicon))),
        account=tuple(row for talk, extraction in talks for row in account(talk, extraction)),
        repairs=tuple(repair for talk, _ in talks for repair in _repairs(talk)),
    )


def _source(transcript: Transcript, live: bool | None) -> Source:
    return Source(
        id=transcript.source, kind=transcript.kind, name=transcript.name, sha256=transcript.sha256,
        segments=len(transcript.segments), duration_s=transcript.duration_s, live=live,
    )  # fmt: skip


def _repairs(talk: Talk) -> Iterable[Repair]:
    transcript = talk.heard.transcript
    for edit in talk.heard.edits:
        if edit.kind == "repair":
            yield Repair(
                source=transcript.source, start_s=transcript.second_at(edit.raw.start), chars=(edit.raw.start, edit.raw.end),
                heard=transcript.quote(edit.raw).strip(), read_as=edit.read_as.strip(), why=edit.why, ask=edit.ask,
            )  # fmt: skip


def evidence(fact: Fact, transcripts: dict[str, Transcript]) -> tuple[Evidence, ...]:
    """The places and quotes of a fact."""
    transcript = transcripts[fact.source]
    out = []
    for span in fact.spans:
        text = transcript.quote(span)
        lead = len(text) - len(text.lstrip())
        kept = RawSpan(span.start + lead, span.start + lead + len(text.strip()))
        start_s, end_s = transcript.seconds(kept)
        line = transcript.segment_at(kept.start).line if start_s is None else None
        out.append(
            Evidence(
                source=fact.source, start_s=start_s, end_s=end_s, line=line, chars=(kept.start, kept.end), quote=transcript.quote(kept)
            )
        )
    return tuple(out)


def _entity(thing: Thing, transcripts: dict[str, Transcript], lexicon: Lexicon, seen: set[str]) -> Entity | None:
    attributes: dict[str, Attribute] = {}
    for name in dict.fromkeys(f.attribute for f in thing.facts):
        facts = [f for f in thing.facts if f.attribute == name]
        attribute = _attribute(facts, transcripts, lexicon.attributes.get((thing.type, name)), name)
        if attribute is not None:
            attributes[name] = attribute
    if not attributes:
        return None
    return Entity(id=_id(thing, transcripts, seen), type=thing.type, attributes=attributes)


def _id(thing: Thing, transcripts: dict[str, Transcript], seen: set[str]) -> str:
    """An id from the first words that speak of the thing, so that it survives a new run."""
    first = min(thing.facts, key=lambda f: (f.source, f.inherited, f.order))
    quote = transcripts[first.source].quote(first.spans[0])
    digest = hashlib.sha256(f"{first.source}:{first.spans[0].start}:{first.attribute}:{quote}".encode()).hexdigest()
    stem = f"{thing.type}-{digest[:8]}"
    name, number = stem, 2
    while name in seen:
        name, number = f"{stem}-{number}", number + 1
    seen.add(name)
    return name


def _attribute(facts: Sequence[Fact], transcripts: dict[str, Transcript], entry: AttributeEntry | None, name: str) -> Attribute | None:
    """One attribute from all that was said of it: the value, the values, or candidates that nobody corrected."""
    standing = [f for f in facts if not f.superseded]
    said = [f for f in standing if not f.inherited] or standing
    if not said:
        return None
    superseded = tuple(_candidate(f, transcripts) for f in facts if f.superseded)
    groups = _groups(said)
    if entry is not None and entry.many:
        return _listed(groups, transcripts, superseded)
    if len(groups) > 1:
        repeat = entry.repeat if entry else "conflict"
        if repeat == "conflict" and name in LIST_VALUED:
            return _listed(groups, transcripts, superseded)
        if repeat == "conflict":
            return Attribute(candidates=tuple(_candidate(g[0], transcripts) for g in groups), superseded=superseded)
        keep = groups[0] if repeat == "first" else groups[-1]
        superseded += tuple(_candidate(g[0], transcripts) for g in groups if g is not keep) if repeat == "latest" else ()
        groups = [keep]
    return _single(groups[0], transcripts, superseded)


def _groups(facts: Sequence[Fact]) -> list[list[Fact]]:
    """Facts by value, in the order of the last time each value was said."""
    groups: dict[object, list[Fact]] = {}
    for fact in sorted(facts, key=lambda f: (f.source != "case", f.order)):
        key = (_key(fact.value), fact.low, fact.high)
        group = groups.pop(key, [])
        groups[key] = [*group, fact]
    return list(groups.values())


def _key(value: object) -> object:
    return value.lower() if isinstance(value, str) else value


def _listed(groups: Sequence[Sequence[Fact]], transcripts: dict[str, Transcript], superseded: tuple[Candidate, ...]) -> Attribute:
    if len(groups) == 1:
        return _single(groups[0], transcripts, superseded)
    facts = sorted((g[0] for g in groups), key=lambda f: f.order)
    return Attribute(
        value=tuple(f.value for f in facts if f.value is not None),
        evidence=tuple(e for f in facts for e in evidence(f, transcripts)),
        superseded=superseded,
        why=facts[0].why,
    )


def _single(group: Sequence[Fact], transcripts: dict[str, Transcript], superseded: tuple[Candidate, ...]) -> Attribute:
    fact = group[0]
    return Attribute(
        value=fact.value, low=fact.low, high=fact.high, unit=fact.unit,
        said=Said(value=fact.said[0], unit=fact.said[1]) if fact.said else None,
        approximate=fact.approximate,
        evidence=tuple(dict.fromkeys(e for f in group for e in evidence(f, transcripts))),
        superseded=superseded, why=fact.why,
    )  # fmt: skip


def _candidate(fact: Fact, transcripts: dict[str, Transcript]) -> Candidate:
    return Candidate(value=fact.value, low=fact.low, high=fact.high, evidence=evidence(fact, transcripts))
