"""Which statements of the dictation stand in the note, and in which part: from the account of the dictation's words."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from opnote.lexicon import Lexicon
from opnote.note.layout import EVERYTHING, Layout
from opnote.note.model import Paragraph
from opnote.note.prose import paragraphs
from opnote.note.statement import Statement

# A header statement with more narrative words than this says more than its values ("... after the limb was elevated for three
# minutes"), so it keeps its place in the description. Common practice, not measured.
_HEADER_WORDS = 8
# A header statement as short as this that gave no value is a heading ("estimated blood loss").
_HEADING_WORDS = 4


def headings_of(lexicon: Lexicon) -> frozenset[str]:
    """The ways to say a heading, in plain small letters."""
    return frozenset(_plain(said) for section in lexicon.sections for said in section.said)


def _plain(text: str) -> str:
    return " ".join("".join(char if char.isalnum() else " " for char in text.lower()).split())


@dataclass(frozen=True)
class Narrative:
    """Every statement that stands, by the place it has in the note; ``not_repeated`` are shown as lines only, or are mere headings."""

    layout: Layout
    statements: tuple[Statement, ...]
    headings: frozenset[str] = frozenset()

    @cached_property
    def not_repeated(self) -> tuple[Statement, ...]:
        """The statements that only say again what stands in a line of the note."""
        return tuple(
            statement for statement in self.statements if statement.stands and (self.is_heading(statement) or self._only_lines(statement))
        )

    def is_heading(self, statement: Statement) -> bool:
        """Whether a statement is nothing but a heading ("Indications."), for which the note has its own."""
        return not statement.gave and _plain(statement.raw) in self.headings

    def paragraphs(self, wanted: tuple[str, ...]) -> tuple[Paragraph, ...]:
        """The paragraphs of a section of the note that shows these sections of the dictation."""
        left_out = set(map(id, self.not_repeated))
        standing = (s for s in self.statements if s.stands and id(s) not in left_out)
        return tuple(paragraphs(s for s in standing if self._belongs(s, wanted)))

    def _only_lines(self, statement: Statement) -> bool:
        """Whether a statement gives lines of the header and says next to nothing else."""
        if statement.unplaced or statement.narrative_words > _HEADER_WORDS:
            return False
        kinds, header = {kind for kind, _ in statement.gave}, set(self.layout.header_types)
        if statement.section in self.layout.header_text:
            return bool(kinds & header) or (not kinds and statement.narrative_words < _HEADING_WORDS)
        return kinds <= header and not statement.gave.isdisjoint(self.layout.header_lines())

    def _belongs(self, statement: Statement, wanted: tuple[str, ...]) -> bool:
        if EVERYTHING in wanted:
            return self._place(statement) not in self.layout.placed_text()
        return self._place(statement) in wanted

    def _place(self, statement: Statement) -> str:
        """The section of the dictation a statement belongs to: the one of the only type its values have, else where it was said."""
        kinds = {kind for kind, _ in statement.gave}
        placed = self.layout.text_of_type()
        return placed[next(iter(kinds))] if len(kinds) == 1 and kinds <= placed.keys() else statement.section
