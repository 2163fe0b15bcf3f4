"""Transcripts in other forms, read back by the readers of this library and by others."""

from __future__ import annotations

from io import StringIO

import pytest
import srt
import webvtt

from opnote.errors import OpnoteError
from opnote.exchange import transcript_text
from opnote.transcript import Transcript, read_bytes

TIMED = b"""WEBVTT

00:00:01.500 --> 00:00:03.250
<v Surgeon>Left knee &amp; nothing else.

01:02:03.004 --> 01:02:05.000
<v Nurse>Lot four < five.

01:02:06.000 --> 01:02:07.000
<v Surgeon>Thank you.

01:02:08.000 --> 01:02:09.000
<v Nurse>Count is correct.
"""


@pytest.fixture
def timed() -> Transcript:
    return read_bytes(TIMED, name="dictation.vtt")


@pytest.mark.parametrize("form", ["vtt", "srt", "json"])
def test_words_and_seconds_are_read_back(form: str, timed: Transcript) -> None:
    again = read_bytes(transcript_text(timed, form=form).encode(), name=f"dictation.{form}")
    assert again.text == timed.text
    assert [(s.start_s, s.end_s, s.speaker) for s in again.segments] == [(s.start_s, s.end_s, s.speaker) for s in timed.segments]
    assert again.mends == ()


def test_timed_text_keeps_whole_seconds(timed: Transcript) -> None:
    assert transcript_text(timed, form="text").splitlines()[:2] == [
        "[0:01] Surgeon: Left knee & nothing else.",
        "[1:02:03] Nurse: Lot four < five.",
    ]


def test_other_readers_read_the_cues(timed: Transcript) -> None:
    """webvtt-py and srt as outside readers."""
    captions = webvtt.from_buffer(StringIO(transcript_text(timed, form="vtt"))).captions
    subtitles = list(srt.parse(transcript_text(timed, form="srt")))
    assert [caption.start for caption in captions] == ["00:00:01.500", "01:02:03.004", "01:02:06.000", "01:02:08.000"]
    assert [subtitle.start.total_seconds() for subtitle in subtitles] == [1.5, 3723.004, 3726, 3728]
    assert subtitles[0].content == "Surgeon: Left knee & nothing else."


@pytest.mark.parametrize("form", ["vtt", "srt"])
def test_a_transcript_without_seconds_has_no_cues(form: str) -> None:
    with pytest.raises(OpnoteError, match="without seconds"):
        transcript_text(read_bytes(b"Left knee.", name="dictation.txt"), form=form)


def test_an_untimed_transcript_is_plain_text() -> None:
    assert transcript_text(read_bytes(b"Left knee.\nNine.", name="dictation.txt"), form="text") == "Left knee.\nNine.\n"
