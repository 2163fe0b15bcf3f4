"""Bytes -> characters."""

from __future__ import annotations

import codecs

import pytest

from opnote.errors import TranscriptError
from opnote.transcript import read_bytes

TEXT = "Flexed to 90\u00b0, Ren\u00e9\u2019s \u00bd inch \u2013 5 \u00b5m \u00d7 2.\n"


@pytest.mark.parametrize(
    "data",
    [
        TEXT.encode(),
        codecs.BOM_UTF8 + TEXT.encode(),
        codecs.BOM_UTF16_LE + TEXT.encode("utf-16-le"),
        codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"),
    ],
)
def test_utf_8_and_marked_utf_16_need_no_mend(data: bytes) -> None:
    transcript = read_bytes(data, name="case")
    assert transcript.text == TEXT.strip()
    assert transcript.mends == ()


@pytest.mark.parametrize(
    ("codec", "mend"), [("cp1252", "not UTF-8; read as Windows-1252"), ("utf-16-le", "UTF-16 without a byte order mark")]
)
def test_what_is_plainly_text_is_read_with_a_mend(codec: str, mend: str) -> None:
    transcript = read_bytes(TEXT.replace("\u00b5", "u").encode(codec), name="case")
    assert transcript.text == TEXT.replace("\u00b5", "u").strip()
    assert [(m.line, m.what) for m in transcript.mends] == [(1, mend)]


def test_lines_pasted_together_are_each_read_as_what_they_are() -> None:
    transcript = read_bytes("90\u00b0\n".encode() + "60\u00b0\n".encode("cp1252"), name="case")
    assert transcript.text == "90\u00b0 60\u00b0"
    assert [mend.line for mend in transcript.mends] == [2]


@pytest.mark.parametrize(
    "data",
    [
        b"left \xc3\x28 knee",
        b"\x80\x81\x82",
        b"left\n\xfe\xfe\xfe knee",
        b"left \x8d knee",
        b"\xe9\xe8\xfc",
        b"\xff\xfe\xfa\xfb\xfc\xfd",
    ],
)
def test_bytes_that_are_not_plainly_text_are_refused(data: bytes) -> None:
    with pytest.raises(TranscriptError, match="save it as UTF-8 text"):
        read_bytes(data, name="case")


def test_doubled_line_ends_are_single_ones() -> None:
    transcript = read_bytes(b"WEBVTT\r\r\n\r\r\n1\r\r\n00:01.000 --> 00:02.000\r\r\nleft\r\r\nknee\r\r\n", name="case")
    assert (transcript.text, len(transcript.segments)) == ("left knee", 1)
    assert [mend.line for mend in transcript.mends] == [1]


def test_a_character_cut_at_the_end_is_left_out_with_a_mend() -> None:
    transcript = read_bytes("left\nknee 90\u00b0".encode()[:-1], name="case")
    assert transcript.text == "left knee 90"
    assert [mend.line for mend in transcript.mends] == [2]


def test_a_stray_nul_is_left_out_with_a_mend() -> None:
    transcript = read_bytes(b"left knee, nine by twenty and then some\nmore words that follow the k\x00nee\n", name="case")
    assert "\x00" not in transcript.text
    assert [(mend.line, mend.what) for mend in transcript.mends] == [(2, "1 control character (such as NUL) left out")]


def test_characters_without_a_shape_are_left_out() -> None:
    assert read_bytes("\u200e[0:04] left\u200b\u00ad knee\u2069".encode(), name="case").text == "left knee"


def test_every_white_space_is_one_space() -> None:
    assert read_bytes("nine\u00a0\u2009mm\u202f\x0b\x0cdeep\u2028now\u3000".encode(), name="case").text == "nine mm deep now"
