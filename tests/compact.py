"""Records for tests, from compact entities: ``{"type": "case", "side": "left"}``.

A value may be a scalar, a list of strings, or a table: ``value`` (or ``low`` and ``high``, or ``candidates``: a list of such
tables, or ``readings``: values that the same words may mean), ``quote`` (the words; the value itself where absent), ``at``
(seconds), ``approximate``, ``lent``, ``said`` (before conversion), ``source`` ("case": it stands on the case sheet). The words are laid out
one after the other as the text of one dictation, ten seconds apart, so that quotes, places and seconds are true of it. ``id`` and
``links`` of an entity are optional.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from opnote.record.model import (
    AccountRow,
    Attribute,
    Candidate,
    Entity,
    Evidence,
    MadeBy,
    Record,
    Repair,
    Said,
    Source,
    SourceKind,
    SourceMend,
    Unsure,
)

Compact = Mapping[str, Any]
SECONDS_APART = 10.0
DICTATION, SHEET = "d1", "case"


class Text:
    """The dictation that grows while a record is built."""

    def __init__(self) -> None:
        self.words = ""
        self.count = 0

    def say(self, quote: str, at: float | None = None, source: str = DICTATION) -> Evidence:
        if source != DICTATION:
            return Evidence(source=source, line=1, chars=(0, len(quote)), quote=quote)
        start = len(self.words) + (1 if self.words else 0)
        self.words = f"{self.words} {quote}".strip()
        begin = at if at is not None else self.count * SECONDS_APART
        self.count += 1
        return Evidence(source=source, start_s=begin, end_s=begin + 1.0, chars=(start, start + len(quote)), quote=quote)


def record_of(
    entities: Iterable[Compact], *, repairs: Iterable[Compact] = (), unsure: Iterable[Compact] = (), mends: Iterable[Compact] = ()
) -> Record:
    """A record of some entities.

    ``repairs`` name ``heard`` and ``read_as``, ``unsure`` words ``heard`` and what they ``may_be``, ``mends`` the ``line`` of the
    dictation's file, ``what`` was tolerated there and its ``kind``.
    """
    text = Text()
    built = tuple(_entity(entity, number, text) for number, entity in enumerate(entities, start=1))
    doubted = tuple(_unsure(words, text) for words in unsure)
    mended = tuple(_repair(repair, text) for repair in repairs)
    account = (
        (AccountRow(status="used", source=DICTATION, chars=(0, len(text.words)), quote=text.words, read=text.words),) if text.words else ()
    )
    kinds: dict[str, SourceKind] = {DICTATION: "dictation", SHEET: "case sheet"}
    tolerated = {DICTATION: tuple(SourceMend.model_validate(mend) for mend in mends)}
    sources = tuple(
        Source(id=id_, kind=kind, name="invented", sha256="0" * 64, mends=tolerated.get(id_, ())) for id_, kind in kinds.items()
    )
    return Record(
        made_by=MadeBy(opnote="test", lexicons="test"), sources=sources, entities=built, account=account, repairs=mended, unsure=doubted
    )


def _entity(compact: Compact, number: int, text: Text) -> Entity:
    names = [name for name in compact if name not in ("type", "id", "links", "note")]
    return Entity(
        id=compact.get("id", f"{compact['type']}-{number}"),
        type=compact["type"],
        attributes={name: _attribute(compact[name], text) for name in names},
        links={relation: tuple(ids) for relation, ids in compact.get("links", {}).items()},
    )


def _attribute(said: Any, text: Text) -> Attribute:
    table = dict(said) if isinstance(said, Mapping) else {"value": said}
    if "candidates" in table:
        return Attribute(candidates=tuple(_candidate(c, text) for c in table["candidates"]))
    words = text.say(table.get("quote") or _words(table), table.get("at"), table.get("source", DICTATION))
    if "readings" in table:
        return Attribute(candidates=tuple(Candidate(value=value, evidence=(words,)) for value in table["readings"]))
    value = table.get("value")
    return Attribute(
        value=tuple(value) if isinstance(value, list) else value,
        low=table.get("low"),
        high=table.get("high"),
        approximate=table.get("approximate", False),
        lent=table.get("lent", False),
        said=Said(**table["said"]) if "said" in table else None,
        evidence=(words,),
    )


def _candidate(said: Any, text: Text) -> Candidate:
    table = dict(said) if isinstance(said, Mapping) else {"value": said}
    words = text.say(table.get("quote") or _words(table), table.get("at"), table.get("source", DICTATION))
    return Candidate(value=table.get("value"), low=table.get("low"), high=table.get("high"), evidence=(words,))


def _words(table: Mapping[str, Any]) -> str:
    value = table.get("value")
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return str(value) if value is not None else f"{table.get('low')} to {table.get('high')}"


def _repair(compact: Compact, text: Text) -> Repair:
    start = text.words.index(compact["heard"])
    span = (start, start + len(compact["heard"]))
    return Repair(
        source=DICTATION, chars=span, heard=compact["heard"], read_as=compact["read_as"], why="invented", ask=compact.get("ask", False)
    )


def _unsure(compact: Compact, text: Text) -> Unsure:
    heard = compact["heard"]
    start = text.words.find(heard)
    words = text.say(heard) if start < 0 else Evidence(source=DICTATION, start_s=0.0, chars=(start, start + len(heard)), quote=heard)
    return Unsure(evidence=words, may_be=tuple(compact.get("may_be", ())), why="invented")
