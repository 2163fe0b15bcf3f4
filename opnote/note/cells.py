"""The columns of the note's tables: several attributes of one item put together as the trade writes them."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from opnote.note.labels import Labels
from opnote.note.layout import Column, ColumnForm
from opnote.note.model import Cell, Line, Value

Lines = Mapping[str, Line]

_MEASURE = re.compile(r"(?P<number>-?[\d.]+)(?P<unit>°| \S+)")


def cell(column: Column, lines: Lines, *, kind: str, labels: Labels, moment: bool = False) -> Cell:
    """One column of one item of type ``kind``; ``moment`` says that its weeks name a time and not a period."""
    said = {name: lines[name] for name in column.attributes if name in lines}
    if not said:
        return Cell()
    joined = _FORMS[column.form](column, said, moment) if column.form in _FORMS else None
    if joined is not None:
        evidence = tuple(piece for line in said.values() for value in line.values for piece in value.evidence)
        return Cell((Value(joined, evidence=evidence),))
    if column.form == "plain":
        return Cell(tuple(value for line in said.values() for value in line.values))
    return Cell(tuple(part for line in said.values() for part in named(line, kind=kind, labels=labels)))


def named(line: Line, *, kind: str, labels: Labels) -> tuple[Value, ...]:
    """The values of a line, each with its label before it ("lot K41")."""
    phrase = labels.phrase(kind, line.attribute)
    return tuple(Value(f"{phrase} {value.text}", value.state, value.evidence) for value in line.values)


def _plain(lines: Lines, name: str) -> str | None:
    """The text of an attribute that has one said value."""
    values = lines[name].values if name in lines else ()
    return values[0].text if len(values) == 1 and values[0].state == "said" else None


def _size(column: Column, lines: Lines, _moment: bool) -> str | None:
    measures = [_MEASURE.fullmatch(_plain(lines, name) or "") for name in column.attributes]
    found = [measure for measure in measures if measure]
    if len(found) < len(measures) or len({measure["unit"] for measure in found}) > 1:
        return None
    return " × ".join(measure["number"] for measure in found) + found[0]["unit"]


def _ends(column: Column, lines: Lines) -> tuple[str | None, str | None] | None:
    low, high = column.attributes[:2]
    ends = _plain(lines, low), _plain(lines, high)
    unclear = any(name in lines and end is None for name, end in zip((low, high), ends, strict=True))
    return None if unclear else ends


def _joined(low: str, high: str) -> str:
    first, last = _MEASURE.fullmatch(low), _MEASURE.fullmatch(high)
    if not first or not last or first["unit"].removesuffix("s") != last["unit"].removesuffix("s"):
        return f"{low} to {high}"
    between = " to " if low.startswith("-") or high.startswith("-") else "-"
    return f"{first['number']}{between}{last['number']}{last['unit']}"


def _span(column: Column, lines: Lines, _moment: bool) -> str | None:
    ends = _ends(column, lines)
    if ends is None:
        return None
    low, high = ends
    if low and high:
        return _joined(low, high)
    return f"from {low}" if low else f"up to {high}"


def _weeks(column: Column, lines: Lines, moment: bool) -> str | None:
    ends = _ends(column, lines)
    if ends is not None and moment and ends[0] and not ends[1]:
        return f"at {ends[0]}"
    return _span(column, lines, moment)


def _distance(column: Column, lines: Lines, _moment: bool) -> str | None:
    ends = _ends(column, lines)
    if ends is None:
        return None
    return " from ".join(end for end in ends if end)


_FORMS: Mapping[ColumnForm, Callable[[Column, Lines, bool], str | None]] = {
    "size": _size,
    "span": _span,
    "weeks": _weeks,
    "distance": _distance,
}
