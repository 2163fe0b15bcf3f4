"""Reads TOML tables with pydantic models and tells every fault at once: file, entry, field, what is wrong."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from opnote.errors import LexiconError

Text = Annotated[str, Field(min_length=1)]


class Entry(BaseModel):
    """An entry of a table: frozen, closed to unknown keys, with an id that is unique over all files of a folder."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: Text


Tables = dict[str, dict[str, Entry]]


def read_tables(folders: Sequence[Path], models: Mapping[str, type[Entry]]) -> Tables:
    """The entries of every ``*.toml`` below ``folders``, by table and id; a later folder replaces entries of an earlier one.

    A file's ``[common]`` table holds keys that all its entries share. Raises ``LexiconError`` with all faults.
    """
    tables: Tables = {name: {} for name in models}
    faults: list[str] = []
    for folder in folders:
        seen: set[tuple[str, str]] = set()
        for path in sorted(folder.glob("*.toml")):
            name = f"{folder.name}/{path.name}"
            for table, rows in _content(path, name, models, faults).items():
                for entry in _entries(f"{name}: {table}", rows, models[table], faults):
                    if (table, entry.id) in seen:
                        faults.append(f"{name}: {table} {entry.id}: the id stands twice")
                    seen.add((table, entry.id))
                    tables[table][entry.id] = entry
    if faults:
        raise LexiconError(faults)
    return tables


def _content(path: Path, name: str, models: Mapping[str, type[Entry]], faults: list[str]) -> dict[str, list[dict[str, Any]]]:
    try:
        content = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        faults.append(f"{name}: not readable as TOML: {error}")
        return {}
    common = content.pop("common", {})
    faults += [f"{name}: [[{table}]]: no such table (known: {', '.join(models)})" for table in content if table not in models]
    faults += [
        f"{name}: {table}: a table of entries is written [[{table}]]" for table, rows in content.items() if not isinstance(rows, list)
    ]
    return {t: [{**common, **row} for row in rows] for t, rows in content.items() if t in models and isinstance(rows, list)}


def _entries(where: str, rows: list[dict[str, Any]], model: type[Entry], faults: list[str]) -> list[Entry]:
    entries = []
    for number, row in enumerate(rows, start=1):
        try:
            entries.append(model.model_validate(row))
        except ValidationError as error:
            label = f"{where} {row.get('id') or f'entry {number}'}"
            faults += [f"{label}: {'.'.join(map(str, fault['loc'])) or 'entry'}: {fault['msg']}" for fault in error.errors()]
    return entries
