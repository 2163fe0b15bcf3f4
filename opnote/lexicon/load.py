"""Reads ``lexicons/`` and tells every fault at once: file, entry, field, what is wrong."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from opnote.errors import LexiconError
from opnote.lexicon.declared import House, Opposites, Part, Spelling, Vocabulary
from opnote.lexicon.files import Row, content, folder_faults, rows
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
from opnote.lexicon.plain import told
from opnote.lexicon.references import Shelf, lint_phrases
from opnote.lexicon.references import faults as loose_ends
from opnote.lexicon.spelling import Speller
from opnote.resources import lexicons_dir

TABLES: dict[str, type[Entry]] = {
    "vocabulary": Vocabulary,
    "term": Term,
    "attribute": AttributeEntry,
    "thing": Thing,
    "cue": StanceCue,
    "mishearing": Mishearing,
    "opposites": Opposites,
    "layout": Layout,
    "filler": Filler,
    "house": House,
    "spelling": Spelling,
    "section": Section,
    "part": Part,
    "correction": Correction,
    "opener": Opener,
    "sign": Sign,
    "hint": Hint,
    "class": WordClass,
    "words": Words,
}
#: The folders that the checks read with models of their own, and their tables.
READ_ELSEWHERE = {
    "procedures": ("structure", "range", "limit", "order", "list", "off"),
    "profiles": ("profile", "row", "element", "question"),
}
OTHER_FOLDER = {table: f"below {folder}/" for folder, tables in READ_ELSEWHERE.items() for table in tables}

E_ = TypeVar("E_", bound=Entry)


@dataclass(frozen=True, eq=False)
class Lexicon:
    """All entries, sorted by file and place; ``sha256`` is the hash of the bytes they came from. Two are equal only if they are one."""

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
    vocabularies: tuple[Vocabulary, ...] = ()
    parts: tuple[Part, ...] = ()
    opposites: tuple[Opposites, ...] = ()
    house: tuple[House, ...] = ()
    spellings: tuple[Spelling, ...] = ()
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

    def speller(self, texts: Iterable[str]) -> Speller:
        """What writes a note on a dictation with these texts in one spelling."""
        return Speller.of(texts, house=self.house[0], spellings=self.spellings)

    @cached_property
    def guarded(self) -> frozenset[str]:
        """The words on which a meaning hangs, besides numbers: negations, sides and all others with an opposite."""
        return frozenset(word for entry in self.opposites for forms in entry.words for word in forms)

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
    return _laid_over(folders) if folders else _built_in()


@cache
def _built_in() -> Lexicon:
    """The built-in lexicons alone, kept after the first call: they are data of the package."""
    return _laid_over(())


def _laid_over(folders: Sequence[Path]) -> Lexicon:
    built_in = _read(lexicons_dir())
    reader = built_in.copied()
    for folder in folders:
        reader.faults += folder_faults(folder)
        reader.read(folder)
    return reader.lexicon(frozenset(id_ for _, id_ in built_in.entries["words"]))


@cache
def _read(folder: Path) -> _Reader:
    """The built-in entries, kept after the first call: they are data of the package."""
    reader = _Reader()
    reader.read(folder)
    return reader


class _Reader:
    """Gathers entries and faults of several folders; an id may be replaced by a later folder, not within one."""

    def __init__(self) -> None:
        self.faults: list[str] = []
        self.entries: dict[str, dict[Any, tuple[Entry, str]]] = {table: {} for table in TABLES}
        self.broken: dict[str, list[dict[str, Any]]] = {table: [] for table in TABLES}
        self.hash = hashlib.sha256()

    def copied(self) -> _Reader:
        """The same again, to be read on with."""
        other = _Reader()
        other.faults, other.hash = list(self.faults), self.hash.copy()
        other.entries = {table: dict(entries) for table, entries in self.entries.items()}
        other.broken = {table: list(fields) for table, fields in self.broken.items()}
        return other

    def read(self, folder: Path) -> None:
        seen: dict[Any, str] = {}
        for path in sorted(folder.rglob("*.toml")):
            name = path.relative_to(folder).as_posix()
            data, tables = content(path, name, self.faults)
            self.hash.update(name.encode() + b"\0" + data + b"\0")
            if path.relative_to(folder).parts[0] not in READ_ELSEWHERE:
                for row in rows(name, tables, known=TABLES, elsewhere=OTHER_FOLDER, faults=self.faults):
                    self._row(row, seen)

    def _row(self, row: Row, seen: dict[Any, str]) -> None:
        try:
            entry = TABLES[row.table].model_validate(row.fields)
        except ValidationError as error:
            self.faults += [f"{row.file}: {row.label}: {fault}" for fault in told(error, TABLES[row.table], row.fields)]
            self.broken[row.table].append(row.fields)
            return
        key = (entry.type, entry.name) if isinstance(entry, AttributeEntry) else (row.table, row.fields["id"])
        if key in seen:
            self.faults.append(f"{row.file}: {row.label}: id: stands already in {seen[key]}; give it another one")
            return
        seen[key] = row.file
        self.entries[row.table][key] = (entry, row.file)

    def lexicon(self, built_in: frozenset[str]) -> Lexicon:
        """All entries; ``built_in`` are the ids of the built-in word sets. Raises ``LexiconError`` with every fault."""
        shelf = Shelf({table: tuple(entries.values()) for table, entries in self.entries.items()}, self.broken, built_in)
        self.faults += [*lint_phrases(shelf.of("term", Term)), *loose_ends(shelf)]
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
            vocabularies=self._of("vocabulary", Vocabulary), parts=self._of("part", Part), opposites=self._of("opposites", Opposites),
            house=self._of("house", House), spellings=self._of("spelling", Spelling),
            places={id(e): at for table in self.entries.values() for e, at in table.values()},
        )  # fmt: skip

    def _of(self, table: str, model: type[E_]) -> tuple[E_, ...]:
        return tuple(entry for entry, _ in self.entries[table].values() if isinstance(entry, model))
