"""The files of a lexicon folder and the rows in them; whatever is wrong with them is told, never raised."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from opnote.lexicon.plain import nearest

_AT = re.compile(r" \(at line (\d+), column \d+\)$| \(at end of document\)$")
_NOTEPAD = re.compile(r"\.toml\.[a-z]+$|\.tml$|\.TOML$")


class Row(NamedTuple):
    """An entry as it stands in a file: its file (below the folder), its table, its number there, its fields."""

    file: str
    table: str
    number: int
    fields: dict[str, Any]

    @property
    def label(self) -> str:
        """What a fault calls the entry: its table with its id, or with its number where it has none."""
        if self.table == "attribute" and "name" in self.fields:
            return f"attribute {self.fields.get('type')}.{self.fields['name']}"
        return f"{self.table} {self.fields.get('id') or f'entry {self.number}'}"


def folder_faults(folder: Path) -> Iterator[str]:
    """What is wrong with a folder as such: it is not there, is a file, has no entries, or has files that nobody reads."""
    if not folder.is_dir():
        what = "this is a file, and a folder is expected" if folder.exists() else "no such folder"
        yield f"{folder}: {what}; give the path of a folder with lexicon files in it"
        return
    if not any(folder.rglob("*.toml")):
        yield f"{folder}: no lexicon file in it; entries stand in files whose names end in .toml (lexicons/README.md)"
    for path in sorted(path for path in folder.rglob("*") if path.is_file() and _NOTEPAD.search(path.name)):
        yield f"{path.relative_to(folder).as_posix()}: is not read; give it a name that ends in .toml"
    for path in sorted(folder.glob("speech/*.txt")):
        yield f"speech/{path.name}: word lists are read from the built-in folder alone; [[filler]] and [[layout]] stand in .toml files"


def content(path: Path, name: str, faults: list[str]) -> tuple[bytes, dict[str, Any]]:
    """The bytes of a file and its tables; an unreadable file is a fault, and empty."""
    try:
        data = path.read_bytes()
    except OSError as error:
        faults.append(f"{name}: cannot be read ({error.strerror}); see to its permissions")
        return b"", {}
    try:
        return data, tomllib.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError:
        faults.append(f"{name}: not UTF-8 text; save it as UTF-8")
    except tomllib.TOMLDecodeError as error:
        faults.append(f"{name}{_line(error)}: not readable as TOML: {_AT.sub('', str(error))}; compare with an entry of lexicons/README.md")
    except RecursionError:
        faults.append(f"{name}: not readable as TOML: nested too deep")
    return data, {}


def _line(error: tomllib.TOMLDecodeError) -> str:
    found = _AT.search(str(error))
    return f":{found[1]}" if found and found[1] else ""


def rows(name: str, tables: Mapping[str, Any], *, known: Collection[str], elsewhere: Mapping[str, str], faults: list[str]) -> Iterator[Row]:
    """The rows of a file's tables, with its ``[common]`` fields; ``elsewhere`` names the folder of tables that stand in another one."""
    common = tables.get("common", {})
    if not isinstance(common, dict):
        faults.append(f"{name}: common: is written [common], with fields that all entries of the file share")
        common = {}
    for table, entries in tables.items():
        if table == "common":
            continue
        if table in elsewhere:
            faults.append(f"{name}: [[{table}]]: stands in the wrong folder; it belongs into a file {elsewhere[table]}")
        elif table not in known:
            faults.append(f"{name}: [[{table}]]: no such kind of entry; {nearest(table, known)}")
        elif not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
            faults.append(f"{name}: {table}: an entry is written [[{table}]], with two brackets on either side")
        else:
            yield from (Row(name, table, number, {**common, **entry}) for number, entry in enumerate(entries, start=1))
