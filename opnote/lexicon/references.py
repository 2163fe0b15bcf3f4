"""What an entry of a lexicon names and no entry has: each such name is told with what there is, or the nearest of it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar

from opnote.lexicon.declared import Opposites, Vocabulary
from opnote.lexicon.guarded import Guard
from opnote.lexicon.models import (
    AttributeEntry,
    Entry,
    Hint,
    Mishearing,
    Section,
    StanceCue,
    Term,
    Thing,
    Words,
)
from opnote.lexicon.plain import nearest

#: The kinds of quantity that the language stage finds (`opnote lexicon quantities PHRASE` shows the kind of each).
QUANTITIES = (
    "length", "angle", "force", "pressure", "volume", "mass", "duration", "period", "percent", "clock", "date", "grade", "count", "number",
    "pair", "suture size", "identifier", "age", "ordinal",
)  # fmt: skip
#: The units (UCUM codes) that quantities have once they are converted, and those that attribute names end in.
UNITS = ("mm", "deg", "N", "mm[Hg]", "mL", "g", "mg", "kg", "min", "s", "wk", "mo", "a", "%")
SUFFIXES = {"mm": "mm", "deg": "deg", "N": "N", "mmHg": "mm[Hg]", "min": "min", "mL": "mL", "weeks": "wk", "s": "s"}
#: What a set of words may hold besides the values of a vocabulary.
PART, ATTRIBUTE, THING = "part", "attribute", "thing"

E_ = TypeVar("E_", bound=Entry)


@dataclass(frozen=True)
class Shelf:
    """All entries of the lexicons with their files; ``built_in`` are the ids of the word sets that the program asks for.

    ``broken`` are the fields of entries with faults of their own: what names them is no fault besides.
    """

    entries: Mapping[str, Sequence[tuple[Entry, str]]]
    broken: Mapping[str, Sequence[Mapping[str, Any]]]
    built_in: Collection[str]

    def of(self, table: str, model: type[E_]) -> tuple[tuple[E_, str], ...]:
        """The entries of a table with their files."""
        return tuple((entry, at) for entry, at in self.entries[table] if isinstance(entry, model))

    def ids(self, table: str) -> frozenset[str]:
        """The ids of a table's entries."""
        return frozenset(
            [
                *(str(getattr(entry, "id", "")) for entry, _ in self.entries[table]),
                *(str(fields.get("id")) for fields in self.broken[table]),
            ]
        )

    @cached_property
    def values(self) -> dict[str, frozenset[str]]:
        """The values of the terms of each vocabulary."""
        found: dict[str, set[str]] = {name: set() for name in self.ids("vocabulary")}
        for term, _ in self.of("term", Term):
            found.setdefault(term.kind, set()).add(term.value)
        for fields in self.broken["term"]:
            found.setdefault(str(fields.get("kind")), set()).add(str(fields.get("value")))
        return {kind: frozenset(values) for kind, values in found.items()}

    @cached_property
    def spelling(self) -> dict[tuple[str, str], str]:
        """How a value of a vocabulary is written where it stands first, by its letters."""
        found: dict[tuple[str, str], str] = {}
        for term, _ in self.of("term", Term):
            found.setdefault((term.kind, _letters(term.value)), term.value)
        return found

    @cached_property
    def attributes(self) -> dict[str, frozenset[str]]:
        """The names of the attributes of each thing."""
        names = [(entry.type, entry.name) for entry, _ in self.of("attribute", AttributeEntry)]
        names += [(str(fields.get("type")), str(fields.get("name"))) for fields in self.broken["attribute"]]
        return {thing: frozenset(name for owner, name in names if owner == thing) for thing in dict.fromkeys(owner for owner, _ in names)}


def faults(shelf: Shelf) -> Iterator[str]:
    """Everything that one entry names and the others lack, and what no mis-hearing may do: file, entry, field, what to try."""
    for term, at in shelf.of("term", Term):
        yield from _told(at, f"term {term.id}", _of_term(term, shelf))
    for attribute, at in shelf.of("attribute", AttributeEntry):
        yield from _told(at, f"attribute {attribute.type}.{attribute.name}", _of_attribute(attribute, shelf))
    for thing, at in shelf.of("thing", Thing):
        yield from _told(at, f"thing {thing.id}", _of_thing(thing, shelf))
    for cue, at in shelf.of("cue", StanceCue):
        yield from _told(at, f"cue {cue.id}", _classes(cue, ("said", "unless", "until"), shelf))
    for hint, at in shelf.of("hint", Hint):
        yield from _told(at, f"hint {hint.id}", _classes(hint, ("said", "unless"), shelf))
    for section, at in shelf.of("section", Section):
        yield from _told(at, f"section {section.id}", _of_section(section, shelf))
    for words, at in shelf.of("words", Words):
        yield from _told(at, f"words {words.id}", _of_words(words, shelf))
    yield from _of_mishearings(shelf)


def _told(at: str, entry: str, found: Iterable[tuple[str, str]]) -> Iterator[str]:
    yield from (f"{at}: {entry}: {field}: {what}" for field, what in found)


def unknown(what: str, names: Iterable[str], known: Collection[str]) -> Iterator[str]:
    """Each name that is not known, as "no such WHAT", with what to try."""
    yield from (f'no such {what}: "{name}"; {nearest(name, known)}' for name in dict.fromkeys(names) if name not in known)


def _of_term(term: Term, shelf: Shelf) -> Iterator[tuple[str, str]]:
    vocabularies = {entry.id: entry for entry, _ in shelf.of("vocabulary", Vocabulary)}
    yield from (("kind", what) for what in unknown("vocabulary", [term.kind], shelf.ids("vocabulary")))
    yield from (("each", what) for what in unknown(f'value of the vocabulary "{term.kind}"', term.each, shelf.values[term.kind]))
    vocabulary = vocabularies.get(term.kind)
    if vocabulary is None:
        return
    if vocabulary.value == "none" and term.value:
        yield "value", f'a term of "{term.kind}" stands for nothing; leave the field out'
    elif vocabulary.value != "none" and not term.value:
        yield "value", "is needed: the word that the record uses"
    elif vocabulary.value == "number" and not term.value.replace(".", "", 1).isdecimal():
        yield "value", f'a number in quotes is expected for "{term.kind}"'
    elif vocabulary.value == "thing":
        yield from (("value", what) for what in unknown("thing", [term.value], shelf.ids("thing")))
    if (first := shelf.spelling.get((term.kind, _letters(term.value)), term.value)) != term.value:
        yield "value", f'"{term.value}" is written "{first}" elsewhere; one value has one spelling'


def _letters(text: str) -> str:
    return "".join(char for char in text.lower() if char.isalnum())


def _of_attribute(entry: AttributeEntry, shelf: Shelf) -> Iterator[tuple[str, str]]:
    named = shelf.ids("vocabulary")
    yield from (("type", what) for what in unknown("thing", [entry.type], shelf.ids("thing")))
    yield from (("terms", what) for what in unknown("vocabulary", [entry.terms] if entry.terms else [], named))
    for use, kind in entry.vocabularies:
        yield from ((use, what) for what in unknown("vocabulary", [kind], named))
    yield from (("needs", what) for what in unknown("attribute", entry.needs, shelf.attributes.get(entry.type, frozenset())))
    yield from (("quantities", what) for what in unknown("kind of quantity", entry.quantities, QUANTITIES))
    if entry.unit is not None:
        yield from (("unit", what) for what in unknown("unit", [entry.unit], UNITS))
        suffix = SUFFIXES.get(entry.name.rpartition("_")[2]) if "_" in entry.name else None
        if suffix is not None and suffix != entry.unit:
            yield "unit", f'the name ends in a unit of its own, which is "{suffix}"'


def _of_thing(thing: Thing, shelf: Shelf) -> Iterator[tuple[str, str]]:
    kinds, parts, names = shelf.ids("vocabulary"), shelf.ids("part"), shelf.attributes.get(thing.id, frozenset())
    yield from (("opened_by", what) for what in unknown("vocabulary", thing.opened_by, kinds))
    yield from (("in_a_test", what) for what in unknown("vocabulary among those of opened_by", thing.in_a_test or (), thing.opened_by))
    for field in ("not_in", "hardly_in"):
        yield from ((field, what) for what in unknown("part of a dictation", getattr(thing, field), parts))
    for field in ("lent", "needs", "not_alone", "renamed_by"):
        yield from ((field, what) for what in unknown("attribute", getattr(thing, field), names))
    yield from (("second", what) for what in unknown("attribute", [thing.second] if thing.second else [], names))


def _classes(entry: StanceCue | Hint, fields: Iterable[str], shelf: Shelf) -> Iterator[tuple[str, str]]:
    for field in fields:
        used = [name for phrase in getattr(entry, field) for name in re.findall(r"<([^>]*)>", phrase)]
        yield from ((field, what) for what in unknown("word class", used, shelf.ids("class")))


def _of_section(section: Section, shelf: Shelf) -> Iterator[tuple[str, str]]:
    yield from (("section", what) for what in unknown("part of a dictation", [section.section], shelf.ids("part")))
    named = [section.while_named] if section.while_named else []
    yield from (("while_named", what) for what in unknown("vocabulary", named, shelf.ids("vocabulary")))


def _of_words(words: Words, shelf: Shelf) -> Iterator[tuple[str, str]]:
    yield from (("id", f"{what} (a set of words is asked for by name: only one of these can be replaced)") for what in
                unknown("set of words", [words.id], shelf.built_in))  # fmt: skip
    holds = {
        PART: shelf.ids("part"),
        THING: shelf.ids("thing"),
        ATTRIBUTE: frozenset(n for names in shelf.attributes.values() for n in names),
    }
    holds |= {kind: shelf.values.get(kind, frozenset()) for kind in shelf.ids("vocabulary")}
    yield from (("of", what) for what in unknown("vocabulary", words.of, holds))
    if words.of and all(kind in holds for kind in words.of):
        known = frozenset(name for kind in words.of for name in holds[kind])
        yield from (("words", what) for what in unknown(" or ".join(words.of), words.words, known))


def _of_mishearings(shelf: Shelf) -> Iterator[str]:
    guard = Guard.of((entry for entry, _ in shelf.of("opposites", Opposites)), (term for term, _ in shelf.of("term", Term)))
    for entry, at in shelf.of("mishearing", Mishearing):
        yield from _told(at, f"mishearing {entry.id}", guard.faults(entry))


def lint_phrases(terms: Iterable[tuple[Term, str]]) -> Iterator[str]:
    """Faults between terms: one phrase with two meanings of the same kind and no context to tell them apart."""
    meaning: dict[tuple[str, str], tuple[Term, str]] = {}
    for term, at in terms:
        for said in term.said:
            key = (term.kind, said.lower())
            other, other_at = meaning.setdefault(key, (term, at))
            told_apart = any((t.only_after, t.only_before, t.near) != ((), (), ()) for t in (term, other))
            if other is not term and other.value != term.value and not told_apart:
                yield (
                    f'{at}: term {term.id}: said: "{said}" already means "{other.value}" ({other_at}, term {other.id}); '
                    "take it out of one of them, or tell them apart with only_after, only_before or near"
                )
            elif other is term and term.said.count(said) > 1:
                yield f'{at}: term {term.id}: said: "{said}" is listed twice'
