"""Transcripts in other forms, read back by the readers of this library and by others."""

from __future__ import annotations

from io import StringIO
from pathlib import Path

import pytest
import srt
import webvtt

from opnote.errors import OpnoteError
from opnote.exchange import TRANSCRIPT_FORMS, lost, transcript_text
from opnote.transcript import Transcript, read, read_bytes
from opnote.transcript.assemble import assembled
from opnote.transcript.reading import MendLog, Piece

ROOT = Path(__file__).parents[3]

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


def test_timed_text_tells_ends_where_they_are_not_the_next_beginning(timed: Transcript) -> None:
    assert transcript_text(timed, form="text").splitlines()[:2] == [
        "[0:01.5 - 0:03.25] Surgeon: Left knee & nothing else.",
        "[1:02:03.004 - 1:02:05] Nurse: Lot four < five.",
    ]
    seamless = read_bytes(b"[0:01] Left knee. [0:04] Nine. [0:09.5] Ten.", name="dictation.txt")
    assert transcript_text(seamless, form="text") == "[0:01] Left knee.\n[0:04] Nine.\n[0:09.5] Ten.\n"


DICTATIONS = sorted(
    path for folder in (ROOT / "sample_dictations", ROOT / "tests/corpus/dictations") for path in folder.glob("*/transcript.*")
)
#: What a form cannot hold, by its nature.
CANNOT = {"vtt": {"paragraphs", "words' seconds"}, "srt": {"paragraphs", "words' seconds"}, "text": {"words' seconds"}, "json": set()}


@pytest.mark.parametrize("form", TRANSCRIPT_FORMS)
def test_every_dictation_of_the_repository_is_read_back_the_same(form: str) -> None:
    for path in DICTATIONS:
        transcript = read(str(path))
        timed = all(segment.start_s is not None for segment in transcript.segments)
        if timed or form in ("text", "json"):
            assert set(lost(transcript, transcript_text(transcript, form=form))) <= CANNOT[form], path.parent.name


PROVOKING = [
    [(1, 2, None, "- Which?"), (3, 4, None, "- Left."), (5, 6, None, "- 5?")],
    [(1, 2, None, ">> Which?"), (3, 4, None, ">> Left."), (5, None, None, "\u2014 no")],
    [(1, 2, None, "Nurse: Which?"), (3, 4, None, "Surgeon: Left."), (5, 6, None, "Nurse: Noted."), (6, 7, None, "Surgeon: Go on.")],
    [(1, 2, "Nurse", "Anesthesia: spinal."), (3, 4, None, "Position: supine.")],
    [(1, 2, "A & <B>", "diameter <9 mm and > 8 & so"), (3, 4, None, "a <i>firm</i> &lt; end {\\an8}")],
    [(1, 2, None, "00:01.000 --> 00:02.000"), (3, 4, None, "12"), (4, 5, None, "NOTE so"), (6, 7, None, "WEBVTT")],
    [(1.001, 2.999, "S", "left"), (2.5, 3, "S", "right"), (2.2, None, "T", "both"), (90000, 90001, None, "late")],
    [(0, None, None, "left"), (0, None, None, "knee"), (0, None, None, "now")],
]


@pytest.mark.parametrize("form", ["vtt", "srt", "json"])
@pytest.mark.parametrize("told", PROVOKING)
def test_words_that_look_like_markup_are_read_back_the_same(form: str, told: list[tuple[float, float | None, str | None, str]]) -> None:
    pieces = [Piece(text, number, start, end, speaker) for number, (start, end, speaker, text) in enumerate(told)]
    whole = assembled(pieces, log=MendLog())
    transcript = Transcript("dictation", "x", "", "x", whole.text, whole.segments, whole.words, duration_s=whole.duration_s)
    assert lost(transcript, transcript_text(transcript, form=form)) == ()


def test_what_a_form_cannot_hold_is_told() -> None:
    transcript = read_bytes(b"c 1 1.0 0.5 left 0.9\nc 1 1.5 0.5 knee 0.8\n", name="dictation.ctm")
    assert lost(transcript, transcript_text(transcript, form="srt")) == ("words' seconds",)
    assert lost(transcript, transcript_text(transcript, form="json")) == ()
    assert lost(transcript, "%PDF-") == ("words", "seconds", "speakers", "paragraphs", "words' seconds")
    marked = read_bytes(b"WEBVTT\n\n00:01.000 --> 00:02.000\nat [0:09] it was nine\n", name="dictation.vtt")
    assert "words" in lost(marked, transcript_text(marked, form="text"))


def test_a_plain_form_stays_plain(timed: Transcript) -> None:
    assert "&#" not in transcript_text(timed, form="vtt")
    assert "<v" not in transcript_text(timed, form="srt")


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
