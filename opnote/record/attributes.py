"""One attribute from all that was said of it: the value, the values, or candidates that nobody corrected."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from opnote.extract.model import Fact
from opnote.lexicon import AttributeEntry
from opnote.record.model import Attribute, Candidate, Evidence, GaveWay, Said
from opnote.spans import RawSpan
from opnote.transcript.model import Transcript

SO_FAR, OVERRULED = "called out before the tourniquet came down", "overruled by "
"""What the reasons of a fact say that gave way without being taken back."""
Sources = Mapping[str, Transcript]  # by their ids, in the order in which they speak


def attribute(facts: Sequence[Fact], sources: Sources, entry: AttributeEntry | None) -> Attribute | None:
    """The attribute that ``facts`` tell of, or None where all was taken back.

    "Nine, no, ten" is ten with nine superseded; "nine" and later "ten" are two candidates, unless the attribute table says that the first
    or the latest stands. What was said counts before what only the words around lent.
    """
    standing = [fact for fact in facts if not fact.superseded]
    said = settled([fact for fact in standing if not fact.inherited] or standing)
    groups = by_worth(said, sources)
    if not groups:
        return None
    superseded = tuple(candidate(fact, sources, gave_way=_gave_way(fact)) for fact in facts if fact.superseded)
    if any(fact.reading for fact in said):
        return Attribute(candidates=tuple(candidate(group[0], sources) for group in groups), superseded=superseded)
    if len(groups) == 1:
        return _single(groups[0], sources, superseded)
    if entry is not None and entry.many:
        return _listed(groups, sources, superseded)
    if entry is None or entry.repeat == "conflict":
        return Attribute(candidates=tuple(candidate(group[0], sources) for group in groups), superseded=superseded)
    if entry.repeat == "first":
        return _single(groups[0], sources, superseded)
    return _single(groups[-1], sources, (*superseded, *(candidate(group[0], sources, gave_way="earlier") for group in groups[:-1])))


def settled(facts: Sequence[Fact]) -> list[Fact]:
    """``facts`` without those readings of ambiguous words of which another one was said plainly elsewhere.

    "Two seven by twenty" may be 7 or 2.7 wide; where the same thing is "seven millimetres" too, it is 7.
    """
    plain = {fact.value for fact in facts if not fact.reading}
    told = {_words(fact) for fact in facts if fact.reading and fact.value in plain}
    return [fact for fact in facts if not fact.reading or _words(fact) not in told]


def _words(fact: Fact) -> tuple[str, int]:
    return fact.source, fact.order


def by_worth(facts: Iterable[Fact], sources: Sources) -> list[tuple[Fact, ...]]:
    """Facts that say the same put together, in the order of the last time that each was said."""
    rank = {source: place for place, source in enumerate(sources)}
    groups: dict[object, tuple[Fact, ...]] = {}
    for fact in sorted(facts, key=lambda f: (rank[f.source], f.order)):
        worth = (fact.value.lower() if isinstance(fact.value, str) else fact.value, fact.low, fact.high)
        groups[worth] = (*groups.pop(worth, ()), fact)
    return list(groups.values())


def _single(group: Sequence[Fact], sources: Sources, superseded: tuple[Candidate, ...]) -> Attribute:
    """The value that all facts of a group give, as the first of them says it."""
    fact = group[0]
    return Attribute(
        value=fact.value, low=fact.low, high=fact.high, unit=fact.unit,
        said=Said(value=fact.said[0], unit=fact.said[1]) if fact.said else None,
        approximate=fact.approximate, evidence=tuple(dict.fromkeys(e for one in group for e in evidence(one, sources))),
        superseded=superseded, lent=all(one.inherited for one in group), why=fact.why,
    )  # fmt: skip


def _listed(groups: Sequence[Sequence[Fact]], sources: Sources, superseded: tuple[Candidate, ...]) -> Attribute:
    """Several values that are true at once, in the order in which they were first said."""
    rank = {source: place for place, source in enumerate(sources)}
    facts = sorted((group[0] for group in groups), key=lambda f: (rank[f.source], f.order))
    return Attribute(
        value=tuple(fact.value for fact in facts if fact.value is not None),
        evidence=tuple(e for fact in facts for e in evidence(fact, sources)),
        superseded=superseded,
        lent=all(fact.inherited for fact in facts),
        why=facts[0].why,
    )


def candidate(fact: Fact, sources: Sources, *, gave_way: GaveWay | None = None) -> Candidate:
    """A fact as one of several values, or as one that gave way, with its words."""
    return Candidate(value=fact.value, low=fact.low, high=fact.high, gave_way=gave_way, evidence=tuple(evidence(fact, sources)))


def _gave_way(fact: Fact) -> GaveWay:
    """Why a fact gave way, by what the stage that set it aside left with it."""
    if SO_FAR in fact.why:
        return "interim"
    return "addendum" if any(why.startswith(OVERRULED) for why in fact.why) else "correction"


def evidence(fact: Fact, sources: Sources) -> Iterator[Evidence]:
    """The places and quotes of a fact."""
    yield from (evidence_at(sources[fact.source], span) for span in fact.spans)


def evidence_at(transcript: Transcript, span: RawSpan) -> Evidence:
    """The words of a place, without white space around them."""
    text = transcript.quote(span)
    start = span.start + len(text) - len(text.lstrip())
    kept = RawSpan(start, start + len(text.strip()))
    start_s, end_s = transcript.seconds(kept)
    line = transcript.segment_at(kept.start).line if start_s is None else None
    quote = transcript.quote(kept)
    return Evidence(source=transcript.source, start_s=start_s, end_s=end_s, line=line, chars=(kept.start, kept.end), quote=quote)
