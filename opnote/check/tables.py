"""Reads TOML tables with pydantic models and tells every fault at once: file, entry, field, what is wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from opnote.lexicon.files import Row, content, rows
from opnote.lexicon.load import OTHER_FOLDER, READ_ELSEWHERE
from opnote.lexicon.load import TABLES as LEXICON_TABLES
from opnote.lexicon.plain import told

Text = Annotated[str, Field(min_length=1)]


class Entry(BaseModel):
    """An entry of a table: frozen, closed to unknown keys, with an id that is unique over all files of a folder."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: Text


class Tables:
    """The entries read so far, by table and id, each with the file it stands in; ``broken`` are the ids of entries with faults."""

    def __init__(self, models: Mapping[str, type[Entry]]) -> None:
        self.models = models
        self.entries: dict[str, dict[str, Entry]] = {name: {} for name in models}
        self.places: dict[tuple[str, str], str] = {}
        self.broken: set[tuple[str, str]] = set()
        self.faults: list[str] = []

    def fault(self, table: str, id: str, field: str, what: str) -> str:
        """A fault of an entry: file, entry, field, what is wrong."""
        return f"{self.places[table, id]}: {table} {id}: {field}: {what}"

    def ids(self, table: str) -> frozenset[str]:
        """The ids of a table, those of entries with faults included."""
        return frozenset([*self.entries[table], *(id for name, id in self.broken if name == table)])


def read_tables(folders: Sequence[Path], models: Mapping[str, type[Entry]]) -> Tables:
    """The entries of every ``*.toml`` below ``folders``; a later folder replaces entries of an earlier one.

    A file's ``[common]`` table holds keys that all its entries share. Nothing is raised: ``faults`` holds what is wrong.
    """
    tables = Tables(models)
    for folder in folders:
        elsewhere = {table: home for table, home in OTHER_FOLDER.items() if table not in models}
        elsewhere |= dict.fromkeys(LEXICON_TABLES, f"outside {'/ and '.join(READ_ELSEWHERE)}/")
        seen: set[tuple[str, str]] = set()
        for path in sorted(folder.rglob("*.toml")):
            name = f"{folder.name}/{path.relative_to(folder).as_posix()}"
            _, found = content(path, name, tables.faults)
            for row in rows(name, found, known=models, elsewhere=elsewhere, faults=tables.faults):
                _add(tables, row, seen)
    return tables


def _add(tables: Tables, row: Row, seen: set[tuple[str, str]]) -> None:
    model = tables.models[row.table]
    try:
        entry = model.model_validate(row.fields)
    except ValidationError as error:
        tables.faults += [f"{row.file}: {row.label}: {fault}" for fault in told(error, model, row.fields)]
        tables.broken.add((row.table, str(row.fields.get("id"))))
        return
    if (row.table, entry.id) in seen:
        tables.faults.append(f"{row.file}: {row.label}: id: stands already in {tables.places[row.table, entry.id]}; give it another one")
        return
    seen.add((row.table, entry.id))
    tables.entries[row.table][entry.id] = entry
    tables.places[row.table, entry.id] = row.file
