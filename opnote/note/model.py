"""The note and the worksheet as typed views: what a template may ask for, and nothing else.

A ``Note`` is for the record and holds clinical content only. A ``Worksheet`` is for the surgeon and is never filed. Both are
frozen and hold printed text; the evidence behind each value stays attached for the worksheet and for exporters.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from opnote.record.model import Evidence, FindingKind, MadeBy, Severity, Status

State = Literal["said", "not dictated", "conflict"]
Form = Literal["md", "txt", "html"]


@dataclass(frozen=True, slots=True)
class Value:
    """One value as it is printed ("about 30 mL", "25-30 mm", "[not dictated]", "[conflict: right / left]")."""

    text: str
    state: State = "said"
    evidence: tuple[Evidence, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """An attribute of an entity: its label, and one value or, for a list, several. ``entity`` is absent when none was said."""

    label: str
    attribute: str
    values: tuple[Value, ...]
    entity: str | None = None


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in one column of one item, to be joined by commas."""

    parts: tuple[Value, ...] = ()


@dataclass(frozen=True, slots=True)
class Item:
    """One graft, implant, finding ...: ``lines`` hold all its attributes, ``cells`` the same arranged for the section's columns."""

    name: str
    number: int
    entity: str
    lines: tuple[Line, ...]
    cells: tuple[Cell, ...] = ()
    links: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class Sentence:
    """One statement of the dictation in the surgeon's own words, tidied; seconds are absent for an untimed source."""

    text: str
    source: str
    statement: int
    start_s: float | None = None
    end_s: float | None = None


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Sentences that stand together."""

    sentences: tuple[Sentence, ...]

    @property
    def text(self) -> str:
        """The sentences, joined by spaces."""
        return " ".join(sentence.text for sentence in self.sentences)


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the note: lines, or items under columns, or paragraphs, or nothing said at all (``empty``)."""

    key: str
    title: str
    lines: tuple[Line, ...] = ()
    columns: tuple[str, ...] = ()
    items: tuple[Item, ...] = ()
    paragraphs: tuple[Paragraph, ...] = ()

    @property
    def empty(self) -> bool:
        """Whether there is nothing to show."""
        return not (self.lines or self.items or self.paragraphs)


@dataclass(frozen=True, slots=True)
class Note:
    """The drafted note. ``draft`` is the short mark that stands on every page, ``cautions`` the sentences that explain it."""

    kind: str
    title: str
    draft: str
    cautions: tuple[str, ...]
    sections: tuple[Section, ...]
    made_by: MadeBy

    def section(self, key: str) -> Section | None:
        """The section with this key, if the note has it."""
        return next((section for section in self.sections if section.key == key), None)

    def lines(self) -> Iterator[tuple[str, Line]]:
        """Every line of the note with the name of what it belongs to (a section's title or an item's name)."""
        for section in self.sections:
            yield from ((section.title, line) for line in section.lines)
            yield from ((item.name, line) for item in section.items for line in item.lines)


@dataclass(frozen=True, slots=True)
class Place:
    """Where words stand: ``at`` is "3:07", "line 12" or empty; ``whence`` reads "dictated at 3:07" or "case sheet".

    ``before`` and ``after`` are a few words of the statement around the quote.
    """

    quote: str
    before: str
    after: str
    at: str
    whence: str
    source: str
    start_s: float | None = None


@dataclass(frozen=True, slots=True)
class Question:
    """A finding of the checks, put to the surgeon."""

    number: int
    severity: Severity
    kind: FindingKind
    rule: str
    message: str
    about: tuple[str, ...]
    places: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class ValueRow:
    """One printed value with the words it came from, how they were said when converted, and which values gave way to it.

    ``lent`` says so where the words speak of something else and only the talk around brought them here.
    """

    anchor: str
    thing: str
    label: str
    text: str
    state: State
    places: tuple[Place, ...]
    said: str = ""
    superseded: tuple[str, ...] = ()
    lent: str = ""


@dataclass(frozen=True, slots=True)
class RepairRow:
    """A word read otherwise than heard; ``ask`` says that the surgeon should confirm it."""

    at: str
    heard: str
    read_as: str
    why: str
    ask: bool


@dataclass(frozen=True, slots=True)
class WordsRow:
    """Words that the note does not show, or shows without placing them, and why."""

    at: str
    quote: str
    reason: str


@dataclass(frozen=True, slots=True)
class MendRow:
    """Something irregular in the file that the reader tolerated."""

    line: int | None
    what: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A value or a question on a timeline, ``x`` thousandths of the recording from its start."""

    x: float
    label: str
    anchor: str
    state: str


@dataclass(frozen=True, slots=True)
class Lane:
    """The marks of one part of the note."""

    title: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of the recording and what became of its words; ``x`` and ``width`` in thousandths of the recording."""

    x: float
    width: float
    status: Status


@dataclass(frozen=True, slots=True)
class Timeline:
    """When in a recording the values were said."""

    name: str
    length: str
    ticks: tuple[tuple[float, str], ...]
    lanes: tuple[Lane, ...]
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True)
class Worksheet:
    """What the surgeon needs to finish the note, and what never goes into it."""

    title: str
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    questions: tuple[Question, ...]
    header: tuple[ValueRow, ...]
    values: tuple[ValueRow, ...]
    repairs: tuple[RepairRow, ...]
    set_aside: tuple[WordsRow, ...]
    unplaced: tuple[WordsRow, ...]
    not_repeated: tuple[WordsRow, ...]
    mends: tuple[MendRow, ...]
    timelines: tuple[Timeline, ...]
    made_by: MadeBy

    def asked(self, severity: Severity) -> tuple[Question, ...]:
        """The questions of one severity."""
        return tuple(question for question in self.questions if question.severity == severity)
