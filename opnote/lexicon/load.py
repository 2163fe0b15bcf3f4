"""Reads ``lexicons/`` and tells every fault at once: file, entry, field, what is wrong."""

from __future__ import annotations

import hashlib
import re
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from opnote.errors import LexiconError
from opnote.lexicon.models import (
    AttributeEntry,
    Correction,
    Entry,
    Filler,
    Hint,
    Layout,
    Mishearing,
    Opener,
    Section,
    Sign,
    StanceCue,
    Term,
    Thing,
    WordClass,
    Words,
)
from opnote.resources import lexicons_dir

TABLES: dict[str, type[Entry]] = {
    "term": Term,
    "attribute": AttributeEntry,
    "thing": Thing,
    "cue": StanceCue,
    "mishearing": Mishearing,
    "layout": Layout,
    "filler": Filler,
    "section": Section,
    "correction": Correction,
    "opener": Opener,
    "sign": Sign,
    "hint": Hint,
    "class": WordClass,
    "words": Words,
}
READ_ELSEWHERE = ("profiles", "procedures")  # the checks read these with models of their own

E_ = TypeVar("E_", bound=Entry)


@dataclass(frozen=True)
class Lexicon:
    """All entries, sorted by file and place; ``sha256`` is the hash of the bytes they came from."""

    sha256: str
    terms: tuple[Term, ...]
    attributes: dict[tuple[str, str], AttributeEntry]
    cues: tuple[StanceCue, ...]
    mishearings: tuple[Mishearing, ...]
    layouts: tuple[Layout, ...]
    fillers: tuple[Filler, ...]
    sections: tuple[Section, ...]
    corrections: tuple[Correction, ...]
    openers: tuple[Opener, ...]
    signs: tuple[Sign, ...]
    hints: tuple[Hint, ...]
    classes: tuple[WordClass, ...]
    words: dict[str, frozenset[str]] = field(default_factory=dict)
    things: dict[str, Thing] = field(default_factory=dict)
    places: dict[int, str] = field(default_factory=dict, repr=False)

    def of(self, kind: str) -> tuple[AttributeEntry, ...]:
        """The attributes of one entity type, in the table's order."""
        return tuple(entry for (owner, _), entry in self.attributes.items() if owner == kind)

    @cached_property
    def each(self) -> dict[str, tuple[str, ...]]:
        """The values of the terms that name several at once, by the value that gathers them."""
        return {term.value: term.each for term in self.terms if term.each}

    def label(self, kind: str, name: str) -> str:
        """What people read for an attribute."""
        entry = self.attributes.get((kind, name))
        return entry.label if entry else name

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every single word of every phrase, in lower case: what a proper name is not."""
        phrases: list[str] = [
            said for entries in (self.terms, self.sections, self.layouts, self.fillers) for e in entries for said in e.said
        ]
        phrases += [p for a in self.attributes.values() for p in (*a.before, *a.after, *a.near)]
        return frozenset(word for phrase in phrases for word in phrase.lower().replace("-", " ").split())


def load(*, folders: Sequence[Path] = ()) -> Lexicon:
    """The built-in lexicons with ``folders`` laid over them (an entry with a known id replaces the built-in one).

    Raises ``LexiconError`` with all faults.
    """
    reader = _Reader()
    for folder in (lexicons_dir(), *folders):
        reader.read(folder)
    return reader.lexicon()


class _Reader:
    """Gathers entries and faults of several folders; an id may be replaced by a later folder, not within one."""

    def __init__(self) -> None:
        self.faults: list[str] = []
        self.entries: dict[str, dict[Any, tuple[Entry, str]]] = {table: {} for table in TABLES}
        self.hash = hashlib.sha256()

    def read(self, folder: Path) -> None:
        if not folder.is_dir():
            self.faults.append(f"{folder}: no such folder")
            return
        seen: dict[Any, str] = {}
        for path in sorted(folder.rglob("*.toml")):
            data = path.read_bytes()
            self.hash.update(path.relative_to(folder).as_posix().encode() + b"\0" + data + b"\0")
            if path.relative_to(folder).parts[0] not in READ_ELSEWHERE:
                self._file(path.relative_to(folder).as_posix(), data, seen)

    def _file(self, name: str, data: bytes, seen: dict[Any, str]) -> None:
        try:
            content = tomllib.loads(data.decode("utf-8"))
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            self.faults.append(f"{name}: not readable as TOML: {error}")
            return
        common = content.pop("common", {})
        for table, rows in content.items():
            if table not in TABLES or not isinstance(rows, list):
                self.faults.append(f"{name}: [[{table}]]: no such kind of entry (known: {', '.join(TABLES)})")
                continue
            for number, row in enumerate(rows, start=1):
                self._row(name, table, number, {**common, **row}, seen)

    def _row(self, name: str, table: str, number: int, row: dict[str, Any], seen: dict[Any, str]) -> None:
        label = row.get("id") or (f"{row.get('type')}.{row.get('name')}" if table == "attribute" else f"entry {number}")
        try:
            entry = TABLES[table].model_validate(row)
        except ValidationError as error:
            self.faults += [f"{name}: {table} {label}: {'.'.join(map(str, e['loc'])) or 'entry'}: {e['msg']}" for e in error.errors()]
            return
        key = (entry.type, entry.name) if isinstance(entry, AttributeEntry) else (table, label)
        if key in seen:
            self.faults.append(f"{name}: {table} {label}: the id stands already in {seen[key]}")
            return
        seen[key] = name
        self.entries[table][key] = (entry, name)

    def lexicon(self) -> Lexicon:
        if not self.faults:
            self.faults += lint_phrases(((e, at) for e, at in self.entries["term"].values() if isinstance(e, Term)))
            self.faults += self._unknown_classes()
            self.faults += self._loose_things()
        if self.faults:
            raise LexiconError(self.faults)
        attributes = {(e.type, e.name): e for e, _ in self.entries["attribute"].values() if isinstance(e, AttributeEntry)}
        return Lexicon(
            self.hash.hexdigest(), self._of("term", Term), attributes, self._of("cue", StanceCue), self._of("mishearing", Mishearing),
            self._of("layout", Layout), self._of("filler", Filler), self._of("section", Section), self._of("correction", Correction),
            self._of("opener", Opener), self._of("sign", Sign), self._of("hint", Hint),
            self._of("class", WordClass),
            words={entry.id: frozenset(entry.words) for entry in self._of("words", Words)},
            things={entry.id: entry for entry in self._of("thing", Thing)},
            places={id(e): at for table in self.entries.values() for e, at in table.values()},
        )  # fmt: skip

    def _unknown_classes(self) -> Iterator[str]:
        """Faults of cues and hints that name a word class which no file has."""
        known = {entry.id for entry in self._of("class", WordClass)}
        said = [(f"cue {cue.id}", (*cue.said, *cue.unless, *cue.until)) for cue in self._of("cue", StanceCue)]
        said += [(f"hint {hint.id}", (*hint.said, *hint.unless)) for hint in self._of("hint", Hint)]
        for label, phrases in said:
            used = {name for phrase in phrases for name in re.findall(r"<([^>]*)>", phrase)}
            yield from (f"{label}: no such word class: <{name}>" for name in sorted(used - known))

    def _loose_things(self) -> Iterator[str]:
        """Faults between things, attributes and terms: a type without its thing, a thing that names what no file has."""
        held = {key: at for key, (entry, at) in self.entries["attribute"].items() if isinstance(entry, AttributeEntry)}
        kinds = {term.kind for term in self._of("term", Term)}
        things = {entry.id: (entry, at) for entry, at in self.entries["thing"].values() if isinstance(entry, Thing)}
        yield from (f"{at}: attribute {t}.{name}: type: no such thing: {t!r}" for (t, name), at in held.items() if t not in things)
        for thing, at in things.values():
            yield from (f"{at}: thing {thing.id}: no term has the kind {kind!r}" for kind in thing.opened_by if kind not in kinds)
            named = {thing.second, *thing.lent, *thing.needs, *thing.not_alone, *thing.renamed_by} - {""}
            yield from (f"{at}: thing {thing.id}: no such attribute: {name!r}" for name in sorted(named) if (thing.id, name) not in held)

    def _of(self, table: str, model: type[E_]) -> tuple[E_, ...]:
        return tuple(entry for entry, _ in self.entries[table].values() if isinstance(entry, model))


def lint_phrases(terms: Iterable[tuple[Term, str]]) -> Iterator[str]:
    """Faults between terms: one phrase with two meanings of the same kind and no context to tell them apart."""
    meaning: dict[tuple[str, str], tuple[Term, str]] = {}
    for term, at in terms:
        for said in term.said:
            key = (term.kind, said.lower())
            other, other_at = meaning.setdefault(key, (term, at))
            told_apart = any((t.only_after, t.only_before, t.near) != ((), (), ()) for t in (term, other))
            if other is not term and other.value != term.value and not told_apart:
                yield f"{at}: term {term.id}: said: {said!r} already means {other.value!r} ({other_at}, term {other.id})"
            elif other is term and term.said.count(said) > 1:
                yield f"{at}: term {term.id}: said: {said!r} is listed twice"
