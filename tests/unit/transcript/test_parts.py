"""Several files of one dictation."""

from __future__ import annotations

import pytest

from opnote.errors import TranscriptError
from opnote.transcript import Transcript, joined, read_bytes
from opnote.transcript.model import TimedWord
from tests.unit.transcript.transcript_cases import mended, rows


def part(text: str, name: str) -> Transcript:
    return read_bytes(text.encode(), name=name)


FIRST = "WEBVTT\n\n00:01.000 --> 00:02.000\nleft knee\n\n00:08.000 --> 00:10.000\nnine\n"


def test_seconds_that_go_on_keep_the_pause() -> None:
    whole = joined([part(FIRST, "a.vtt"), part("WEBVTT\n\n01:00.000 --> 01:02.000\nten\n", "b.vtt")])
    assert rows(whole) == [("left knee", 1.0, 2.0, None), ("nine", 8.0, 10.0, None), ("ten", 60.0, 62.0, None)]
    assert (whole.name, whole.text, whole.duration_s, whole.restarted) == ("a.vtt, b.vtt", "left knee nine ten", 62.0, False)
    assert mended(whole) == [(None, "b.vtt: its seconds go on from the file before it")]


def test_seconds_that_begin_anew_count_from_the_last_second_above() -> None:
    whole = joined([part(FIRST, "a.vtt"), part("1\n00:00:01,500 --> 00:00:02,500\nten\n", "b.srt"), part("[0:03] eleven\n", "c.txt")])
    assert [row[:3] for row in rows(whole)][2:] == [("ten", 11.5, 12.5), ("eleven", 15.5, None)]
    assert whole.restarted
    assert mended(whole) == [
        (None, "b.srt: its seconds begin anew; 0:10 is added to them, and how long the pause before it was is not known"),
        (None, "c.txt: its seconds begin anew; 0:12 is added to them, and how long the pause before it was is not known"),
    ]


def test_words_keep_their_places_and_seconds() -> None:
    whole = joined([part("c 1 1.0 0.5 left\nc 1 1.5 0.5 knee\n", "a.ctm"), part("c 1 0.25 0.5 nine 0.9\nc 1 1 1 mm\n", "b.ctm")])
    assert whole.words[2:] == (TimedWord(10, 14, 2.25, 2.75, 0.9), TimedWord(15, 17, 3.0, 4.0, None))
    assert [whole.text[word.start : word.end] for word in whole.words] == ["left", "knee", "nine", "mm"]


def test_lines_are_counted_on_and_each_file_is_a_paragraph() -> None:
    whole = joined([part("left knee\n\nnine\n", "a.txt"), part("ten\neleven", "b.txt")])
    assert [segment.line for segment in whole.segments] == [1, 3, 4, 5]
    assert [segment.paragraph for segment in whole.segments] == [False, True, True, False]
    assert mended(whole) == [(None, "b.txt: its lines are counted on from 3")]


def test_what_was_tolerated_is_told_with_the_file() -> None:
    whole = joined([part(FIRST.replace("00:08.000", "00:08,000"), "a.vtt"), part("[0:03] ten\n", "b.txt")])
    assert mended(whole)[0] == (6, "a.vtt: the fraction of a second does not begin with '.'")


def test_files_that_seem_out_of_order_are_doubted() -> None:
    late = part("WEBVTT\n\n10:00.000 --> 10:02.000\nnine\n", "a.vtt")
    whole = joined([late, part(FIRST, "b.vtt")])
    assert whole.text == "nine left knee nine"
    assert [mend.what for mend in whole.mends if mend.kind == "time"] == [
        "b.vtt: its seconds end before those of the file before it begin; are the files in order?"
    ]


def test_one_file_is_itself() -> None:
    alone = part(FIRST, "a.vtt")
    assert joined([alone]) is alone


def test_a_file_given_twice_is_refused() -> None:
    with pytest.raises(TranscriptError, match=r"b\.vtt: the same file as a\.vtt; give each part"):
        joined([part(FIRST, "a.vtt"), part(FIRST, "b.vtt")])


def test_the_sum_tells_the_files_and_their_order() -> None:
    one, two = part(FIRST, "a.vtt"), part("[0:03] ten\n", "b.txt")
    assert joined([one, two]).sha256 != joined([two, one]).sha256
    assert joined([one, two]) == joined([one, two])
