"""Record -> Worksheet: questions, and where every value came from."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from opnote.note import Worksheet, compose, render, worksheet
from opnote.note.model import Form, Place, ValueRow
from opnote.record.model import AccountRow, Attribute, Candidate, Entity, Evidence, Record, Source
from opnote.transcript.model import Mend
from tests.compact import record_of
from tests.unit.record.told import record

MENDS = (Mend(12, "a cue ended before it began; its end was left out"), Mend(None, "the file has a byte order mark"))


def value(sheet: Worksheet, thing: str, label: str) -> ValueRow:
    return next(row for row in (*sheet.header, *sheet.values) if (row.thing, row.label) == (thing, label))


def whence(row: ValueRow) -> list[str]:
    return [place.whence for place in row.places]


@pytest.mark.parametrize("form", ["txt", "md", "html"])
def test_the_whole_worksheet(record: Record, form: Form, snapshot: Callable[[str, str], None]) -> None:
    snapshot(f"note/acl.worksheet.{form}", render(worksheet(record, mends=MENDS), form=form))


def test_an_empty_dictation_gives_an_empty_worksheet(bare: Record, snapshot: Callable[[str, str], None]) -> None:
    snapshot("note/bare.worksheet.txt", render(worksheet(bare), form="txt"))


def test_questions_stand_by_severity_then_second(record: Record) -> None:
    sheet = worksheet(record)
    assert [(question.number, question.severity, question.rule) for question in sheet.questions] == [
        (1, "stop", "SIDE01"), (2, "ask", "IMPL01"), (3, "ask", "CASE02"), (4, "info", "TUN01"),
    ]  # fmt: skip
    assert sheet.questions[1].about == ("Implant 1: lot",)
    assert [question.rule for question in sheet.asked("ask")] == ["IMPL01", "CASE02"]


def test_each_header_value_says_where_it_came_from(record: Record) -> None:
    sheet = worksheet(record)
    assert whence(value(sheet, "Patient and team", "Date of surgery")) == ["case sheet"]
    assert whence(value(sheet, "Patient and team", "Surgeon")) == ["dictated at 0:09"]
    assert whence(value(sheet, "Patient and team", "Side")) == ["dictated at 0:05", "dictated at 0:24"]


def test_a_quote_stands_between_the_words_around_it(record: Record) -> None:
    (place,) = value(worksheet(record), "In the operating room", "Tourniquet pressure").places
    assert (place.before, place.quote, place.after) == ("tourniquet ", "250", " for 64 minutes")


def test_what_was_corrected_and_how_it_was_said_are_told(record: Record) -> None:
    sheet = worksheet(record)
    assert value(sheet, "Graft 1", "Diameter").superseded == ("corrected from 9 mm (dictated at 1:31)",)
    assert value(sheet, "Graft 1", "Length").said == "28 cm"


def test_every_value_of_the_record_has_its_row(record: Record) -> None:
    sheet = worksheet(record)
    assert len(sheet.header) + len(sheet.values) == sum(len(entity.attributes) for entity in record.entities)
    anchors = [row.anchor for row in (*sheet.header, *sheet.values)]
    assert len(set(anchors)) == len(anchors)


def test_values_that_the_note_does_not_show_stand_here(bare: Record) -> None:
    moment = Attribute(value=187, evidence=(Evidence(source="dictation", start_s=187.0, chars=(0, 1), quote="x"),))
    event = Entity(id="e", type="event", attributes={"at_s": moment})
    sheet = worksheet(bare.model_copy(update={"entities": (event,)}))
    assert [(row.thing, row.text) for row in sheet.values] == [("Event 1", "3:07")]


def test_what_was_not_used_is_listed_with_its_reason(record: Record) -> None:
    sheet = worksheet(record)
    assert [(row.at, row.reason) for row in sheet.set_aside] == [
        ("1:31", "corrected by the speaker"),
        ("1:40", "option"),
        ("4:00", "off topic"),
    ]
    assert [(row.quote, row.reason) for row in sheet.unplaced] == [("at ten past", "kept in its sentence")]
    assert "surgeon is doctor Arden assisted by Birch and Cole" in [row.quote for row in sheet.not_repeated]


def test_every_word_of_the_account_is_in_the_note_or_on_the_sheet(record: Record) -> None:
    sheet = worksheet(record)
    told = " ".join(paragraph.text.lower() for section in compose(record).sections for paragraph in section.paragraphs)
    listed = " | ".join(row.quote for row in (*sheet.set_aside, *sheet.unplaced, *sheet.not_repeated))
    for row in record.account:
        if row.status != "filler":
            kept = row.status in ("used", "narrative") and row.read.lower() in told
            assert kept or row.quote in listed, row.quote


def test_repairs_and_mends(record: Record) -> None:
    sheet = worksheet(record, mends=MENDS)
    assert [(repair.at, repair.heard, repair.read_as, repair.ask) for repair in sheet.repairs] == [("0:52", "Lockman", "Lachman", True)]
    assert [(mend.line, mend.what) for mend in sheet.mends] == [(mend.line, mend.what) for mend in MENDS]


def test_an_addendum_is_named_and_an_untimed_text_has_lines(bare: Record) -> None:
    sources = (*bare.sources, Source(id="addendum-1", kind="addendum", name="later.vtt", sha256="3" * 64))
    timed = Evidence(source="addendum-1", start_s=12.2, end_s=13.0, chars=(0, 5), quote="eight")
    untimed = Evidence(source="dictation", line=4, chars=(0, 4), quote="nine")
    both = Attribute(candidates=(Candidate(value=9, evidence=(untimed,)), Candidate(value=8, evidence=(timed,))))
    graft = Entity(id="g", type="graft", attributes={"diameter_mm": both})
    sheet = worksheet(bare.model_copy(update={"sources": sources, "entities": (graft,)}))
    assert sheet.values[0].places == (
        Place("nine", "", "", "line 4", "dictated at line 4", "dictation"),
        Place("eight", "", "", "0:12", "addendum at 0:12", "addendum-1", 12.2),
    )


def test_the_timeline_shows_each_value_at_its_second(record: Record) -> None:
    (timeline,) = worksheet(record).timelines
    lanes = {lane.title: lane for lane in timeline.lanes}
    assert timeline.length == "4:10"
    assert [(mark.x, mark.state) for mark in lanes["Questions"].marks][:2] == [(20.8, "stop"), (97.6, "stop")]  # 5.2 s and 24.4 s of 250 s
    assert "Patient and team" in lanes
    assert "Indications" not in lanes
    marks = [mark for lane in timeline.lanes for mark in lane.marks]
    assert all(0 <= mark.x <= 1000 for mark in marks)
    sheet = worksheet(record)
    places = [place for row in (*sheet.header, *sheet.values) for place in row.places if place.start_s is not None]
    assert sum(len(lane.marks) for title, lane in lanes.items() if title != "Questions") == len(places)


def test_the_stretches_of_the_timeline_follow_one_another(record: Record) -> None:
    (timeline,) = worksheet(record).timelines
    ends = [stretch.x + stretch.width for stretch in timeline.stretches]
    assert len(timeline.stretches) == len(record.account)
    assert all(end <= after.x + 0.11 for end, after in zip(ends, timeline.stretches[1:], strict=False))


def test_an_untimed_dictation_has_no_timeline(bare: Record) -> None:
    row = AccountRow(status="narrative", source="dictation", chars=(0, 6), quote="reamed", read="reamed")
    assert worksheet(bare.model_copy(update={"account": (row,)})).timelines == ()


def test_the_same_record_gives_the_same_bytes(record: Record) -> None:
    again = Record.model_validate_json(record.model_dump_json())
    assert render(worksheet(record), form="html") == render(worksheet(again), form="html")


def test_a_value_that_the_talk_around_lent_says_so() -> None:
    record = record_of([{"type": "implant", "kind": "staple", "structure": {"value": "ACL", "lent": True}}])
    rows = {row.label: row.lent for row in worksheet(record).values}
    assert rows == {"Kind": "", "Structure": "by the talk around"}


def test_equal_values_that_gave_way_stand_together() -> None:
    record = record_of([{"type": "case", "tourniquet_min": 76}])
    words = [Evidence(source="d1", start_s=second, chars=(0, 2), quote="76") for second in (10.0, 70.0)]
    case = record.entities[0]
    held = case.attributes["tourniquet_min"].model_copy(
        update={"superseded": tuple(Candidate(value=60, gave_way="interim", evidence=(one,)) for one in words)}
    )
    changed = record.model_copy(update={"entities": (case.model_copy(update={"attributes": {"tourniquet_min": held}}),)})
    [row] = worksheet(changed).header
    assert row.superseded == ("called out before its end: 60 min (dictated at 0:10, dictated at 1:10)",)


def test_what_a_statement_set_aside_leaves_over_is_listed() -> None:
    said = "ACL reconstruction. I did think about running a suture tape over it, I'm not going to."
    listed = {row.quote: row.reason for row in worksheet(record(said)).set_aside}
    assert listed["I did"] == listed["I'm not going to."] == "left over of a statement that was set aside"
