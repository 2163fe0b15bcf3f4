"""WebVTT: the grammar and the reader's algorithm of W3C WebVTT, 4 and 6; cases after web-platform-tests' file-parsing set, own words."""

from __future__ import annotations

import pytest

from opnote.errors import TranscriptError
from tests.unit.transcript.transcript_cases import mended, read_text, rows

HEAD = "WEBVTT\n\n"


def test_a_cue_becomes_a_segment_with_its_seconds_and_line() -> None:
    transcript = read_text(HEAD + "00:01.000 --> 00:02.500\nleft knee,\nnine millimetres\n")
    assert transcript.format == "webvtt"
    assert rows(transcript) == [("left knee, nine millimetres", 1.0, 2.5, None)]
    assert transcript.segments[0].line == 4
    assert transcript.mends == ()
    assert transcript.duration_s == 2.5


@pytest.mark.parametrize(
    "head",
    [
        "\ufeffWEBVTT\n\n",
        "WEBVTT - dictation 7\n\n",
        "WEBVTT\tdictation 7\n\n",
        "WEBVTT\nKind: captions\nLanguage: en\n\n",
        "WEBVTT\n\nKind: captions\nLanguage: en\n\n",
        "WEBVTT\nX-TIMESTAMP-MAP=LOCAL:00:00:00.000,MPEGTS:900000\n\n",
        "WEBVTT\n\nNOTE made by the recorder\n\n",
        "WEBVTT\n\nNOTE\nmade by the recorder\non two lines\n\n",
        "WEBVTT\n\nSTYLE\n::cue { color: red }\n\n",
        "WEBVTT\n\nREGION\nid:one\nwidth:40%\n\n",
        "WEBVTT\n\n\n\n",
    ],
)
def test_what_stands_in_front_of_the_cues_is_not_dictated(head: str) -> None:
    transcript = read_text(head + "00:01.000 --> 00:02.000\nleft knee\n")
    assert transcript.text == "left knee"
    assert transcript.mends == ()


def test_comments_identifiers_and_settings_are_not_dictated() -> None:
    transcript = read_text(
        HEAD
        + "first\n00:01.000 --> 00:02.000 align:left position:10%\nleft knee\n\n"
        + "NOTE checked\n\n2\n00:02.000 --> 00:03.000\nnine by\n\nNOTE\nthe end\n"
    )
    assert transcript.text == "left knee nine by"
    assert transcript.mends == ()


@pytest.mark.parametrize("line", ["9", "12", "2026", "8 5"])
def test_a_line_of_digits_in_a_cue_is_text(line: str) -> None:
    transcript = read_text(HEAD + f"1\n00:01.000 --> 00:02.000\nscrew size\n{line}\n\n2\n00:02.000 --> 00:03.000\n{line}\n")
    assert transcript.text == f"screw size {line} {line}"
    assert transcript.mends == ()


@pytest.mark.parametrize(
    ("payload", "text"),
    [
        ("diameter <9 mm and > 8", "diameter <9 mm and > 8"),
        ("a gap of < 3 & no more", "a gap of < 3 & no more"),
        ("opening &lt;3 mm &amp; firm", "opening <3 mm & firm"),
        ("&amp;lt; stays as it is written", "&lt; stays as it is written"),
        ("a <i>firm</i> <b>end</b> <u>point</u>", "a firm end point"),
        ("<c.loud>stop</c> there", "stop there"),
        ("<lang en-GB>metres</lang>", "metres"),
        ("nine<00:00:01.500> by<00:01.800> twenty", "nine by twenty"),
        ("<tape> and <9> stay", "<tape> and <9> stay"),
        ("two&nbsp;millimetres\u00a0deep", "two millimetres deep"),
        ("left&lrm; knee&rlm;", "left knee"),
        ("AT&T and &unknown; stay", "AT&T and &unknown; stay"),
    ],
)
def test_markup_goes_and_text_stays(payload: str, text: str) -> None:
    assert read_text(HEAD + f"00:01.000 --> 00:02.000\n{payload}\n").text == text


def test_voices_are_speakers_and_share_the_time_of_their_cue() -> None:
    transcript = read_text(
        HEAD
        + "00:00.000 --> 00:10.000\n<v Nurse>Left?</v><v.loud Dr.  A. Bone>Left.</v>\n\n"
        + "00:10.000 --> 00:12.000\n<v Nurse>Noted\n\n00:12.000 --> 00:13.000\nyes\n"
    )
    assert rows(transcript) == [
        ("Left?", 0.0, 5.0, "Nurse"),
        ("Left.", 5.0, 10.0, "Dr. A. Bone"),
        ("Noted", 10.0, 12.0, "Nurse"),
        ("yes", 12.0, 13.0, None),
    ]
    assert transcript.mends == ()


def test_dashed_lines_are_turns_where_they_recur() -> None:
    cues = ("- Which?\n- Left,\nof course.", "- 5?", "And so.")
    text = "".join(f"00:0{at}.000 --> 00:0{at + 1}.000\n{words}\n\n" for at, words in enumerate(cues))
    transcript = read_text(HEAD + text)
    assert [row[0] for row in rows(transcript)] == ["Which?", "Left, of course.", "5?", "And so."]
    assert [segment.paragraph for segment in transcript.segments] == [False, True, True, False]
    assert [segment.line for segment in transcript.segments] == [4, 5, 9, 12]


@pytest.mark.parametrize("line", ["-5 to 130 degrees", "- 5 to 130 degrees", "\u2013 5 degrees"])
def test_a_dash_that_may_be_a_minus_stays(line: str) -> None:
    assert read_text(HEAD + f"00:01.000 --> 00:02.000\nit moves from\n{line}\n").text == f"it moves from {line}"


@pytest.mark.parametrize(
    ("timing", "start_s", "end_s"),
    [
        ("00:00:01.000 --> 00:00:02.000", 1.0, 2.0),
        ("00:01.000 --> 00:02.000", 1.0, 2.0),
        ("0:00:01.000 --> 00:00:02.000", 1.0, 2.0),
        ("000:00:01.000 --> 100:00:00.000", 1.0, 360000.0),
        ("   00:01.000   -->\t00:02.000  ", 1.0, 2.0),
        ("00:01.000\f-->\f00:02.000", 1.0, 2.0),
    ],
)
def test_times_that_the_standards_reader_accepts_need_no_mend(timing: str, start_s: float | None, end_s: float | None) -> None:
    transcript = read_text(HEAD + f"{timing}\nleft knee\n\n")
    assert (transcript.segments[0].start_s, transcript.segments[0].end_s) == (start_s, end_s)
    assert [mend for mend in transcript.mends if mend.line is not None] == []


@pytest.mark.parametrize(
    ("timing", "start_s", "end_s"),
    [
        ("00:00:01,000 --> 00:00:02,000", 1.0, 2.0),
        ("00:00:01.5 --> 00:00:02.50", 1.5, 2.5),
        ("00:00:01 --> 00:00:02", 1.0, 2.0),
        ("0:01.000 --> 0:02.000", 1.0, 2.0),
        ("00:1.000 --> 00:02.000", 1.0, 2.0),
        ("00:61.000 --> 00:62.000", 61.0, 62.0),
        ("00:01.0000 --> 00:02.000", 1.0, 2.0),
        ("00:01.000-->00:02.000", 1.0, 2.0),
        ("00:01.000 -> 00:02.000", 1.0, 2.0),
        ("00:03.000 --> 00:02.000", 3.0, None),
        ("00:00.000.000 --> 00:02.000", None, None),
        ("-00:01.000 --> 00:02.000", None, None),
        ("000:01.000 --> 00:02.000", None, None),
        ("00::01.000 --> 00:02.000", None, None),
        ("00:01. --> 00:02.000", None, None),
        ("0. --> 00:02.000", None, None),
        (" --> 00:02.000", None, None),
        ("00:01.000 --> ", None, None),
        ("00:01.000 --> 00:02", 1.0, 2.0),
        ("00:01.000\v-->\v00:02.000", None, None),
    ],
)
def test_words_under_irregular_times_are_kept_with_a_mend(timing: str, start_s: float | None, end_s: float | None) -> None:
    transcript = read_text(HEAD + f"{timing}\nleft knee\n\n")
    assert transcript.text == "left knee"
    assert (transcript.segments[0].start_s, transcript.segments[0].end_s) == (start_s, end_s)
    assert {mend.line for mend in transcript.mends} == {3}


def test_without_empty_lines_cues_are_still_told_apart() -> None:
    transcript = read_text("WEBVTT\n00:01.000 --> 00:02.000\nleft knee\n00:02.000 --> 00:03.000\nnine\n")
    assert [row[:2] for row in rows(transcript)] == [("left knee", 1.0), ("nine", 2.0)]
    assert mended(transcript) == [(2, "no empty line before this cue"), (4, "no empty line before this cue")]


def test_identifiers_without_empty_lines_are_known_by_their_order() -> None:
    transcript = read_text(HEAD + "1\n00:01.000 --> 00:02.000\nsize\n9\n2\n00:02.000 --> 00:03.000\nby twenty\n7\n")
    assert transcript.text == "size 9 by twenty 7"


def test_words_behind_an_empty_line_stay_with_their_cue() -> None:
    transcript = read_text(HEAD + "00:01.000 --> 00:02.000\nleft knee\n\nnine by twenty\n\n00:03.000 --> 00:04.000\nend\n")
    assert rows(transcript)[0] == ("left knee nine by twenty", 1.0, 2.0, None)
    assert mended(transcript) == [(6, "words after an empty line are kept with the cue above them")]


def test_counters_that_stand_apart_are_not_dictated() -> None:
    text = "1\n00:01.000 --> 00:02.000\nleft knee\n2\n00:02.000 --> 00:03.000\nnine\n"
    transcript = read_text(HEAD + text.replace("\n", "\n\n"))
    assert [row[:3] for row in rows(transcript)] == [("left knee", 1.0, 2.0), ("nine", 2.0, 3.0)]
    assert [mend.line for mend in transcript.mends] == [3, 7, 9, 13]


def test_a_timed_comment_is_a_cue_as_the_standard_has_it() -> None:
    assert read_text(HEAD + "NOTE\n00:01.000 --> 00:02.000\nleft knee\n").text == "left knee"


def test_a_second_file_put_behind_the_first_is_read_on() -> None:
    transcript = read_text(HEAD + "00:05.000 --> 00:06.000\nleft\n\nWEBVTT\n\n00:01.000 --> 00:02.000\nknee\n")
    assert transcript.text == "left knee"
    assert mended(transcript) == [(9, "these words begin before those above them; the order of the file is kept")]


@pytest.mark.parametrize(
    ("cut", "text"),
    [
        ("00:02.000 --> 00:03.000\nnine mill", "left knee nine mill"),
        ("00:02.000 --> 00:03.000\n<v Nurse>nine mill", "left knee nine mill"),
        ("00:02.000 --> 00:03.000\nnine <v Nur", "left knee nine"),
        ("00:02.000 --> 00:03.000\nnine </", "left knee nine"),
        ("00:02.000 --> 00:03.000\n", "left knee"),
        ("00:02.000 --> 00:03.000", "left knee"),
        ("00:02.000 --> 00:0", "left knee"),
        ("00:02.000 --", "left knee"),
        ("00:02.0", "left knee"),
        ("2\n00:0", "left knee"),
        ("2", "left knee"),
        ("00:02.000 --> 00:03.000\n00:03.000 --> 00:04.000", "left knee"),
        ("NOT", "left knee"),
    ],
)
def test_of_a_file_cut_in_the_middle_the_readable_part_is_read_with_a_mend(cut: str, text: str) -> None:
    transcript = read_text(HEAD + "1\n00:01.000 --> 00:02.000\nleft knee\n\n" + cut)
    assert transcript.text == text
    assert (transcript.mends[-1].line or 0) >= 7


def test_a_cut_leaves_a_number_that_is_compared_as_text() -> None:
    assert read_text(HEAD + "00:01.000 --> 00:02.000\nat <9").text == "at <9"


@pytest.mark.parametrize(
    "text", ["WEBVTT", "WEBVTT\n\n", HEAD + "1\n00:01.000 --> 00:0", HEAD + "00:01.000 --> 00:02.000\n\n", HEAD + "NOTE only a comment\n"]
)
def test_a_file_without_a_readable_cue_is_refused(text: str) -> None:
    with pytest.raises(TranscriptError, match="no words in it"):
        read_text(text)


@pytest.mark.parametrize("head", ["webvtt\n\n", "WEBVTT2\n\n", "\nWEBVTT\n\n"])
def test_an_irregular_first_line_is_mended(head: str) -> None:
    transcript = read_text(head + "00:01.000 --> 00:02.000\nleft knee\n")
    assert (transcript.format, transcript.text) == ("webvtt", "left knee")
    assert [mend.what for mend in transcript.mends] == ["the first line is not WEBVTT as the format asks"]


@pytest.mark.parametrize("end", ["\r", "\r\n", "\n"])
def test_any_line_end_will_do(end: str) -> None:
    text = HEAD + "1\n00:01.000 --> 00:02.000\nleft knee\n\n2\n00:02.000 --> 00:03.000\nnine\n"
    transcript = read_text(text.replace("\n", end))
    assert transcript.text == "left knee nine"
    assert [segment.line for segment in transcript.segments] == [5, 9]
    assert transcript.mends == ()


def test_names_in_front_of_the_words_are_speakers_where_they_recur() -> None:
    cues = ["NURSE: Left?", "SURGEON: Left.", "NURSE: Noted.", "and the time", "SURGEON: Go on."]
    text = HEAD + "".join(f"00:0{at}.000 --> 00:0{at + 1}.000\n{words}\n\n" for at, words in enumerate(cues))
    assert [(row[0], row[3]) for row in rows(read_text(text))] == [
        ("Left?", "NURSE"),
        ("Left.", "SURGEON"),
        ("Noted.", "NURSE"),
        ("and the time", "NURSE"),
        ("Go on.", "SURGEON"),
    ]


@pytest.mark.parametrize(
    "cues",
    [
        ["Diagnosis: a torn ligament", "Procedure: reconstruction", "Anesthesia: spinal", "Position: supine"],
        ["the screw, note: nine", "the screw, note: ten", "Lot: A9", "Lot: B9", "it went in", "we went on", "and on", "and on", "done"],
    ],
)
def test_headings_are_not_speakers(cues: list[str]) -> None:
    text = HEAD + "".join(f"00:0{at}.000 --> 00:0{at + 1}.000\n{words}\n\n" for at, words in enumerate(cues))
    assert [(row[0], row[3]) for row in rows(read_text(text))] == [(cue, None) for cue in cues]
