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
        codecs.BOM_UTF32_LE + TEXT.encode("utf-32-le"),
        codecs.BOM_UTF32_BE + TEXT.encode("utf-32-be"),
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


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("\uff17 mm", "7 mm"),
        ("\uff11\uff12\uff0e\uff15\u3000mm", "12.5 mm"),
        ("\ufb01rm end", "firm end"),
        ("o\ufb03ce", "office"),
        ("\U0001d7d7 mm", "9 mm"),
        ("\u0669 mm", "9 mm"),
        ("\uff32\uff29\uff27\uff28\uff34 knee", "RIGHT knee"),
        ("5 \u00d7 2\u00bd mm\u00b2", "5 \u00d7 2\u00bd mm\u00b2"),
        ("9\u2009\u00d7\u202f20\u00a0mm", "9 \u00d7 20 mm"),
        ("the \u201cfirm\u201d end, surgeon\u2019s", "the \u201cfirm\u201d end, surgeon\u2019s"),
        ("\u202bleft\u202c \u2066knee\u2069", "left knee"),
        ("fl\u00fcssig \u0153dema", "fl\u00fcssig \u0153dema"),
    ],
)
def test_letters_and_figures_in_other_forms(written: str, read: str) -> None:
    assert read_bytes(written.encode(), name="case").text == read


def test_other_forms_are_noted_once_with_their_number() -> None:
    transcript = read_bytes("left\n\uff17 mm by \uff11\uff10\n".encode(), name="case")
    assert [(mend.line, mend.what) for mend in transcript.mends] == [
        (2, "3 characters in another form (full-width, ligature) read as plain")
    ]


def test_full_width_times_are_times() -> None:
    text = "WEBVTT\n\n\uff10\uff10:\uff10\uff11.\uff15\uff10\uff10 --> 00:02.500\nnine\n"
    assert read_bytes(text.encode(), name="case").segments[0].start_s == 1.5


def test_escaped_other_forms_are_plain_too() -> None:
    assert read_bytes(b'[{"text": "\\uff17 mm \\ufb01rm", "start": 1}]', name="case").text == "7 mm firm"


def test_mixed_line_ends_count_as_lines() -> None:
    transcript = read_bytes(b"left\r\nknee\rnine\nten\r\n\r\neleven", name="case")
    assert [segment.line for segment in transcript.segments] == [1, 2, 3, 4, 6]


@pytest.mark.parametrize(
    ("data", "refusal"), [(codecs.BOM_UTF32_LE + b"abcdefgh", "UTF-32"), (codecs.BOM_UTF16_LE + b"\x00\xdcab" * 4, "UTF-16")]
)
def test_wide_bytes_that_are_no_text_are_refused(data: bytes, refusal: str) -> None:
    with pytest.raises(TranscriptError, match=f"not valid {refusal}"):
        read_bytes(data, name="case")


def test_every_byte_of_windows_1252_text_is_read() -> None:
    text = "\u2018left\u2019 \u201cknee\u201d \u2013 \u2014 \u2026 5\u00b0 \u00b1 2 \u00bd \u00b5m \u00d7 na\u00efve \u0160imic"
    assert read_bytes(text.encode("cp1252"), name="case").text == text
