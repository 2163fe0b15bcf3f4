"""SubRip. No formal standard: the Matroska project's page on the format, and irregular files as they occur (common practice)."""

from __future__ import annotations

import pytest

from tests.unit.transcript.transcript_cases import mended, read_text, rows

REGULAR = "1\n00:00:01,000 --> 00:00:02,500\nleft knee,\nnine\n\n2\n00:00:03,000 --> 00:00:04,000\nend\n"


def test_a_regular_file_needs_no_mend() -> None:
    transcript = read_text(REGULAR)
    assert transcript.format == "subrip"
    assert rows(transcript) == [("left knee, nine", 1.0, 2.5, None), ("end", 3.0, 4.0, None)]
    assert [segment.line for segment in transcript.segments] == [3, 8]
    assert transcript.mends == ()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("1\n00:00:01,000 --> 00:00:02,000\nscrew size\n9\n\n2\n00:00:02,000 --> 00:00:03,000\n12\n", "screw size 9 12"),
        ("1\n00:00:01,000 --> 00:00:02,000 X1:10 Y2:20\n<i>left</i> <font color=red>knee</font>\n", "left knee"),
        ("1\n00:00:01,000 --> 00:00:02,000\n{\\an8}left knee\n", "left knee"),
        ("1\n00:00:01,000 --> 00:00:02,000\ndiameter <9 mm and > 8\n", "diameter <9 mm and > 8"),
        ("\ufeff" + REGULAR, "left knee, nine end"),
        (REGULAR.replace("\n", "\r\n"), "left knee, nine end"),
        ("\n\n" + REGULAR + "\n\n", "left knee, nine end"),
    ],
)
def test_what_the_format_allows_needs_no_mend(text: str, words: str) -> None:
    transcript = read_text(text)
    assert transcript.text == words
    assert transcript.mends == ()


@pytest.mark.parametrize(
    ("text", "line", "mend"),
    [
        ("00:00:01,000 --> 00:00:02,000\nleft knee\n", 1, "the cue has no counter"),
        ("1\n00:00:01.000 --> 00:00:02.000\nleft knee\n", 2, "the fraction of a second does not begin with ','"),
        ("1\n00:00:01,000 -> 00:00:02,000\nleft knee\n", 2, "the arrow between the times is not ' --> '"),
        ("1\n00:01,000 --> 00:02,000\nleft knee\n", 2, "the time does not have the digits that the format asks for"),
        ("1\n0:00:01,000 --> 0:00:02,000\nleft knee\n", 2, "the time does not have the digits that the format asks for"),
    ],
)
def test_an_irregular_file_is_read_with_a_mend(text: str, line: int, mend: str) -> None:
    transcript = read_text(text)
    assert rows(transcript) == [("left knee", 1.0, 2.0, None)]
    assert mended(transcript) == [(line, mend)]


def test_without_empty_lines_a_counter_is_known_by_its_order() -> None:
    transcript = read_text(REGULAR.replace("\n\n", "\n"))
    assert transcript.text == "left knee, nine end"
    assert mended(transcript) == [(6, "no empty line before this cue")]


def test_without_empty_lines_another_number_stays_text() -> None:
    assert read_text("1\n00:00:01,000 --> 00:00:02,000\nsize\n9\n00:00:02,000 --> 00:00:03,000\nend\n").text == "size 9 end"


def test_an_empty_line_within_a_cue_does_not_lose_the_words_behind_it() -> None:
    transcript = read_text("1\n00:00:01,000 --> 00:00:02,000\nleft\n\nknee\n\n2\n00:00:02,000 --> 00:00:03,000\nend\n")
    assert [row[0] for row in rows(transcript)] == ["left knee", "end"]
    assert [mend.line for mend in transcript.mends] == [5]


def test_words_in_front_of_the_first_cue_are_kept_without_a_time() -> None:
    transcript = read_text("case seven\n\n" + REGULAR)
    assert rows(transcript)[0] == ("case seven", None, None, None)
    assert [mend.line for mend in transcript.mends] == [1]


def test_webvtt_without_its_first_line_is_read_like_this() -> None:
    transcript = read_text("00:01.000 --> 00:02.000\nleft knee\n")
    assert transcript.format == "subrip"
    assert transcript.text == "left knee"
    assert transcript.mends != ()
