"""Columns put values together as the trade writes them."""

from __future__ import annotations

import pytest

from opnote.lexicon import load
from opnote.note.cells import cell
from opnote.note.labels import Labels, capitalised, derived
from opnote.note.layout import Column, ColumnForm
from opnote.note.model import Line, State, Value


@pytest.fixture(scope="module")
def labels() -> Labels:
    return Labels(load(), load().speller(()))


def line(name: str, *texts: str, state: State = "said") -> Line:
    return Line(name, name, tuple(Value(text, state) for text in texts), "e1")


def printed(form: ColumnForm, lines: list[Line], labels: Labels, *, kind: str, moment: bool = False) -> str:
    column = Column(title="x", attributes=tuple(line.attribute for line in lines), form=form)
    said = {line.attribute: line for line in lines if line.values}
    return ", ".join(part.text for part in cell(column, said, kind=kind, labels=labels, moment=moment).parts)


@pytest.mark.parametrize(
    ("diameter", "length", "text"),
    [
        (["8 mm"], ["23 mm"], "8 × 23 mm"),
        (["4.75 mm"], [], "diameter 4.75 mm"),
        ([], ["23 mm"], "length 23 mm"),
        (["about 8 mm"], ["23 mm"], "diameter about 8 mm, length 23 mm"),
        (["8 mm"], ["20-25 mm"], "diameter 8 mm, length 20-25 mm"),
        ([], [], ""),
    ],
)
def test_size(diameter: list[str], length: list[str], text: str, labels: Labels) -> None:
    assert printed("size", [line("diameter_mm", *diameter), line("length_mm", *length)], labels, kind="implant") == text


def test_a_conflict_is_never_folded_into_a_size(labels: Labels) -> None:
    lines = [line("diameter_mm", "[conflict: 8 mm / 9 mm]", state="conflict"), line("length_mm", "23 mm")]
    assert printed("size", lines, labels, kind="implant") == "diameter [conflict: 8 mm / 9 mm], length 23 mm"


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        (["0°"], ["90°"], "0-90°"),
        (["-5°"], ["90°"], "-5 to 90°"),
        (["30°"], [], "from 30°"),
        ([], ["90°"], "up to 90°"),
        (["about 0°"], ["90°"], "about 0° to 90°"),
    ],
)
def test_span(low: list[str], high: list[str], text: str, labels: Labels) -> None:
    assert printed("span", [line("low_deg", *low), line("high_deg", *high)], labels, kind="postop") == text


@pytest.mark.parametrize(
    ("start", "end", "moment", "text"),
    [
        (["0 weeks"], ["6 weeks"], False, "0-6 weeks"),
        (["1 week"], ["6 weeks"], False, "1-6 weeks"),
        ([], ["2 weeks"], False, "up to 2 weeks"),
        (["2 weeks"], [], False, "from 2 weeks"),
        (["2 weeks"], [], True, "at 2 weeks"),
        (["10 days"], [], True, "at 10 days"),
        (["10 days"], ["6 weeks"], False, "10 days to 6 weeks"),
    ],
)
def test_weeks(start: list[str], end: list[str], moment: bool, text: str, labels: Labels) -> None:
    assert printed("weeks", [line("from_weeks", *start), line("to_weeks", *end)], labels, kind="postop", moment=moment) == text


@pytest.mark.parametrize(
    ("distance", "landmark", "text"),
    [(["60 mm"], ["joint line"], "60 mm from joint line"), (["60 mm"], [], "60 mm"), ([], ["joint line"], "joint line")],
)
def test_distance(distance: list[str], landmark: list[str], text: str, labels: Labels) -> None:
    assert printed("distance", [line("landmark_mm", *distance), line("landmark", *landmark)], labels, kind="tunnel") == text


def test_identifiers_bear_their_labels(labels: Labels) -> None:
    lines = [line("lot", "K41"), line("expiry", "[not dictated]", state="not dictated")]
    assert printed("named", lines, labels, kind="implant") == "lot K41, expiry [not dictated]"


@pytest.mark.parametrize(("name", "label"), [("diameter_mm", "diameter, mm"), ("end_point", "end point"), ("lot", "lot")])
def test_an_unknown_attribute_has_a_label_all_the_same(name: str, label: str) -> None:
    assert derived(name) == label


@pytest.mark.parametrize(("text", "shown"), [("graft length", "Graft length"), ("sMCL length", "sMCL length"), ("", "")])
def test_a_capital_is_put_where_none_is_meant_otherwise(text: str, shown: str) -> None:
    assert capitalised(text) == shown
