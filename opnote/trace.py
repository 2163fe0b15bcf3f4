"""Where a value came from, as a tree: words, edits, terms, quantities with their candidates, and the rules that tied them.

Like the commands this module may look into every stage; it decides nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from opnote.errors import OpnoteError
from opnote.extract.model import Candidate, Choice, Extraction, Fact
from opnote.language.model import Quantity
from opnote.language.quantities import worth as bare_worth
from opnote.language.talk import Talk
from opnote.moments import moment, place
from opnote.note.wording import candidate_text, gave_way, span, suffix_unit, values_of
from opnote.pipeline import Run
from opnote.record.model import Attribute, Entity, Evidence
from opnote.spans import RawSpan

CANDIDATES = 5  # of a quantity that are shown
Told = tuple[Talk, Extraction]


@dataclass(frozen=True)
class Branch:
    """A line of the tree and what hangs on it."""

    text: str
    branches: tuple[Branch, ...] = ()


def at_second(run: Run, second: float, *, source: str = "dictation") -> tuple[Branch, ...]:
    """What was made of the words said at a second of a source. Raises ``OpnoteError`` for a source without seconds, or silence."""
    talk, extraction = _told(run, source)
    transcript = talk.heard.transcript
    if all(segment.start_s is None for segment in transcript.segments):
        raise OpnoteError(f"{source} has no seconds", hint="ask for a value (--value) or a word (--word)")
    spoken = [
        statement for statement in range(len(talk.statements)) if _covers(transcript.seconds(_raw(talk, statement)), second)
    ]  # fmt: skip
    if not spoken:
        raise OpnoteError(f"nothing is said at {moment(second)} of {source}", hint="try a second of a value in the worksheet")
    return tuple(statement_branch(talk, extraction, statement) for statement in spoken)


def of_word(run: Run, word: str) -> tuple[Branch, ...]:
    """What was made of every statement in which a word or phrase stands, as dictated or as read. Raises ``OpnoteError`` for none."""
    wanted = re.compile(rf"(?<!\w){re.escape(' '.join(word.split()))}(?!\w)", re.IGNORECASE)
    found = [
        statement_branch(talk, extraction, index)
        for talk, extraction in run.talks
        for index in range(len(talk.statements))
        if wanted.search(talk.heard.transcript.quote(_raw(talk, index))) or wanted.search(_read(talk, index))
    ]
    if not found:
        raise OpnoteError("that word stands nowhere in the dictation", hint="give it as the transcript or the note spells it")
    return tuple(found)


def of_value(run: Run, name: str = "") -> tuple[Branch, ...]:
    """Where each value of an attribute came from: ``tunnel.diameter_mm``, ``tunnel`` for all of them, "" for every value.

    Raises ``OpnoteError`` when the record has no such value.
    """
    kind, _, attribute = name.partition(".")
    found = [
        _value_branch(run, entity, key, held)
        for entity in run.record.entities
        for key, held in entity.attributes.items()
        if (not kind or entity.type == kind) and (not attribute or key == attribute)
    ]
    if not found:
        raise OpnoteError(f"the record has no value {name}", hint=f"it has {', '.join(_names(run, kind))}")
    return tuple(found)


def statement_branch(talk: Talk, extraction: Extraction, index: int) -> Branch:
    """Everything that was made of one statement."""
    statement, raw = talk.statements[index], _raw(talk, index)
    start, end = talk.heard.transcript.seconds(raw)
    at = f"{moment(start)} to {moment(end)}" if start is not None and end is not None else place(start, _line(talk, raw))
    voice = f", {statement.speaker}" if statement.speaker else ""
    heading = f", under {statement.section}" if statement.section else ""
    return Branch(
        f"{talk.heard.transcript.source}, {at}{voice}{heading}",
        (
            Branch(f"dictated: {talk.heard.transcript.quote(raw).strip()}"),
            *_hearing(talk, raw, _read(talk, index)),
            *_stances(talk, statement.start, statement.end),
            *_terms(talk, statement.start, statement.end),
            *(_quantity(talk, extraction, q) for q in talk.quantities if statement.start <= q.start < statement.end),
            *(Branch(f"fact: {_fact(fact)}") for fact in extraction.facts if _within(fact, raw)),
        ),
    )


def lines(branches: Iterable[Branch]) -> Iterator[str]:
    r"""The tree as text.

    >>> print(*lines([Branch("value", (Branch("word", (Branch("edit"),)), Branch("rule")))]), sep="\n")
    value
    ├─ word
    │  └─ edit
    └─ rule
    """
    for branch in branches:
        yield branch.text
        yield from _below(branch, "")


def _below(branch: Branch, lead: str) -> Iterator[str]:
    for number_, child in enumerate(branch.branches, start=1):
        last = number_ == len(branch.branches)
        yield f"{lead}{'└─' if last else '├─'} {child.text}"
        yield from _below(child, lead + ("   " if last else "│  "))


def _value_branch(run: Run, entity: Entity, name: str, held: Attribute) -> Branch:
    unit = held.unit or suffix_unit(name)
    text = "; ".join(value.text for value in values_of(held, unit))
    rules = (Branch(f"tied by: {', '.join(held.why)}"),) if held.why else ()
    ways = tuple(
        Branch(f"candidate {candidate_text(c, unit)}", tuple(_evidence_branch(run, e) for e in c.evidence)) for c in held.candidates
    )
    earlier = tuple(Branch(gave_way(c, unit), tuple(_evidence_branch(run, e) for e in c.evidence)) for c in held.superseded)
    words = tuple(_evidence_branch(run, evidence) for evidence in held.evidence)
    return Branch(f"{entity.type}.{name} = {text}  ({entity.id})", (*words, *ways, *earlier, *rules))


def _evidence_branch(run: Run, evidence: Evidence) -> Branch:
    """The words of a value, what hearing did to them, and the quantity or term they were read as."""
    head = f'{evidence.source}, {place(evidence.start_s, evidence.line)}: "{evidence.quote}"'
    told = next((pair for pair in run.talks if pair[0].heard.transcript.source == evidence.source), None)
    if told is None:
        return Branch(head)
    talk, extraction = told
    raw = RawSpan(*evidence.chars)
    tokens = [index for index in range(len(talk.doc)) if _meet(talk.raw(index, index + 1), raw)]
    if not tokens:
        return Branch(head)
    first, last = tokens[0], tokens[-1] + 1
    return Branch(
        head,
        (
            *_hearing(talk, raw, ""),
            *_stances(talk, first, last),
            *_terms(talk, first, last),
            *(_quantity(talk, extraction, q) for q in talk.quantities if q.start < last and first < q.end),
        ),
    )


def _hearing(talk: Talk, raw: RawSpan, read: str) -> Iterator[Branch]:
    """The text as it was read, where that differs, and each edit that made it so."""
    transcript = talk.heard.transcript
    edits = [edit for edit in talk.heard.edits if _meet(edit.raw, raw)]
    if edits and read:
        yield Branch(f"read as: {read}")
    for edit in edits:
        new = f'read as "{edit.read_as.strip()}"' if edit.read_as.strip() else "left out"
        yield Branch(f'{edit.kind}: "{transcript.quote(edit.raw).strip()}" {new} ({edit.why}{", to be confirmed" if edit.ask else ""})')


def _why(cue: str) -> str:
    """A cue by its id, hints by their account."""
    return cue if cue.startswith("hints: ") else f"cue {cue}"


def _stances(talk: Talk, start: int, end: int) -> Iterator[Branch]:
    """The stretches that are not plainly said to be done, each with the cue that tells."""
    for stance, group in groupby(range(start, end), key=lambda index: talk.stances[index]):
        tokens = list(group)
        if stance.cue:
            yield Branch(f'stance: {stance.name} for "{talk.doc[tokens[0] : tokens[-1] + 1].text}" ({_why(stance.cue)})')


def _terms(talk: Talk, start: int, end: int) -> Iterator[Branch]:
    for mention in talk.mentions:
        if start <= mention.start < end:
            yield Branch(f'term: "{talk.doc[mention.start : mention.end].text}" is {mention.kind} {mention.value} ({mention.term})')


def _quantity(talk: Talk, extraction: Extraction, quantity: Quantity) -> Branch:
    rules = f" ({', '.join(quantity.why)})" if quantity.why else ""
    text = f'quantity: "{talk.doc[quantity.start : quantity.end].text}" is {quantity.kind} {worth(quantity)}{rules}'
    raw = talk.raw(quantity.start, quantity.end)
    ruled = any(_within(fact, raw) for fact in extraction.facts)
    choices = [choice for choice in extraction.choices if choice.quantity == quantity]
    return Branch(text, tuple(branch for choice in choices for branch in _choice(choice, ruled=ruled)))


def worth(quantity: Quantity) -> str:
    """What a quantity is worth, with its unit, as text; of an ambiguous one all that it may be."""
    return f"{bare_worth(quantity)} {quantity.unit or ''}".strip()


def _choice(choice: Choice, *, ruled: bool) -> Iterator[Branch]:
    """The candidates of a quantity and why one won; ``ruled`` says that a fact came of it in any case."""
    shown: Sequence[Candidate] = choice.candidates[:CANDIDATES]
    for candidate in shown:
        parts = ", ".join(f"{name} {value:+g}" for name, value in candidate.parts)
        mark = "won" if candidate == choice.won else "no "
        yield Branch(f"{mark} {candidate.score:6.2f}  {candidate.type}.{candidate.attribute}  ({parts})")
    if len(choice.candidates) > len(shown):
        yield Branch(f"and {len(choice.candidates) - len(shown)} with a lower score")
    how = "placed" if choice.won else "placed by a rule of its own, not by score" if ruled else "not placed"
    yield Branch(f"{how}: {choice.why}")


def _fact(fact: Fact) -> str:
    value = span(fact.low, fact.high) if fact.value is None else fact.value
    notes = [*(["taken back"] if fact.superseded else []), *(["lent by the words around"] if fact.inherited else []), *fact.why]
    return f"{fact.type} {fact.frame}, {fact.attribute} = {value}" + (f" ({', '.join(notes)})" if notes else "")


def _told(run: Run, source: str) -> Told:
    for talk, extraction in run.talks:
        if talk.heard.transcript.source == source:
            return talk, extraction
    raise OpnoteError(f"no source {source}", hint=f"known: {', '.join(talk.heard.transcript.source for talk, _ in run.talks)}")


def _raw(talk: Talk, index: int) -> RawSpan:
    return talk.raw(talk.statements[index].start, talk.statements[index].end)


def _read(talk: Talk, index: int) -> str:
    return talk.doc[talk.statements[index].start : talk.statements[index].end].text.strip()


def _line(talk: Talk, raw: RawSpan) -> int | None:
    return talk.heard.transcript.segment_at(raw.start).line


def _covers(seconds: tuple[float | None, float | None], second: float) -> bool:
    start, end = seconds
    return start is not None and end is not None and start <= second <= max(end, start + 1)


def _meet(one: RawSpan, other: RawSpan) -> bool:
    return one.start < other.end and other.start < one.end


def _within(fact: Fact, raw: RawSpan) -> bool:
    return any(_meet(words, raw) for words in fact.spans)


def _names(run: Run, kind: str) -> list[str]:
    """The values of a type of entity, or the types where there is none of that type."""
    names = {f"{entity.type}.{name}" for entity in run.record.entities if entity.type == kind for name in entity.attributes}
    return sorted(names or {entity.type for entity in run.record.entities})
