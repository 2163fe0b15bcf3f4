"""Files that hold no dictation: one line that says what, where and what to try, and never a word of the dictation."""

from __future__ import annotations

import io
import sys
import time
import zipfile
from pathlib import Path
from types import SimpleNamespace

import pytest

from opnote.errors import TranscriptError
from opnote.transcript import LIMIT_BYTES, read, read_bytes
from tests.unit.transcript.transcript_cases import read_text


def zipped() -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr("a.txt", "left knee")
    return buffer.getvalue()


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"", "the file is empty"),
        (b" \n\t\n", "no words in it"),
        (b"\xef\xbb\xbf", "no words in it"),
        (b"%PDF-1.7\n1 0 obj", "this is a PDF"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "this is a picture"),
        (b"\xff\xd8\xff\xe0\x00\x10JFIF", "this is a picture"),
        (b"RIFF\x24\x00\x00\x00WEBPVP8 ", "this is a picture"),
        (b"\x00\x00\x00\x18ftypheic", "this is a picture"),
        (b"\x00\x00\x00\x18ftypM4A ", "this is a sound or film recording"),
        (b"RIFF\x24\x00\x00\x00WAVEfmt ", "this is a sound or film recording"),
        (b"ID3\x03\x00", "this is a sound or film recording"),
        (zipped(), "this is an archive or a word processor's document"),
        (b"a" * 257 + b"ustar\x0000", "this is an archive"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1", "this is a word processor's document"),
        (b"ooBinaryFile\x08TextGrid", "this is a binary TextGrid"),
        (b'"ooTextFile"\n"TextGrid"\n0\n1\n<exists>\n0\n', "a TextGrid without a tier of words"),
        (b'"Any chronological TextGrid text file"\n0 1\n', "a TextGrid in the order of time is not read"),
        (b"\x7fELF\x02\x01", "this is a binary file"),
        (bytes(range(32)) * 8 + b"left", "this is a binary file"),
        (b'{"case": "left"}', "JSON that holds no segments with words"),
        (b'# the case\nside = "left"\n', "this is a TOML file"),
        (b'[[term]]\nid = "left"\n', "this is a TOML file"),
    ],
)
def test_what_is_no_transcript_is_refused_in_one_line(data: bytes, what: str) -> None:
    with pytest.raises(TranscriptError) as caught:
        read_bytes(data, name="case.vtt")
    message = str(caught.value)
    assert message.startswith("case.vtt: ")
    assert what in message
    assert caught.value.hint
    assert "\n" not in message
    assert "left" not in message


@pytest.mark.parametrize(
    "text", ["side = left", "# nine = ten # it was", "PK is how it begins", "BZ", "ID card", "RIFF and more", "MM and II"]
)
def test_words_that_begin_like_a_signature_are_read(text: str) -> None:
    assert read_text(text).text == text


def test_a_missing_file(tmp_path: Path) -> None:
    path = str(tmp_path / "none.vtt")
    with pytest.raises(TranscriptError, match="no such file") as caught:
        read(path)
    assert caught.value.where == path


def test_a_folder(tmp_path: Path) -> None:
    with pytest.raises(TranscriptError, match="a folder, not a file"):
        read(str(tmp_path))


def test_an_unreadable_file(monkeypatch: pytest.MonkeyPatch) -> None:
    def denied(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr("builtins.open", denied)
    with pytest.raises(TranscriptError, match=r"case\.txt: no permission to read the file"):
        read("case.txt")


def test_a_name_that_no_file_can_have() -> None:
    with pytest.raises(TranscriptError, match="cannot be read"):
        read("a\x00b")


def test_a_file_of_the_stated_size_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "case.txt"
    with path.open("wb") as file:
        file.truncate(LIMIT_BYTES)
    begun = time.perf_counter()
    with pytest.raises(TranscriptError, match="too large: 50 MB or more"):
        read(str(path))
    assert time.perf_counter() - begun < 1.0


def test_bytes_of_the_stated_size_are_refused() -> None:
    with pytest.raises(TranscriptError, match="too large"):
        read_bytes(b"a" * LIMIT_BYTES, name="case")


def test_a_file_is_known_by_its_name_and_its_sum(tmp_path: Path) -> None:
    path = tmp_path / "case.dat"
    path.write_bytes(b"left knee\n")
    transcript = read(str(path), source="addendum-1", kind="addendum")
    assert (transcript.name, transcript.source, transcript.kind) == ("case.dat", "addendum-1", "addendum")
    # the sum by coreutils' sha256sum
    assert transcript.sha256 == "4bd553fb18c17ad9e30d14e141ea644e32dcd83fd7c71876f9fa8e06f6077698"


def test_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(b"[0:04] left knee")))
    transcript = read("-")
    assert (transcript.name, transcript.text) == ("standard input", "left knee")


def test_an_empty_standard_input_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(b"")))
    with pytest.raises(TranscriptError, match="standard input: the file is empty"):
        read("-")
