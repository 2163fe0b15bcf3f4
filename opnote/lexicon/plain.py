"""What is wrong with an entry, in words for people who do not program: the field, what it wants, and what to try."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from opnote.lexicon.models import ID, LETTERS, NAME, PHRASE, PHRASE_OR_NONE

#: Up to this many names are listed in full where one is not known.
LISTED = 20

_PATTERNS = {
    ID: 'only small letters, digits and hyphens are allowed, such as "bridge-clamp"',
    NAME: 'only small letters and single blanks are allowed, such as "implant kind"',
    LETTERS: "only small letters are allowed",
    PHRASE: "no blank may stand at the start or the end",
}
_PATTERNS[PHRASE_OR_NONE] = _PATTERNS[PHRASE]
_WANTED = {
    "string": 'text in quotes is expected ("...")',
    "tuple": 'a list is expected (["...", "..."])',
    "list": 'a list is expected (["...", "..."])',
    "dict": 'a table is expected ({ kind = ["..."] })',
    "model": "a table is expected ({ ... })",
    "bool": "true or false is expected",
    "int": "a whole number is expected",
    "float": "a number is expected",
    "finite": "a number is expected",
}
_NAMED = re.compile(r"[a-z_]+: ")  # a check of the whole entry names the field itself
_QUOTED = re.compile(r"'((?:[^'\\]|\\.)*)'")


def told(error: ValidationError, model: type[BaseModel], row: Mapping[str, Any]) -> Iterator[str]:
    """Each fault of an entry as ``field: what is wrong``; a field with several faults is told once."""
    seen: set[str] = set()
    for fault in error.errors():
        field = ".".join(str(part) for part in fault["loc"] if isinstance(part, str))
        what = _what(fault, model, row)
        if field not in seen:
            seen.add(field)
            yield f"{field}: {what}" if field else what if _NAMED.match(what) else f"entry: {what}"


def nearest(name: str, known: Iterable[str], *, one: str = "") -> str:
    """What to try instead of a name that is not known: the nearest, or all there are.

    >>> nearest("implant kinds", ["implant kind", "material"])
    'did you mean "implant kind"?'
    >>> nearest("x", ["tunnel", "graft"])
    'known: graft, tunnel'
    """
    names = sorted(set(known))
    by_small = {other.lower(): other for other in reversed(names)}
    near = get_close_matches(name.lower(), by_small, n=1, cutoff=0.7)
    if near:
        return f'did you mean "{by_small[near[0]]}"?'
    rest = f" and {len(names) - LISTED} more" if len(names) > LISTED else ""
    return f"known{f' {one}' if one else ''}: {', '.join(names[:LISTED])}{rest}"


def _what(fault: ErrorDetails, model: type[BaseModel], row: Mapping[str, Any]) -> str:
    kind, context = fault["type"], fault.get("ctx", {})
    if kind == "extra_forbidden":
        return f"no such field; {nearest(str(fault['loc'][-1]), _fields(model, fault, row))}"
    if kind == "missing":
        return "two numbers are expected ([low, high])" if isinstance(fault["loc"][-1], int) else "is needed"
    if kind == "too_long":
        return "two numbers are expected ([low, high])"
    if kind == "literal_error":
        return f"{_shown(fault['input'])} is not known; {nearest(str(fault['input']), _QUOTED.findall(context['expected']))}"
    if kind == "string_pattern_mismatch":
        return f"{_shown(fault['input'])}: {_PATTERNS.get(context['pattern'], 'is not written as it should be')}"
    if kind in ("too_short", "string_too_short"):
        return "must not be empty"
    if kind == "greater_than_equal":
        return f"must be {context['ge']:g} or more"
    if kind == "value_error":
        return str(context["error"])
    return _WANTED.get(kind.partition("_")[0], fault["msg"])


def _fields(model: type[BaseModel], fault: ErrorDetails, row: Mapping[str, Any]) -> list[str]:
    """The fields that an entry, or the table within it that the fault is in, may have and has not yet."""
    if len(fault["loc"]) > 1:
        inner = model.model_fields[str(fault["loc"][0])].annotation
        parts = (inner, *getattr(inner, "__args__", ()))
        model = next((part for part in parts if isinstance(part, type) and issubclass(part, BaseModel)), model)
        row = {}
    return [name for name in model.model_fields if name not in row]


def _shown(value: object) -> str:
    text = str(value)
    return f'"{text if len(text) <= 60 else text[:59] + "…"}"'
