"""A record as JSON that people can read: whatever fits stands on one line, what says nothing is left out."""

from __future__ import annotations

import json
from typing import Any

from opnote.record.model import Model, Record

WIDTH = 140
_FALSE_SAYS_NOTHING = ("approximate", "ask")


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


def pretty(value: Any, *, indent: int = 0, width: int = WIDTH) -> str:
    """JSON in which an object or list stands on one line if it fits into ``width`` characters.

    >>> print(pretty({"a": [1, 2], "b": "µ"}, width=12))
    {
      "a": [1, 2],
      "b": "µ"
    }
    """
    line = json.dumps(value, ensure_ascii=False)
    if not value or not isinstance(value, dict | list) or indent + len(line) <= width:
        return line
    pad, inner = " " * indent, " " * (indent + 2)
    if isinstance(value, dict):
        rows = [f"{inner}{json.dumps(key)}: {pretty(entry, indent=indent + 2, width=width)}" for key, entry in value.items()]
        return "{\n" + ",\n".join(rows) + f"\n{pad}}}"
    return "[\n" + ",\n".join(inner + pretty(entry, indent=indent + 2, width=width) for entry in value) + f"\n{pad}]"
