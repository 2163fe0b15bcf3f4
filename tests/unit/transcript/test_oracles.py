"""General libraries as oracles where they are right, and a table of where they are not (webvtt-py 0.6, pysubs2 1.8, srt 3.5; tried)."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import pysubs2
import pytest
import srt
import webvtt

from opnote.transcript import Transcript, read_bytes

Cue = tuple[str, float | None, float | None]

VTT = [
    "WEBVTT\n\n00:01.000 --> 00:02.500\nleft knee\n\n00:03.000 --> 01:04.250\nnine\n",
    "\ufeffWEBVTT with a header\n\n00:00:01.000 --> 00:00:02.500 align:left\nleft knee\n",
    "WEBVTT\nX-TIMESTAMP-MAP=LOCAL:00:00:00.000,MPEGTS:900000\n\n1\n00:00:01.000 --> 00:00:02.500\nleft\nknee\n",
    "WEBVTT\n\n1\n00:00:01.000 --> 00:00:02.500\nsize\n9\n\n2\n00:00:03.000 --> 00:00:04.000\n12\n",
]
SRT = [
    "1\n00:00:01,000 --> 00:00:02,500\nleft knee\n\n2\n00:00:03,000 --> 00:01:04,250\nnine\n",
    "1\n00:00:01,000 --> 00:00:02,500\nsize\n9\n\n2\n00:00:03,000 --> 00:00:04,000\n12\n",
    "1\n00:00:01.000 --> 00:00:02.500\nleft knee\n",
    "00:00:01,000 --> 00:00:02,500\nleft knee\n",
    "1\n00:00:01,000 --> 00:00:02,500\nleft knee\n2\n00:00:03,000 --> 00:00:04,000\nnine\n",
    "1\n00:00:01,000 --> 00:00:02,500\ndiameter <9 mm and > 8\n",
]


def ours(text: str) -> list[Cue]:
    transcript: Transcript = read_bytes(text.encode(), name="case")
    return [(transcript.text[s.start : s.end], s.start_s, s.end_s) for s in transcript.segments]


def by_webvtt(text: str) -> list[Cue]:
    def second(stamp: webvtt.models.Timestamp) -> float:
        return stamp.hours * 3600 + stamp.minutes * 60 + stamp.seconds + stamp.milliseconds / 1000

    captions = webvtt.from_string(text).captions
    return [(" ".join(cue.raw_text.split()), second(cue.start_time), second(cue.end_time)) for cue in captions]


def by_pysubs2(text: str, format_name: str) -> list[Cue]:
    events = pysubs2.SSAFile.from_string(text, format_=format_name)
    return [(" ".join(event.plaintext.split()), event.start / 1000, event.end / 1000) for event in events]


def by_srt(text: str) -> list[Cue]:
    return [(" ".join(cue.content.split()), cue.start.total_seconds(), cue.end.total_seconds()) for cue in srt.parse(text)]


@pytest.mark.parametrize("text", VTT)
def test_webvtt_as_the_libraries_read_it(text: str) -> None:
    assert ours(text) == by_webvtt(text) == by_pysubs2(text.lstrip("\ufeff"), "vtt")


@pytest.mark.parametrize("text", SRT)
def test_subrip_as_the_libraries_read_it(text: str) -> None:
    assert ours(text) == by_srt(text) == by_pysubs2(text, "srt")


def test_a_voice_as_webvtt_py_reads_it() -> None:
    text = "WEBVTT\n\n00:01.000 --> 00:02.000\n<v Dr. A. Bone>left knee</v>\n"
    assert webvtt.from_string(text).captions[0].voice == read_bytes(text.encode(), name="case").segments[0].speaker == "Dr. A. Bone"


vtt_by_pysubs2 = partial(by_pysubs2, format_name="vtt")
VTT_CUE = "WEBVTT\n\n00:00:01.000 --> 00:00:02.000\n"


@pytest.mark.parametrize(
    ("library", "text", "theirs", "right"),
    [
        pytest.param(
            vtt_by_pysubs2,
            VTT_CUE + "left\n\nNOTE a comment\n",
            "left NOTE a comment",
            "left",
            id="pysubs2: a comment becomes text",
        ),
        pytest.param(vtt_by_pysubs2, (VTT_CUE + "left\n").replace("\n", "\r"), "", "left", id="pysubs2: text lost with CR"),
        pytest.param(
            vtt_by_pysubs2,
            VTT_CUE + "nine &amp; ten\n",
            "nine &amp; ten",
            "nine & ten",
            id="pysubs2: references stay escaped",
        ),
        pytest.param(by_webvtt, VTT_CUE + "nine &amp; ten\n", "nine &amp; ten", "nine & ten", id="webvtt-py: references stay escaped"),
    ],
)
def test_where_a_library_gets_the_words_wrong(library: Callable[[str], list[Cue]], text: str, theirs: str, right: str) -> None:
    assert [cue[0] for cue in library(text)] == [theirs]
    assert [cue[0] for cue in ours(text)] == [right]


def test_webvtt_py_loses_a_bare_less() -> None:
    text = VTT_CUE + "diameter <9 mm and > 8\n"
    assert webvtt.from_string(text).captions[0].text == "diameter  8"
    assert ours(text)[0][0] == "diameter <9 mm and > 8"


def test_a_comma_in_the_times_leaves_the_libraries_without_a_cue() -> None:
    text = "WEBVTT\n\n00:00:01,000 --> 00:00:02,000\nleft\n"
    assert by_webvtt(text) == by_pysubs2(text, "vtt") == []
    assert ours(text) == [("left", 1.0, 2.0)]


def test_pysubs2_reads_a_short_fraction_as_milliseconds() -> None:
    text = "WEBVTT\n\n00:00:01.50 --> 00:00:02.000\nleft\n"
    assert by_pysubs2(text, "vtt") == [("left", 1.05, 2.0)]
    assert ours(text) == [("left", 1.5, 2.0)]


def test_srt_reads_minutes_as_hours_and_the_others_nothing() -> None:
    text = "1\n00:01,000 --> 00:10,000\nleft\n"
    assert by_srt(text) == [("left", 60.0, 600.0)]
    assert by_pysubs2(text, "srt") == []
    assert ours(text) == [("left", 1.0, 10.0)]


def test_an_end_in_front_of_the_begin_passes_unnoticed_elsewhere() -> None:
    text = "WEBVTT\n\n00:00:03.000 --> 00:00:02.000\nleft\n"
    assert by_webvtt(text) == by_pysubs2(text, "vtt") == [("left", 3.0, 2.0)]
    assert [mend.line for mend in read_bytes(text.encode(), name="case").mends] == [3]


def test_pysubs2_needs_an_end_in_ttml() -> None:
    text = '<tt xmlns="http://www.w3.org/ns/ttml"><body><div><p begin="00:00:01.000" dur="1s">left</p></div></body></tt>'
    with pytest.raises(KeyError):
        by_pysubs2(text, "ttml")
    assert ours(text) == [("left", 1.0, 2.0)]


@pytest.mark.parametrize("timing", ["00:00:01.000 -> 00:00:02.000", "00:01.000 --> 00:02"])
def test_words_under_irregular_times_that_webvtt_py_loses_or_refuses(timing: str) -> None:
    text = f"WEBVTT\n\n{timing}\nleft\n\n00:00:03.000 --> 00:00:04.000\nknee\n"
    assert ours(text) == [("left", 1.0, 2.0), ("knee", 3.0, 4.0)]
    assert by_webvtt(text) != ours(text)


def test_a_file_without_its_signature_is_refused_by_one_and_read_by_the_other() -> None:
    text = "00:00:01.000 --> 00:00:02.000\nleft\n"
    with pytest.raises(webvtt.errors.MalformedFileError):
        by_webvtt(text)
    assert by_pysubs2(text, "vtt") == ours(text) == [("left", 1.0, 2.0)]


def test_a_nul_is_kept_elsewhere() -> None:
    text = VTT_CUE + "le\x00ft knee, nine by twenty five millimetres, and it was firm\n"
    assert "\x00" in by_webvtt(text)[0][0]
    assert "\x00" not in ours(text)[0][0]
    assert [mend.what for mend in read_bytes(text.encode(), name="case").mends] == ["1 control character (such as NUL) left out"]


def test_a_short_arrow_in_subrip() -> None:
    text = "1\n00:00:01,000 -> 00:00:02,000\nleft\n"
    with pytest.raises(srt.SRTParseError):
        by_srt(text)
    assert by_pysubs2(text, "srt") == ours(text) == [("left", 1.0, 2.0)]


def test_places_of_a_picture_behind_subrip_times() -> None:
    text = "1\n00:00:01,000 --> 00:00:02,000 X1:100 X2:200 Y1:10 Y2:20\nleft\n"
    assert ours(text) == by_pysubs2(text, "srt") == by_srt(text) == [("left", 1.0, 2.0)]


def test_cues_too_short_for_the_grammar_keep_their_words_and_two_that_are_right_their_times() -> None:
    """After the published vectors of times that are too short: of the libraries, one drops cues, the other reads times into the words."""
    good = [("00:00:00.000", "00:00:01.000"), ("00:00.000", "00:01.000")]
    bad = [("0:00:0.000", "1"), ("00:00:00.00", "00:00:01.00"), ("00:0.000", "00:01.000"), (":00.000", ":01.000"), ("00.000", "01.000")]
    text = "WEBVTT\n\n" + "".join(f"{start} --> {end}\ntext {number}\n\n" for number, (start, end) in enumerate(good + bad, start=1))
    read = ours(text)
    assert [words for words, _, _ in read] == [f"text {number}" for number in range(1, len(good) + len(bad) + 1)]
    assert [row[1:] for row in read[:2]] == [(0.0, 1.0), (0.0, 1.0)]
    assert len(by_webvtt(text)) < len(read)
    assert any("-->" in words for words, _, _ in by_pysubs2(text, "vtt"))
