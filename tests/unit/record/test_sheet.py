"""The case sheet: what it may hold, where its values stand, and what is said of a faulty one."""

from __future__ import annotations

import pytest

from opnote.errors import SheetError
from opnote.lexicon import Lexicon, load
from opnote.record.sheet import Sheet, read, read_bytes

TOML = """\
# surgeon = "somebody else"
patient_name = "Ottilie Brandvold"
patient_id   =   "R-22 071"
date_of_birth = 1991-04-30
side = "Left"
assistants = ["Ned Fairweather", "Ada Fairweather"]
ebl_mL = 40
"""


@pytest.fixture(scope="module")
def lexicon() -> Lexicon:
    return load()


def _values(sheet: Sheet) -> list[tuple[str, object]]:
    return [(fact.attribute, fact.value) for fact in sheet.facts]


def _quotes(sheet: Sheet) -> list[tuple[int | None, str]]:
    spans = [fact.spans[0] for fact in sheet.facts]
    return [(sheet.transcript.segment_at(span.start).line, sheet.transcript.quote(span)) for span in spans]


def test_a_toml_sheet_gives_facts_and_the_lines_they_stand_in(lexicon: Lexicon) -> None:
    sheet = read_bytes(TOML.encode(), name="case.toml", lexicon=lexicon)
    assert _values(sheet) == [
        ("patient_name", "Ottilie Brandvold"),
        ("patient_id", "R-22 071"),
        ("date_of_birth", "1991-04-30"),
        ("side", "left"),
        ("assistants", "Ned Fairweather"),
        ("assistants", "Ada Fairweather"),
        ("ebl_mL", 40),
    ]
    assert _quotes(sheet) == [
        (2, "Ottilie Brandvold"),
        (3, "R-22 071"),
        (4, "1991-04-30"),
        (5, "Left"),
        (6, "Ned Fairweather"),
        (6, "Ada Fairweather"),
        (7, "40"),
    ]


def test_a_json_sheet_says_the_same(lexicon: Lexicon) -> None:
    data = b'{"side": "left", "surgeon": "Ottilie Brandvold", "assistants": ["Ned Fairweather"]}'
    sheet = read_bytes(data, name="case.json", lexicon=lexicon)
    assert _values(sheet) == [("side", "left"), ("surgeon", "Ottilie Brandvold"), ("assistants", "Ned Fairweather")]
    assert [quote for _, quote in _quotes(sheet)] == ["left", "Ottilie Brandvold", "Ned Fairweather"]


def test_a_value_that_is_written_with_escapes_is_quoted_as_it_stands(lexicon: Lexicon) -> None:
    sheet = read_bytes(b'surgeon = "Zo\\u00eb Brandvold"\nside = "left"\n', name="case.toml", lexicon=lexicon)
    assert _values(sheet)[0] == ("surgeon", "Zoë Brandvold")
    assert _quotes(sheet)[0] == (1, '"Zo\\u00eb Brandvold"')


def test_the_sheet_is_a_source_with_its_own_text(lexicon: Lexicon) -> None:
    transcript = read_bytes(TOML.encode(), name="folder/case.toml", lexicon=lexicon).transcript
    assert (transcript.source, transcript.kind, transcript.name) == ("case", "case sheet", "case.toml")
    assert "somebody else" not in transcript.text


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("sid = 'left'", "case.toml: unknown key 'sid'; did you mean side?"),
        ("colour = 'blue'", "unknown key 'colour'; known: allergies, "),
        ("side = 'lft'", "side: not a term of the lexicon; known: bilateral, left, right"),
        ("side = ['left']", "side: one value is expected, not a list"),
        ("surgeon = 5", "surgeon: text is expected"),
        ("surgeon = ''", "surgeon: text is expected"),
        ("surgeon = { first = 'A' }", "surgeon: text is expected"),
        ("ebl_mL = 'little'", "ebl_mL: a number is expected"),
        ("ebl_mL = true", "ebl_mL: a number is expected"),
        ("ebl_mL = nan", "ebl_mL: a number is expected"),
        ("", "case.toml: the case sheet says nothing; write a line a fact"),
        ("# side = 'left'\n", "the case sheet says nothing"),
        ("assistants = []", "the case sheet says nothing"),
        ("{}", "the case sheet says nothing"),
        ("date_of_birth = '1.2.1990'", "date_of_birth: a date"),
        ("date_of_birth = '1990-02-31'", "date_of_birth: a date"),
        ("side 'left'", "not readable as TOML at line 1, column 6"),
        ('{"side": "left"', "case.toml:1: not readable as JSON"),
    ],
)
def test_a_faulty_sheet_is_one_line_with_the_key_and_what_to_try(text: str, message: str, lexicon: Lexicon) -> None:
    with pytest.raises(SheetError) as error:
        read_bytes(text.encode(), name="case.toml", lexicon=lexicon)
    assert message in str(error.value)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize(("data", "message"), [(b"\xff\xfe", "not UTF-8 text"), (b"#" * 1_000_001, "too large"), (b"[" * 100_000, "TOML")])
def test_bytes_that_are_no_sheet(data: bytes, message: str, lexicon: Lexicon) -> None:
    with pytest.raises(SheetError, match=message):
        read_bytes(data, name="case.toml", lexicon=lexicon)


@pytest.mark.parametrize("path", ["no-such-sheet.toml", "."])
def test_a_path_that_is_no_file(path: str, lexicon: Lexicon) -> None:
    with pytest.raises(SheetError, match=r"no such file|a folder, not a file"):
        read(path, lexicon=lexicon)
