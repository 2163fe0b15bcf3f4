"""What the pages of the lexicons tell a keeper is true and whole: fields, lists, examples and faults are those of the program."""

from __future__ import annotations

import re
import textwrap
from pathlib import Path
from typing import get_args

import pytest

from opnote import keeper, pipeline
from opnote.lexicon import Lexicon, load
from opnote.lexicon.load import READ_ELSEWHERE, TABLES
from opnote.record.model import Record
from opnote.transcript import read_bytes

FOLDER = Path(__file__).parent.parent / "lexicons"
PAGES = {path: path.read_text(encoding="utf-8") for path in (FOLDER / "README.md", FOLDER / "mishearings" / "README.md")}
EVERYTHING = "\n".join(PAGES.values())
TABLE = re.compile(r"^\| (?P<what>field|`\w+`) of `\[\[(?P<table>\w+)\]\]` \|.*\n\|[-|]+\|\n(?P<rows>(?:\|.*\n)+)", re.MULTILINE)
SHOWN = {(found["what"].strip("`"), found["table"]): found["rows"].splitlines() for found in TABLE.finditer(EVERYTHING)}
BLOCKS = re.findall(r"^```toml\n(.*?)^```$", EVERYTHING, re.MULTILINE | re.DOTALL)


def _first_column(rows: list[str]) -> list[str]:
    return [name for row in rows for name in re.findall(r"`([^`]+)`", row.split("|")[1])]


def _fields(table: str) -> list[str]:
    return sorted(name for name in TABLES[table].model_fields if name != "source")  # what a source is stands at the head of the page


def test_the_fields_of_the_entries_that_a_keeper_writes_are_shown() -> None:
    assert {table for what, table in SHOWN if what == "field"} == {
        *("term", "cue", "attribute", "words", "section", "mishearing", "opposites"),
    }


@pytest.mark.parametrize("table", [table for what, table in SHOWN if what == "field"])
def test_all_fields_of_an_entry_are_shown_and_no_others(table: str) -> None:
    assert sorted(_first_column(SHOWN["field", table])) == _fields(table)


@pytest.mark.parametrize(("field", "table"), [key for key in SHOWN if key[0] != "field" and key != ("kind", "term")])
def test_all_words_that_a_field_accepts_are_shown_and_no_others(field: str, table: str) -> None:
    assert sorted(_first_column(SHOWN[field, table])) == sorted(get_args(TABLES[table].model_fields[field].annotation))


def test_the_lists_of_words_are_shown() -> None:
    lists = {
        ("kind", "term"),
        ("stance", "cue"),
        ("scope", "cue"),
        ("value", "attribute"),
        ("otherwise", "mishearing"),
        ("spelling", "house"),
    }
    assert lists == {key for key in SHOWN if key[0] != "field"}


def test_all_vocabularies_are_shown_with_their_notes() -> None:
    shown = {_first_column([row])[0]: row.split("|")[2].strip() for row in SHOWN["kind", "term"]}
    assert shown == {vocabulary.id: vocabulary.note for vocabulary in load().vocabularies}


def test_all_parts_of_a_dictation_are_shown() -> None:
    [told] = re.findall(r"names the part that it opens: (.*)\.$", PAGES[FOLDER / "README.md"], re.MULTILINE)
    assert re.findall(r"`([^`]+)`", told) == [part.id for part in load().parts]


def test_all_kinds_of_entry_stand_in_the_first_table() -> None:
    table = PAGES[FOLDER / "README.md"].partition("Files end in")[0]
    assert set(re.findall(r"`\[\[(\w+)\]\]`", table)) == {*TABLES, *(name for names in READ_ELSEWHERE.values() for name in names)}


def test_units_that_names_end_in_are_shown() -> None:
    from opnote.lexicon.references import SUFFIXES

    [row] = [row for row in SHOWN["field", "attribute"] if row.startswith("| `name`")]
    assert set(re.findall(r"`_(\w+)`", row)) == set(SUFFIXES)


def test_the_signs_of_company_are_those_of_hearing() -> None:
    from opnote.hearing import phrases

    page = PAGES[FOLDER / "mishearings" / "README.md"]
    assert set(re.findall(r"``([^`\w]|_)``", phrases.__doc__ or "")) == set(re.findall(r"`([^`\w]|_)` (?:is|any|a|the)\b", page))


# --- a keeper who follows the page ------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def ours(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with every entry that the pages show."""
    folder = tmp_path_factory.mktemp("ours")
    for number, block in enumerate(BLOCKS):
        table = re.findall(r"^\[\[(\w+)\]\]", block)[0]
        home = folder / next((name for name, tables in READ_ELSEWHERE.items() if table in tables), ".")
        home.mkdir(exist_ok=True)
        (home / f"entry{number}.toml").write_text(block, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def lexicon(ours: Path) -> Lexicon:
    return load(folders=[ours])


def _record(said: str, lexicon: Lexicon) -> Record:
    return pipeline.run(read_bytes(said.encode(), name="test"), lexicon=lexicon).record


def _values(record: Record, name: str) -> list[object]:
    return [entity.attributes[name].value for entity in record.of("implant") if name in entity.attributes]


def test_the_entries_shown_have_no_fault_and_their_examples_hold(ours: Path) -> None:
    assert len(BLOCKS) >= 6
    assert keeper.faults([ours]) == ()


def test_the_term_shown_is_found(lexicon: Lexicon) -> None:
    assert _values(_record("The graft was backed up with a bridge clamp on the tibia.", lexicon), "kind") == ["staple"]


def test_the_cue_shown_keeps_the_staple_out(lexicon: Lexicon) -> None:
    assert _values(_record("A staple is on the shelf in case.", lexicon), "kind") == []


def test_the_mishearing_shown_is_read(lexicon: Lexicon) -> None:
    assert _values(_record("The graft was backed up with a stay pull on the tibia.", lexicon), "kind") == ["staple"]


def test_the_attribute_shown_is_filled(lexicon: Lexicon) -> None:
    [said] = re.findall(r'^"(A six by forty [^"]*)" now gives', PAGES[FOLDER / "README.md"], re.MULTILINE)
    assert _values(_record(f"{said}.", lexicon), "head_mm") == [9.0]


def test_the_faults_shown_are_those_told(tmp_path: Path) -> None:
    shown = [line.strip() for line in PAGES[FOLDER / "README.md"].splitlines() if line.startswith("    terms/ours.toml: ")]
    entry = """
        [[term]]
        id = "{id}"
        kind = "{kind}"
        value = "staple"
        said = ["{said}"]
        source = "invented"
    """
    told: list[str] = []
    for number, entries in enumerate(
        (
            [entry.format(id="Bridge Clamp", kind="implant kind", said="bridge clamp")],
            [entry.format(id="clamp", kind="implant kinds", said="bridge clamp")],
            [entry.format(id="clamp", kind="implant kind", said="bridge clamp") + '    colour = "red"\n'],
        )
    ):
        home = tmp_path / str(number) / "terms"
        home.mkdir(parents=True)
        (home / "ours.toml").write_text(textwrap.dedent("".join(entries)), encoding="utf-8")
        told += keeper.faults([home.parent], examples=False)
    assert told == shown
