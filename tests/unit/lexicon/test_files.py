"""Files and fields that are not as they should be: told in plain words, never a message of a library, never a crash."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from opnote import keeper
from opnote.lexicon.plain import nearest

TERM = '[[term]]\nid = "x"\nkind = "implant kind"\nvalue = "staple"\nsaid = ["bridge clamp"]\nsource = "s"\n'
RANGE = '[[range]]\nid = "x"\ntype = "implant"\nattribute = "diameter_mm"\nusual = [1, 2]\nsource = "s"\n'
ATTRIBUTE = '[[attribute]]\ntype = "implant"\nname = "hue"\nlabel = "hue"\nvalue = "words"\nsource = "s"\n'

FIELDS = [
    (TERM.replace('"x"', '"A Clamp"'), 'id: "A Clamp": only small letters, digits and hyphens are allowed, such as "bridge-clamp"'),
    (TERM.replace('id = "x"\n', ""), "term entry 1: id: is needed"),
    (TERM.replace('source = "s"\n', ""), "source: is needed"),
    (TERM.replace('["bridge clamp"]', '"bridge clamp"'), 'said: a list is expected (["...", "..."])'),
    (TERM.replace('["bridge clamp"]', "[]"), "said: must not be empty"),
    (TERM.replace('["bridge clamp"]', '["ok", " clamp"]'), 'said: " clamp": no blank may stand at the start or the end'),
    (TERM.replace('["bridge clamp"]', "[1]"), 'said: text in quotes is expected ("...")'),
    (TERM.replace('"staple"', "3"), 'value: text in quotes is expected ("...")'),
    (TERM + 'sayd = ["x"]\n', "sayd: no such field; known: each, near, not_after, not_before, only_after, only_before, within"),
    (TERM + 'not_afer = ["x"]\n', 'not_afer: no such field; did you mean "not_after"?'),
    (ATTRIBUTE + 'many = "perhaps"\n', "many: true or false is expected"),
    (ATTRIBUTE + "reach = 1.5\n", "reach: a whole number is expected"),
    (ATTRIBUTE + "usual = [3, 1]\n", "usual: runs from low to high"),
    (ATTRIBUTE + "usual = [nan, 1]\n", "usual: a number is expected"),
    (ATTRIBUTE + "usual = [1]\n", "usual: two numbers are expected ([low, high])"),
    (ATTRIBUTE + "usual = [1, 2, 3]\n", "usual: two numbers are expected ([low, high])"),
    (ATTRIBUTE + "usual = [1, 5]\nhard = [2, 4]\n", "usual: lies inside `hard`"),
    (ATTRIBUTE.replace('"words"', '"term"'), "terms: is needed where the value is a term"),
    (ATTRIBUTE.replace('"words"', '"quantity"'), "quantities: is needed where the value is a quantity"),
    (ATTRIBUTE.replace('"words"', '"text"'), "value: \"text\" is not known; known: bool, clock, date"),
    (RANGE + 'where = "staple"\n', 'where: a table is expected ({ kind = ["..."] })'),
    (RANGE + 'ask = "perhaps"\n', "ask: true or false is expected"),
    (RANGE.replace("usual = [1, 2]\n", ""), "usual: is needed, or `hard`"),
]  # fmt: skip

ANYWHERE = [
    (b"= =", "ours.toml:1: not readable as TOML: "),
    (b'id = "x', "ours.toml: not readable as TOML: Unterminated string"),
    (b"\xff\xfe[\0[\0", "ours.toml: not UTF-8 text; save it as UTF-8"),
    (b"common = 3\n", "ours.toml: common: is written [common]"),
    (b"x = " + b"[" * 5000 + b"]" * 5000, "ours.toml: not readable as TOML: nested too deep"),
]
OF_TERMS = [
    (b'[term]\nid = "x"\n', "ours.toml: term: an entry is written [[term]], with two brackets on either side"),
    (b'term = ["x"]\n', "ours.toml: term: an entry is written [[term]]"),
    (b'[[terms]]\nid = "x"\n', 'ours.toml: [[terms]]: no such kind of entry; did you mean "term"?'),
    (b'[[range]]\nid = "x"\n', "ours.toml: [[range]]: stands in the wrong folder; it belongs into a file below procedures/"),
]


@pytest.mark.parametrize(("text", "told"), FIELDS)
def test_a_field_that_does_not_fit(text: str, told: str, tmp_path: Path) -> None:
    home = tmp_path / "procedures" if "[[range]]" in text else tmp_path
    home.mkdir(exist_ok=True)
    (home / "ours.toml").write_text(text, encoding="utf-8")
    [fault] = keeper.faults([tmp_path])
    assert told in fault
    assert "pydantic" not in fault
    assert "Input" not in fault


@pytest.mark.parametrize(
    ("data", "told", "home"),
    [
        *((data, told, home) for home in (".", "procedures", "profiles") for data, told in ANYWHERE),
        *((data, told, ".") for data, told in OF_TERMS),
    ],
)
def test_a_file_that_cannot_be_read(data: bytes, told: str, home: str, tmp_path: Path) -> None:
    (tmp_path / home).mkdir(exist_ok=True)
    (tmp_path / home / "ours.toml").write_bytes(data)
    [fault] = keeper.faults([tmp_path])
    assert fault.startswith(told if home == "." else f"{home}/{told}")


def test_a_file_with_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_bytes(b"\xef\xbb\xbf" + TERM.encode())
    assert keeper.faults([tmp_path]) == ()


def test_a_table_below_procedures_that_stands_elsewhere(tmp_path: Path) -> None:
    (tmp_path / "procedures").mkdir()
    (tmp_path / "procedures" / "ours.toml").write_text(TERM, encoding="utf-8")
    [fault] = keeper.faults([tmp_path])
    assert fault == ("procedures/ours.toml: [[term]]: stands in the wrong folder; it belongs into a file outside procedures/ and profiles/")


def test_files_in_folders_below_are_read(tmp_path: Path) -> None:
    (tmp_path / "procedures" / "knee").mkdir(parents=True)
    (tmp_path / "procedures" / "knee" / "ours.toml").write_text(RANGE.replace("implant", "implnt"), encoding="utf-8")
    [fault] = keeper.faults([tmp_path])
    assert fault.startswith("procedures/knee/ours.toml: range x: type: ")


@pytest.mark.parametrize("name", ["terms.toml.txt", "terms.tml"])
def test_a_file_that_nobody_reads_for_its_name(name: str, tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_text(TERM, encoding="utf-8")
    (tmp_path / name).write_text(TERM, encoding="utf-8")
    assert keeper.faults([tmp_path]) == (f"{name}: is not read; give it a name that ends in .toml",)


def test_a_word_list_that_nobody_reads(tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_text(TERM, encoding="utf-8")
    (tmp_path / "speech").mkdir()
    (tmp_path / "speech" / "ordinary-words.txt").write_text("clampish\n", encoding="utf-8")
    [fault] = keeper.faults([tmp_path])
    assert fault.startswith("speech/ordinary-words.txt: word lists are read from the built-in folder alone")


def test_a_folder_without_entries(tmp_path: Path) -> None:
    [fault] = keeper.faults([tmp_path])
    assert "no lexicon file in it" in fault


def test_a_file_in_place_of_a_folder(tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_text(TERM, encoding="utf-8")
    [fault] = keeper.faults([tmp_path / "ours.toml"])
    assert "this is a file, and a folder is expected" in fault


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_without_permission(tmp_path: Path) -> None:
    (tmp_path / "ours.toml").write_text(TERM, encoding="utf-8")
    (tmp_path / "ours.toml").chmod(0)
    [fault] = keeper.faults([tmp_path])
    assert fault.startswith("ours.toml: cannot be read (")


def test_the_nearest_name_is_offered_and_else_all_there_are() -> None:
    assert nearest("lachmann", ["Lachman", "dial"]) == 'did you mean "Lachman"?'
    assert nearest("zzz", [f"name{number:02}" for number in range(30)]).endswith("name19 and 10 more")
