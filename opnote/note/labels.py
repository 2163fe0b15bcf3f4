"""What people read for an attribute, and its unit: from the attribute table, else from the attribute's name."""

from __future__ import annotations

from dataclasses import dataclass

from opnote.lexicon import Lexicon
from opnote.lexicon.spelling import Speller
from opnote.note.wording import suffix_unit
from opnote.record.model import Record


@dataclass(frozen=True)
class Labels:
    """Labels and units of one lexicon, in one spelling."""

    lexicon: Lexicon
    speller: Speller

    @classmethod
    def of(cls, record: Record, lexicon: Lexicon) -> Labels:
        """The labels for a record, spelled as it was dictated or as the house wants them."""
        return cls(lexicon, lexicon.speller(row.quote for row in record.account))

    def label(self, kind: str, name: str) -> str:
        """The label of an attribute, with a capital unless its first word has one of its own."""
        entry = self.lexicon.attributes.get((kind, name))
        return capitalised(self.speller.spelled(entry.label if entry else derived(name)))

    def phrase(self, kind: str, name: str) -> str:
        """The label for use inside a line, before its value."""
        entry = self.lexicon.attributes.get((kind, name))
        return self.speller.spelled(entry.label if entry else derived(name).partition(",")[0])

    def unit(self, kind: str, name: str) -> str | None:
        """The UCUM code of an attribute's unit, if it has one."""
        entry = self.lexicon.attributes.get((kind, name))
        return (entry.unit if entry else None) or suffix_unit(name)

    def order(self, kind: str) -> tuple[str, ...]:
        """The names of the attributes of a type in the table's order."""
        return tuple(entry.name for entry in self.lexicon.of(kind))


def derived(name: str) -> str:
    """A label for an attribute that the table does not know.

    >>> derived("diameter_mm"), derived("end_point")
    ('diameter, mm', 'end point')
    """
    if suffix_unit(name) is None:
        return name.replace("_", " ")
    head, _, unit = name.rpartition("_")
    return f"{head.replace('_', ' ')}, {unit}"


def capitalised(text: str) -> str:
    """Text with a capital at its start, unless its first word mixes cases already.

    >>> capitalised("graft length"), capitalised("sMCL")
    ('Graft length', 'sMCL')
    """
    first = text.split(" ", 1)[0]
    return text[:1].upper() + text[1:] if first == first.lower() else text
