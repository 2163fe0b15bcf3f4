"""Outputs are written together or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from opnote.errors import OutputError
from opnote.exchange import write_outputs


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_text_and_bytes_are_written_as_they_are(tmp_path: Path) -> None:
    paths = write_outputs(tmp_path / "a" / "b", {"note.txt": "8 mm, 20°\n", "note.bin": b"\x00\r\n"})
    assert [path.read_bytes() for path in paths] == ["8 mm, 20°\n".encode(), b"\x00\r\n"]
    assert names(tmp_path / "a" / "b") == ["note.bin", "note.txt"]


def test_a_second_run_replaces_the_first(tmp_path: Path) -> None:
    write_outputs(tmp_path, {"note.txt": "old"})
    write_outputs(tmp_path, {"note.txt": "new"})
    assert (tmp_path / "note.txt").read_text() == "new"
    assert names(tmp_path) == ["note.txt"]


def test_files_get_the_rights_that_other_new_files_get(tmp_path: Path) -> None:
    (tmp_path / "plain").write_text("x")
    (path,) = write_outputs(tmp_path, {"note.txt": "x"})
    assert path.stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_file_in_the_folders_place_is_refused_with_a_hint(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine")
    with pytest.raises(OutputError, match=r"out: cannot write there: .*; name a folder, not a file"):
        write_outputs(tmp_path / "out", {"note.txt": "x"})
    assert (tmp_path / "out").read_text() == "mine"


def test_when_a_later_file_cannot_be_written_the_earlier_ones_are_put_back(tmp_path: Path) -> None:
    (tmp_path / "note.md").write_text("old")
    (tmp_path / "record.json").mkdir()  # a folder cannot be replaced by a file
    with pytest.raises(OutputError):
        write_outputs(tmp_path, {"note.md": "new", "note.txt": "new", "record.json": "{}"})
    assert (tmp_path / "note.md").read_text() == "old"
    assert names(tmp_path) == ["note.md", "record.json"]


def test_a_move_that_fails_midway_puts_everything_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a.txt").write_text("old")
    move = os.replace

    def fails_at_c(source: Path, target: Path) -> None:
        if Path(target).name == "c.txt":
            raise OSError(28, "No space left on device")
        move(source, target)

    monkeypatch.setattr(os, "replace", fails_at_c)
    with pytest.raises(OutputError, match="No space left on device"):
        write_outputs(tmp_path, {"a.txt": "new", "b.txt": "new", "c.txt": "new"})
    assert (tmp_path / "a.txt").read_text() == "old"
    assert names(tmp_path) == ["a.txt"]


def test_a_folder_made_for_a_failed_run_is_removed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_source: Path, _target: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OutputError):
        write_outputs(tmp_path / "a" / "b", {"note.txt": "x"})
    assert names(tmp_path) == []


@pytest.mark.parametrize("name", ["", ".", "..", "a/b.txt", "/etc/note.txt"])
def test_a_name_that_leaves_the_folder_is_a_mistake_of_the_caller(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="plain file name"):
        write_outputs(tmp_path, {name: "x"})


def test_no_words_of_the_output_stand_in_the_error(tmp_path: Path) -> None:
    (tmp_path / "note.txt").mkdir()
    with pytest.raises(OutputError) as caught:
        write_outputs(tmp_path, {"note.txt": "patient four one seven"})
    assert "four one seven" not in str(caught.value)
