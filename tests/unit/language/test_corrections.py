"""What a speaker takes back, from ``tests/corpus/corrections.toml``: exactly the marked pairs, and their values."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass

import pytest

from opnote.language.corrections import Value
from opnote.language.model import Quantity
from opnote.language.talk import Talk
from opnote.lexicon import load
from tests.stance import CORPUS, place, talk_of

MARKS = re.compile(r"\{(?P<old>[^}]+)\}|\[(?P<new>[^\]=]+)(?:=(?P<value>[^\]]+))?\]")
TABLES = tomllib.loads((CORPUS / "corrections.toml").read_text(encoding="utf-8"))


def _said(table: str) -> list[str]:
    return [said for entry in TABLES[table] for said in entry["said"]]


@dataclass(frozen=True)
class Marked:
    """A text without its marks, where its old and new values begin, and what the new one is worth."""

    text: str
    places: dict[str, int]
    value: str


def _marked(said: str) -> Marked:
    text, places, value, at = "", {}, "", 0
    for found in MARKS.finditer(said):
        text += said[at : found.start()]
        kind = "old" if found["old"] else "new"
        places[kind] = len(text)
        text, at, value = text + found[kind], found.end(), found["value"] or value
    return Marked(text + said[at:], places, value)


def _worth(value: Value) -> str:
    if isinstance(value, Quantity) and value.kind == "pair":
        return " x ".join(f"{part.value:g}" for part in value.parts)
    return str(value.value)


def _covers(talk: Talk, value: Value, text: str, char: int) -> bool:
    raw = talk.raw(value.start, value.end)
    return raw.start <= place(text, char) < raw.end


@pytest.mark.parametrize("said", _said("corrected"))
def test_new_value_replaces_old_one(said: str) -> None:
    marked = _marked(said)
    talk = talk_of(marked.text)
    assert len(talk.corrected) == 1, talk.corrected
    [found] = talk.corrected
    assert _covers(talk, found.old, marked.text, marked.places["old"]), found
    assert _covers(talk, found.new, marked.text, marked.places["new"]), found
    if marked.value:
        assert _worth(found.new) == marked.value
        assert found.new in talk.quantities


@pytest.mark.parametrize("said", _said("kept"))
def test_nothing_is_corrected(said: str) -> None:
    assert talk_of(said).corrected == ()


@pytest.mark.parametrize("entry", load().corrections, ids=lambda entry: entry.id)
def test_examples_of_entry(entry) -> None:  # type: ignore[no-untyped-def]
    assert talk_of(entry.example).corrected
    assert not entry.counter_example or not talk_of(entry.counter_example).corrected
