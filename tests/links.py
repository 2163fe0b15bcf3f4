"""The phrases of ``tests/corpus/links_*.toml``: what is said, and which value must be tied to which thing.

``[[link]]``           ``said`` (turns parted by `` / ``) must give every thing of ``gives`` and none of ``lacks``; each phrase of
                       ``silent``, said with much the same words, must give none of ``never``
``[[known_failure]]``  the same with a ``reason``: its ``said`` fails, and should not

A thing is noted ``TYPE: NAME=VALUE; NAME=VALUE``: one mention of it holds all of these at least. A bare ``NAME`` stands for any value,
``LOW..HIGH`` for a range, ``(NAME=VALUE)`` for a value that was taken back.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from opnote.extract.extract import extract
from opnote.extract.model import Fact
from opnote.extract.weights import Weights
from opnote.language.talk import Talk
from tests.stance import talk_of, tools

CORPUS = Path(__file__).parent / "corpus"


@dataclass(frozen=True, slots=True)
class Link:
    """One entry of a corpus; ``file`` and ``number`` name it."""

    file: str
    number: int
    said: str
    gives: tuple[str, ...]
    lacks: tuple[str, ...]
    silent: tuple[str, ...]
    never: tuple[str, ...]
    reason: str


def links() -> Iterator[Link]:
    """Every entry of the corpora. Raises ``ValueError`` for one without two silent phrases, or a known failure without its reason."""
    for path in sorted(CORPUS.glob("links_*.toml")):
        tables = tomllib.loads(path.read_text(encoding="utf-8"))
        for table, entries in tables.items():
            for number, entry in enumerate(entries, start=1):
                yield _link(path.stem, table, number, entry)


def _link(file: str, table: str, number: int, entry: dict[str, Any]) -> Link:
    reason = entry.get("reason", "")
    if table not in ("link", "known_failure") or (table == "known_failure") != bool(reason):
        raise ValueError(f"{file}: [[{table}]] {number}: a known failure has a reason, and only one")
    if not reason and (len(entry["silent"]) < 2 or not entry["never"]):
        raise ValueError(f"{file}: [[{table}]] {number}: two silent phrases for each that fires, and what they must never give")
    lists = {name: tuple(entry.get(name, ())) for name in ("gives", "lacks", "silent", "never")}
    return Link(file, number, entry["said"], reason=reason, **lists)


@cache
def _talk(said: str) -> Talk:
    return talk_of(said)


def mentions_of(said: str, *, weights: Weights | None = None) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The mentions of things in a phrase: type and values, in the notation of the corpora."""
    mentions: dict[int, tuple[str, list[str]]] = {}
    lexicon, _ = tools()
    for fact in extract(_talk(said), lexicon, weights=weights).facts:
        mentions.setdefault(fact.frame, (fact.type, []))[1].append(_noted(fact))
    return tuple((kind, tuple(values)) for kind, values in mentions.values())


def _noted(fact: Fact) -> str:
    value = f"{_text(fact.low)}..{_text(fact.high)}" if fact.value is None else _text(fact.value)
    return f"({fact.attribute}={value})" if fact.superseded else f"{fact.attribute}={value}"


def _text(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def gives(said: str, thing: str, *, weights: Weights | None = None) -> bool:
    """Whether a phrase gives a thing: one mention with all its values."""
    kind, _, wanted = thing.partition(": ")
    values = wanted.split("; ")
    found = mentions_of(said, weights=weights)
    return any(type_ == kind and all(_holds(held, value) for value in values) for type_, held in found)


def fails(link: Link, *, weights: Weights | None = None) -> bool:
    """Whether an entry lacks a thing it must give, or gives one it must not."""
    missing = any(not gives(link.said, thing, weights=weights) for thing in link.gives)
    wrong = [(link.said, thing) for thing in link.lacks] + [(said, thing) for said in link.silent for thing in link.never]
    return missing or any(gives(said, thing, weights=weights) for said, thing in wrong)


def _holds(found: Sequence[str], value: str) -> bool:
    return value in found if "=" in value else any(one.startswith(f"{value}=") for one in found)
