"""NIST CTM: the NIST Scoring Toolkit's description of the format."""

from __future__ import annotations

import pytest

from opnote.transcript.model import TimedWord
from tests.unit.transcript.transcript_cases import mended, read_text, rows


def test_words_with_times_and_confidence() -> None:
    transcript = read_text(";; one channel\n\ncase A 0.50 0.25 left 0.90\ncase A 0.80 0.2 knee\ncase A 2.0 .5 nine 1.7\n")
    assert transcript.format == "ctm"
    assert rows(transcript) == [("left knee", 0.5, 1.0, None), ("nine", 2.0, 2.5, None)]
    assert transcript.words == (TimedWord(0, 4, 0.5, 0.75, 0.9), TimedWord(5, 9, 0.8, 1.0, None), TimedWord(10, 14, 2.0, 2.5, None))
    assert [segment.line for segment in transcript.segments] == [3, 5]
    assert transcript.mends == ()


def test_channels_are_speakers_in_the_order_of_time() -> None:
    transcript = read_text("c 1 0.0 0.4 left\nc 1 3.0 0.4 nine\nc 2 1.5 0.4 which\nc 2 1.9 0.4 size\n")
    assert [(row[0], row[3]) for row in rows(transcript)] == [("left", "1"), ("which size", "2"), ("nine", "1")]
    assert transcript.mends == ()


def test_the_column_of_speakers_is_read() -> None:
    transcript = read_text("c 1 0.0 0.4 left 0.9 lex S1\nc 1 0.4 0.4 which 0.9 lex S2\nc 1 0.8 0.4 size 0.9 lex unknown\n")
    assert [(row[0], row[3]) for row in rows(transcript)] == [("left", "S1"), ("which", "S2"), ("size", None)]


def test_each_channels_own_talk_stays_in_its_order() -> None:
    text = "c A 1.0 0.3 left 0.9\nc A 1.4 0.3 knee 0.8\nc A * * and 0.7\nc A 6.0 0.4 nine 0.6\n"
    text += "c B 1.2 0.3 yes 0.5\nc B 7.0 0.3 noted 0.4\n" + "c B 9.0 0.1 end 0.3\n" * 4
    transcript = read_text(text)
    assert [(row[0], row[1], row[3]) for row in rows(transcript)] == [
        ("left knee and nine", 1.0, "A"),
        ("yes", 1.2, "B"),
        ("noted", 7.0, "B"),
        ("end end end end", 9.0, "B"),
    ]
    assert [word.confidence for word in transcript.words[:5]] == [0.9, 0.8, 0.6, 0.5, 0.4]
    assert [(mend.line, mend.kind) for mend in transcript.mends] == [(3, "time")]


@pytest.mark.parametrize("times", ["-0.5 0.4", "nan 0.4", "1.0 -0.2", "* *", "NA NA", "- -", "inf 1", "9" * 30 + " x"])
def test_a_word_without_a_true_time_is_kept(times: str) -> None:
    transcript = read_text("c 1 0 .1 left\n" * 20 + f"c 1 {times} knee\n")
    kept = times[-1] != "x"
    assert transcript.text.endswith("knee") == kept
    assert len(transcript.words) == 20
    assert [(mend.line, mend.kind) for mend in transcript.mends] == [(21, "time" if kept else "shape")]


def test_entries_that_are_no_words_by_their_type_are_noted() -> None:
    text = "c 1 0 .1 left .9 lex s\nc 1 .2 .1 uh .9 fp s\nc 1 .3 .1 LAUGH .9 non-lex s\nc 1 .4 .1 kn- .9 frag s\nc 1 .5 .1 knee .9 lex s\n"
    transcript = read_text(text)
    assert transcript.text == "left uh kn- knee"
    assert mended(transcript) == [(3, "a sound that is no word is left out")]


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("C\tA\t1.0\t0.2\tleft", "left"),
        ("  c A 1.0 0.2 left  ", "left"),
        ("c A 1e-1 2E-1 left", "left"),
        ("c A 1. .2 left", "left"),
        ("c A 1.0 0.2 left 1.0", "left"),
        ("c A 1.0 0.2 left NA lex", "left"),
        ("c A 1.0 0.0 left", "left"),
    ],
)
def test_a_line_as_tools_write_it(line: str, word: str) -> None:
    transcript = read_text(f"{line}\n{line}\n")
    assert (transcript.format, transcript.text, transcript.mends) == ("ctm", f"{word} {word}", ())


def test_recordings_follow_each_other() -> None:
    transcript = read_text("a 1 5.0 0.4 left\nb 1 0.0 0.4 knee\n")
    assert [row[:2] for row in rows(transcript)] == [("left", 5.0), ("knee", 0.0)]
    assert len(transcript.mends) == 2


def test_of_alternatives_the_first_is_read() -> None:
    text = (
        "c 1 0 .1 at\nc 1 * * <ALT_BEGIN>\nc 1 1.0 .2 nine\nc 1 * * <ALT>\nc 1 1.0 .2 mine\nc 1 * * <ALT_END>\nc 1 1.3 .2 now\n"
        + "c 1 2 .1 x\n" * 20
    )
    transcript = read_text(text)
    assert transcript.text.startswith("at nine now x")
    assert mended(transcript)[0] == (4, "other readings of the words before are left out")


def test_lines_that_are_no_words_are_noted() -> None:
    transcript = read_text("c 1 0 .1 left\n" * 10 + "c 1 half\nc 1 1 .1 <eps>\n")
    assert transcript.text == " ".join(["left"] * 10)
    assert mended(transcript) == [(11, "a line that is no timed word is left out")]


def test_one_time_that_cannot_be_true_leaves_a_short_file_what_it_is() -> None:
    transcript = read_text("c A 0.5 0.3 left 0.9\nc A 0.9 0.3 knee 0.9\nc A -1.0 0.3 nine 0.7\n")
    assert (transcript.format, transcript.text) == ("ctm", "left knee nine")


def test_talk_with_dashes_and_none_is_no_ctm() -> None:
    assert read_text("drain was - none left\nside is none - right\n").format == "plain text"
