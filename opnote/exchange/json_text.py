"""A record as JSON that people can read: whatever fits stands on one line, what says nothing is left out."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

from opnote.record.model import Model, Record

WIDTH = 140
_ENCODER = json.JSONEncoder(ensure_ascii=False)
_FALSE_SAYS_NOTHING = ("approximate", "ask", "lent")


def record_json(record: Record) -> str:
    """The record as UTF-8 JSON text; within its parts, absent values, empty lists and marks that are
    not set are left out.

    ``Record.model_validate_json`` of the text gives an equal record.
    """
    whole = {name: _said(value) for name, value in record.model_dump(mode="json").items()}
    return pretty(whole) + "\n"


def said_json(model: Model) -> Any:
    """A model as plain data, without absent values, empty lists and marks that are not set."""
    return _said(model.model_dump(mode="json"))


def schema_json() -> str:
    """The JSON Schema of the record, generated from its models."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **Record.model_json_schema()}
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def _said(value: Any) -> Any:
    """A value without what says nothing."""
    if isinstance(value, dict):
        return {key: kept for key, entry in value.items() if not _empty(kept := _said(entry), key)}
    if isinstance(value, list):
        return [_said(entry) for entry in value]
    return value


def _empty(value: Any, name: str) -> bool:
    return value is None or value in ("", [], {}) or (value is False and name in _FALSE_SAYS_NOTHING)


def pretty(value: Any, *, width: int = WIDTH) -> str:
    """JSON in which an object or list stands on one line if it fits into ``width`` characters.

    >>> print(pretty({"a": [1, 2], "b": "µ"}, width=12))
    {
      "a": [1, 2],
      "b": "µ"
    }
    """
    return "".join(_laid_out(value, 0, width))


def _laid_out(value: Any, indent: int, width: int) -> Iterator[str]:
    if not value or not isinstance(value, dict | list):
        yield _ENCODER.encode(value)
        return
    line = _ENCODER.encode(value) if _may_fit(value, width - indent) else ""
    if line and indent + len(line) <= width:
        yield line
        return
    opening, closing = "{}" if isinstance(value, dict) else "[]"
    lead = f"{opening}\n"
    for key in value if isinstance(value, dict) else range(len(value)):
        yield f"{lead}{' ' * (indent + 2)}" + (f"{_ENCODER.encode(key)}: " if isinstance(value, dict) else "")
        yield from _laid_out(value[key], indent + 2, width)
        lead = ",\n"
    yield f"\n{' ' * indent}{closing}"


def _may_fit(value: Any, room: int) -> bool:
    """Whether a value's text could fit: an entry takes three characters, so what is plainly too long is never written to measure it."""
    return 3 * len(value) <= room + 3 and not any(isinstance(entry, str | dict | list) and len(entry) > room for entry in _entries(value))


def _entries(value: Any) -> Iterable[Any]:
    return value.values() if isinstance(value, dict) else value
