"""The description: the surgeon's own sentences, put together from the account of the dictation's words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from opnote.note.labels import capitalised
from opnote.note.layout import EVERYTHING, Layout
from opnote.note.model import Paragraph, Sentence
from opnote.record.model import AccountRow, Record

# A header statement with more narrative words than this says more than its values ("... after the limb was elevated for three
# minutes"), so it keeps its place in the description. Common practice, not measured.
_HEADER_WORDS = 8
# A header statement as short as this that gave no value is a heading ("estimated blood loss").
_HEADING_WORDS = 4
# A speaker who pauses this long has gone on to the next step. Common practice, not measured.
_PAUSE_S = 20.0
_SENTENCES = 8

_KEPT = ("used", "narrative", "unplaced")


@dataclass(frozen=True)
class Statement:
    """The account's rows of one statement, and the types and attributes of the values its words gave."""

    rows: tuple[AccountRow, ...]
    gave: frozenset[tuple[str, str]]

    @cached_property
    def stands(self) -> bool:
        """Whether any of its words are used or narrative; words that were only left unplaced do not stand by themselves."""
        return any(row.status in ("used", "narrative") and row.read.strip() for row in self.rows)

    @cached_property
    def unplaced(self) -> tuple[AccountRow, ...]:
        """Its words that nobody could place."""
        return tuple(row for row in self.rows if row.status == "unplaced")

    @cached_property
    def raw(self) -> str:
        """Its words as read, without what was set aside: a word nobody could place stays, so that no sentence has a hole."""
        return " ".join(row.read for row in self.rows if row.status in _KEPT)

    @cached_property
    def section(self) -> str:
        """The section of the dictation in which its first standing words were said."""
        return next((row.section for row in self.rows if row.status in _KEPT), "")

    @cached_property
    def narrative_words(self) -> int:
        """How many of its words gave no value."""
        return sum(len(row.read.split()) for row in self.rows if row.status != "used" and row.status in _KEPT)

    @property
    def start_s(self) -> float | None:
        return self.rows[0].start_s

    @property
    def end_s(self) -> float | None:
        return self.rows[-1].end_s


def statements(record: Record) -> tuple[Statement, ...]:
    """The statements of a record's account, in the order of the talk."""
    given = sorted(_given(record), key=lambda row: row[:2])
    return tuple(
        Statement(rows := tuple(group), _gave(rows, given))
        for _, group in groupby(record.account, key=lambda row: (row.source, row.statement))
    )


_Given = tuple[str, int, int, str, str]


def _given(record: Record) -> Iterator[_Given]:
    for entity in record.entities:
        for name, attribute in entity.attributes.items():
            pieces = (*attribute.evidence, *(piece for candidate in attribute.candidates for piece in candidate.evidence))
            yield from ((piece.source, *piece.chars, entity.type, name) for piece in pieces)


def _gave(rows: tuple[AccountRow, ...], given: Iterable[_Given]) -> frozenset[tuple[str, str]]:
    start, end = rows[0].chars[0], rows[-1].chars[1]
    return frozenset((kind, name) for source, first, last, kind, name in given if source == rows[0].source and first < end and last > start)


@dataclass(frozen=True)
class Narrative:
    """Every statement that stands, by the place it has in the note; ``not_repeated`` are shown as lines only."""

    layout: Layout
    statements: tuple[Statement, ...]

    @cached_property
    def not_repeated(self) -> tuple[Statement, ...]:
        return tuple(statement for statement in self.statements if statement.stands and self._only_lines(statement))

    def paragraphs(self, wanted: tuple[str, ...]) -> tuple[Paragraph, ...]:
        """The paragraphs of a section of the note that shows these sections of the dictation."""
        left_out = set(map(id, self.not_repeated))
        standing = (s for s in self.statements if s.stands and id(s) not in left_out)
        return tuple(_paragraphs(s for s in standing if self._belongs(s, wanted)))

    def _only_lines(self, statement: Statement) -> bool:
        """Whether a statement gives lines of the header and says next to nothing else."""
        if statement.narrative_words > _HEADER_WORDS:
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


def _paragraphs(standing: Iterable[Statement]) -> Iterator[Paragraph]:
    sentences: list[Sentence] = []
    before: Statement | None = None
    for statement in standing:
        text = sentence(statement.raw)
        if not text:
            continue
        if before and (_break(before, statement) or len(sentences) >= _SENTENCES):
            yield Paragraph(tuple(sentences))
            sentences = []
        first = statement.rows[0]
        sentences.append(Sentence(text, first.source, first.statement, statement.start_s, statement.end_s))
        before = statement
    if sentences:
        yield Paragraph(tuple(sentences))


def _break(before: Statement, after: Statement) -> bool:
    if before.rows[0].source != after.rows[0].source or before.section != after.section:
        return True
    if before.raw.rstrip(" ").endswith("\n") or after.raw.lstrip(" ").startswith("\n"):
        return True
    return before.end_s is not None and after.start_s is not None and after.start_s - before.end_s >= _PAUSE_S


def sentence(words: str) -> str:
    """A statement's words as a sentence: a capital, a full stop, tidy spaces, no marks left over from words that were cut.

    >>> sentence("the tunnel was drilled , to 25 millimetres ,")
    'The tunnel was drilled, to 25 millimetres.'
    """
    text = " ".join(words.split())
    text = re.sub(r"\s+([,.;:?!)])", r"\1", text)
    text = re.sub(r"([,;:])[,;:]+", r"\1", text)
    text = re.sub(r"[,;:]+([.?!])", r"\1", text)
    text = re.sub(r"([.?!])\1+", r"\1", text)
    text = text.lstrip(" ,.;:?!").rstrip(" ,;:-")
    if not text:
        return ""
    return capitalised(text if text.endswith((".", "?", "!")) else text + ".")
