"""The case sheet (``--case``): what was known of a case before anyone spoke, as a source beside the dictation.

A sheet is TOML or JSON; its keys are the attributes of ``case`` in the attribute table (``opnote lexicon find case``).
"""

from __future__ import annotations

import hashlib
import json
import re
import sys
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, time
from difflib import get_close_matches
from math import isfinite
from pathlib import Path
from typing import Any

from opnote.errors import SheetError
from opnote.extract.model import Fact, Scalar
from opnote.lexicon import AttributeEntry, Lexicon
from opnote.spans import RawSpan
from opnote.transcript.model import Segment, Transcript

SOURCE, KIND = "case", "case sheet"
LIMIT_BYTES = 1_000_000
ISO_DATE, CLOCK = re.compile(r"\d{4}-\d\d-\d\d"), re.compile(r"([01]\d|2[0-3]):[0-5]\d")
WHY_NOT: dict[type[Exception], str] = {
    FileNotFoundError: "no such file",
    IsADirectoryError: "this is a folder, not a file",
    PermissionError: "no permission to read the file",
}
EXPECTED = {
    "quantity": "a number", "date": "a date (2026-04-21)", "clock": 'a time ("07:42")', "bool": "true or false",
    "name": "text", "words": "text", "identifier": "text", "term": "text",
}  # fmt: skip


@dataclass(frozen=True)
class Sheet:
    """A case sheet: its text as a source (a segment a line), and its facts, each with the place where it stands."""

    transcript: Transcript
    facts: tuple[Fact, ...]


def read(path: str, *, lexicon: Lexicon) -> Sheet:
    """Read the case sheet in a file, or on standard input for ``-``. Raises ``SheetError`` with the key and what to try."""
    name = "standard input" if path == "-" else path
    try:
        data = sys.stdin.buffer.read(LIMIT_BYTES + 1) if path == "-" else _bytes_of(path)
    except (OSError, ValueError) as error:
        reason = WHY_NOT.get(type(error), "the file cannot be read")
        raise SheetError(reason, where=name, hint="give the path of a case sheet (TOML or JSON)") from None
    return read_bytes(data, name=name, lexicon=lexicon)


def _bytes_of(path: str) -> bytes:
    with open(path, "rb") as file:
        return file.read(LIMIT_BYTES + 1)


def read_bytes(data: bytes, *, name: str, lexicon: Lexicon) -> Sheet:
    """Read the case sheet in the bytes of a file.

    >>> from opnote.lexicon import load
    >>> sheet = read_bytes(b'side = "left"', name="case.toml", lexicon=load())
    >>> [(fact.attribute, fact.value, sheet.transcript.quote(fact.spans[0])) for fact in sheet.facts]
    [('side', 'left', 'left')]
    """
    text, content = _content(data, name)
    transcript = _as_source(text, name=name, sha256=hashlib.sha256(data).hexdigest())
    facts: list[Fact] = []
    for key, value in content.items():
        entry = lexicon.attributes.get(("case", key))
        if entry is None:
            raise SheetError(f"unknown key {key!r}", where=name, hint=_known(key, lexicon))
        facts += _facts(entry, value, transcript, lexicon, where=name, start=len(facts))
    if not facts:
        raise SheetError("the case sheet says nothing", where=name, hint='write a line a fact (side = "left"), or leave --case out')
    return Sheet(transcript, tuple(facts))


def _content(data: bytes, name: str) -> tuple[str, Mapping[str, Any]]:
    if len(data) > LIMIT_BYTES:
        raise SheetError("too large for a case sheet: more than 1 MB", where=name, hint="give the sheet of one case")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise SheetError("not UTF-8 text", where=name, hint="save the sheet as UTF-8") from None
    try:
        content = json.loads(text) if text.lstrip().startswith("{") else tomllib.loads(text)
    except json.JSONDecodeError as error:
        raise SheetError(f"not readable as JSON: {error.msg}", where=name, line=error.lineno, hint="mend it there") from None
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        where = str(error).rpartition("(at ")[2].rstrip(")") if "(at " in str(error) else "its end"
        raise SheetError(f"not readable as TOML at {where}", where=name, hint='write a line a fact: side = "left"') from None
    return text, content


def _as_source(text: str, *, name: str, sha256: str) -> Transcript:
    """The lines of a sheet as the segments of a source; comments and empty lines are not part of it."""
    lines = [(number, " ".join(line.split())) for number, line in enumerate(text.splitlines(), start=1)]
    segments: list[Segment] = []
    words = ""
    for number, line in lines:
        if line and not line.startswith("#"):
            start = len(words) + (1 if words else 0)
            words = f"{words} {line}" if words else line
            segments.append(Segment(start, len(words), line=number))
    return Transcript(
        source=SOURCE, name=Path(name).name, sha256=sha256, format=KIND, text=words, segments=tuple(segments), kind=KIND
    )  # fmt: skip


def _facts(entry: AttributeEntry, value: Any, transcript: Transcript, lexicon: Lexicon, *, where: str, start: int) -> Iterator[Fact]:
    if isinstance(value, list) and not entry.many:
        raise SheetError(f"{entry.name}: one value is expected, not a list", where=where, hint="keep the one that holds")
    at = _after_key(transcript.text, entry.name)
    for order, one in enumerate(value if isinstance(value, list) else [value], start=start):
        scalar = _scalar(entry, one, where, lexicon)
        span = _place(transcript, one, at)
        at = span.end
        yield Fact(
            source=SOURCE, frame=0, type="case", attribute=entry.name, value=scalar, spans=(span,), order=order, unit=entry.unit,
            why=("case sheet",),
        )  # fmt: skip


def _scalar(entry: AttributeEntry, value: Any, name: str, lexicon: Lexicon) -> Scalar:
    """The value an attribute takes. Raises ``SheetError`` for one of another kind."""
    fits: Scalar | None = None
    if entry.value == "quantity":
        fits = value if isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value) else None
    elif entry.value == "bool":
        fits = value if isinstance(value, bool) else None
    elif entry.value == "date":
        fits = value.isoformat() if type(value) is date else value if isinstance(value, str) and _is_date(value) else None
    elif entry.value == "clock":
        fits = value.strftime("%H:%M") if isinstance(value, time) else value if isinstance(value, str) and CLOCK.fullmatch(value) else None
    elif isinstance(value, str) and value.strip():
        fits = " ".join(value.split())
    if fits is None:
        raise SheetError(f"{entry.name}: {EXPECTED[entry.value]} is expected", where=name, hint="or leave the key out")
    return _term(entry, str(fits), name, lexicon) if entry.value == "term" else fits


def _is_date(text: str) -> bool:
    if not ISO_DATE.fullmatch(text):
        return False
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _term(entry: AttributeEntry, said: str, name: str, lexicon: Lexicon) -> str:
    terms = [term for term in lexicon.terms if term.kind == entry.terms]
    for term in terms:
        if said.lower() in (term.value.lower(), *(phrase.lower() for phrase in term.said)):
            return term.value
    known = ", ".join(sorted({term.value for term in terms}))
    raise SheetError(f"{entry.name}: not a term of the lexicon", where=name, hint=f"known: {known}")


def _after_key(text: str, key: str) -> int:
    found = re.search(rf"(?:^|[\s{{,\"'])(?:{re.escape(key)})[\"']?\s*[=:]\s*", text)
    return found.end() if found else 0


def _place(transcript: Transcript, value: Any, at: int) -> RawSpan:
    """Where a value stands after its key: its own characters, or the rest of its line where they are written otherwise."""
    written = " ".join(str(value).split())
    start = transcript.text.find(written, at)
    if start >= 0:
        return RawSpan(start, start + len(written))
    return RawSpan(at, max(at + 1, transcript.segment_at(at).end))


def _known(key: str, lexicon: Lexicon) -> str:
    keys = [entry.name for entry in lexicon.of("case")]
    near = get_close_matches(key, keys, n=1)
    return f"did you mean {near[0]}?" if near else f"known: {', '.join(sorted(keys))}"


def only_scheduled(sheet: Sheet | None, facts: Iterable[Fact]) -> tuple[Fact, ...]:
    """The facts of the sheet for attributes of which nobody spoke."""
    if sheet is None:
        return ()
    spoken = {fact.attribute for fact in facts if fact.type == "case" and not fact.superseded}
    return tuple(fact for fact in sheet.facts if fact.attribute not in spoken)
