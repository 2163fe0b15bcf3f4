"""When in a recording the values were said: the geometry of the worksheet's picture, in thousandths of the recording."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from opnote.moments import moment
from opnote.note.model import Lane, Mark, Note, Question, Stretch, Timeline, ValueRow
from opnote.record.model import Record, Source

_WIDTH = 1000.0
_STEPS_S = (5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600)
_TICKS = 9


def timelines(record: Record, note: Note, *, rows: Sequence[ValueRow], questions: Sequence[Question]) -> tuple[Timeline, ...]:
    """One picture for each source that has seconds; none for an untimed text or a case sheet."""
    return tuple(
        _timeline(record, note, source, length, rows=rows, questions=questions)
        for source in record.sources
        if (length := _length(record, source)) > 0
    )


def _length(record: Record, source: Source) -> float:
    """The seconds of a source: its own, or the last at which a word was said."""
    last = max((row.end_s or row.start_s or 0.0 for row in record.account if row.source == source.id), default=0.0)
    return max(last, source.duration_s or 0.0)


def _timeline(
    record: Record, note: Note, source: Source, length: float, *, rows: Sequence[ValueRow], questions: Sequence[Question]
) -> Timeline:
    asked = tuple(
        Mark(_x(place.start_s, length), f"{place.at} {question.severity}: {question.message}", f"q{question.number}", question.severity)
        for question in questions
        for place in question.places
        if place.source == source.id and place.start_s is not None
    )
    lanes = [Lane("Questions", asked)] if asked else []
    lanes += [Lane(title, marks) for title, things in _parts(note) if (marks := tuple(_marks(rows, things, source, length)))]
    return Timeline(source.name, moment(length), _ticks(length), tuple(lanes), tuple(_stretches(record, source, length)))


def _parts(note: Note) -> Iterator[tuple[str, frozenset[str]]]:
    """The parts of the note with the names of what they show."""
    for section in note.sections:
        names = frozenset(item.name for item in section.items)
        yield section.title, names | {section.title} if section.lines else names


def _marks(rows: Sequence[ValueRow], things: frozenset[str], source: Source, length: float) -> Iterator[Mark]:
    for row in rows:
        for place in row.places if row.thing in things else ():
            if place.source == source.id and place.start_s is not None:
                yield Mark(_x(place.start_s, length), f"{place.at} {row.thing}, {row.label}: {row.text}", row.anchor, row.state)


def _stretches(record: Record, source: Source, length: float) -> Iterator[Stretch]:
    for row in record.account:
        if row.source == source.id and row.start_s is not None and row.end_s is not None and row.end_s > row.start_s:
            yield Stretch(_x(row.start_s, length), round(_x(row.end_s, length) - _x(row.start_s, length), 1), row.status)


def _x(second: float, length: float) -> float:
    return round(min(second, length) / length * _WIDTH, 1)


def _ticks(length: float) -> tuple[tuple[float, str], ...]:
    hours = _STEPS_S[-1] * ceil(length / _STEPS_S[-1] / _TICKS)
    step = next((step for step in _STEPS_S if length / step <= _TICKS), hours)
    return tuple((_x(second, length), moment(second)) for second in range(0, int(length) + 1, step))
