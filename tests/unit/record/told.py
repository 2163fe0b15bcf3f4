"""What the tests of the record are made of: facts in a short notation, and records of short dictations."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from opnote.extract.extract import extract
from opnote.extract.model import Extraction, Fact, Scalar
from opnote.hearing import hear
from opnote.language.phrases import Phrasebook
from opnote.language.talk import Talk, understand
from opnote.lexicon import Lexicon, load
from opnote.record.build import build
from opnote.record.model import Attribute, Record
from opnote.record.thing import Thing
from opnote.spans import RawSpan
from opnote.transcript import Transcript, read_bytes


@cache
def lexicon() -> Lexicon:
    """The built-in lexicons."""
    return load()


@cache
def _book() -> Phrasebook:
    return Phrasebook(lexicon())


def facts(kind: str, *mentions: str, source: str = "dictation", first: int = 0) -> list[Fact]:
    """The facts of mentions in the notation of ``tests/corpus/merging.toml``."""
    return [fact for frame, mention in enumerate(mentions, start=first) for fact in _mention(kind, mention, source=source, frame=frame)]


def _mention(kind: str, mention: str, *, source: str, frame: int) -> Iterator[Fact]:
    for number, part in enumerate(mention.split("; ")):
        lent, back = part.startswith("("), part.startswith("not ")
        name, _, worth = part.strip("()").removeprefix("not ").partition("=")
        order = frame * 100 + number
        readings = worth.split("|")
        for reading in readings:
            yield Fact(
                source, frame, kind, name, _scalar(reading), (RawSpan(order, order + 1),), order,
                superseded=back, inherited=lent, reading=len(readings) > 1,
            )  # fmt: skip


def _scalar(worth: str) -> Scalar:
    try:
        return float(worth)
    except ValueError:
        return worth


def thing(kind: str, *mentions: str, source: str = "dictation", first: int = 0) -> Thing:
    """One thing of which all the mentions speak."""
    return Thing(kind, tuple(facts(kind, *mentions, source=source, first=first)))


def transcript(text: str, *, source: str = "dictation") -> Transcript:
    """A short dictation, or an addendum where ``source`` says so."""
    return read_bytes(text.encode(), name=f"{source}.txt", source=source, kind="dictation" if source == "dictation" else "addendum")


def understood(read: Transcript) -> tuple[Talk, Extraction]:
    """What language and extraction make of a transcript."""
    talk = understand(hear(read, lexicon()), lexicon(), _book())
    return talk, extract(talk, lexicon())


def record(dictation: str, *addenda: str) -> Record:
    """The record of a short dictation and its addenda."""
    read = [transcript(dictation), *(transcript(text, source=f"addendum-{number}") for number, text in enumerate(addenda, start=1))]
    return build([understood(one) for one in read], lexicon(), version="test")


def only(made: Record, kind: str) -> dict[str, Attribute]:
    """The attributes of the one entity of a type."""
    [entity] = made.of(kind)
    return entity.attributes
