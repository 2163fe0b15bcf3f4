"""Plain text with time marks. No standard: common practice of recorders."""

from __future__ import annotations

import pytest

from opnote.transcript.marks import SQUARE, mark_kind
from tests.unit.transcript.transcript_cases import mended, read_text, rows


@pytest.mark.parametrize(
    ("first", "second", "seconds"),
    [
        ("[0:04]", "[1:02]", (4.0, 62.0)),
        ("[00:04]", "[75:10]", (4.0, 4510.0)),
        ("[0:00:04]", "[1:02:30]", (4.0, 3750.0)),
        ("[59:58]", "[1:00:02]", (3598.0, 3602.0)),
        ("[00:00:04.250]", "[00:01:02,500]", (4.25, 62.5)),
        ("00:00:04", "00:01:23", (4.0, 83.0)),
        ("00:00:04.5", "00:01:23.5", (4.5, 83.5)),
        ("(0:04)", "(1:02)", (4.0, 62.0)),
        ("0:04", "1:02", (4.0, 62.0)),
    ],
)
def test_a_mark_holds_until_the_next(first: str, second: str, seconds: tuple[float, float]) -> None:
    transcript = read_text(f"{first} left knee\n{second} nine by twenty\n")
    assert transcript.format == "timed text"
    assert rows(transcript) == [("left knee", seconds[0], seconds[1], None), ("nine by twenty", seconds[1], None, None)]
    assert transcript.duration_s == seconds[1]
    assert transcript.mends == ()


@pytest.mark.parametrize(
    "text",
    [
        "10:20 antibiotic given\n10:35 incision",
        "the clock said\n0:04 and then\n0:09 again\nand more\nand more\nand more",
        "left knee at 0:04",
        "ratio 3:10 of strands\nratio 4:10 of strands",
        "00:00:04 and no other mark",
        "(see 0:04) left knee",
    ],
)
def test_times_that_are_spoken_of_are_no_marks(text: str) -> None:
    transcript = read_text(text)
    assert transcript.format == "plain text"
    assert transcript.text == " ".join(text.split())


def test_a_range_gives_its_own_end() -> None:
    transcript = read_text("[0:04 - 0:06] left knee\n[0:09 --> 0:12.5] nine\n")
    assert rows(transcript) == [("left knee", 4.0, 6.0, None), ("nine", 9.0, 12.5, None)]


def test_paragraphs_under_one_mark_share_its_time() -> None:
    transcript = read_text("[0:00] left knee\n\nten words\nlong\n\n[0:20] end\n\nof it\n")
    assert rows(transcript) == [
        ("left knee", 0.0, 7.826, None),
        ("ten words long", 7.826, 20.0, None),
        ("end", 20.0, None, None),
        ("of it", 20.0, None, None),
    ]
    assert [segment.paragraph for segment in transcript.segments] == [False, True, True, True]
    assert [segment.line for segment in transcript.segments] == [1, 3, 6, 8]


def test_a_mark_on_a_line_of_its_own_holds_for_the_lines_below() -> None:
    transcript = read_text("[0:04]\nleft knee\nand more\n[0:09]\nnine\n")
    assert rows(transcript) == [("left knee and more", 4.0, 9.0, None), ("nine", 9.0, None, None)]
    assert [segment.line for segment in transcript.segments] == [2, 5]


def test_marks_within_one_line_are_marks() -> None:
    assert [row[:2] for row in rows(read_text("[0:00] left [0:04] knee [0:09] nine"))] == [("left", 0.0), ("knee", 4.0), ("nine", 9.0)]


@pytest.mark.parametrize("dash", ["-", "\u2013", "|"])
def test_a_dash_behind_a_bare_mark_is_no_word(dash: str) -> None:
    assert read_text(f"00:00:04 {dash} left\n00:00:09 {dash} knee\n").text == "left knee"


def test_a_dash_in_front_of_a_number_may_be_a_minus() -> None:
    assert read_text("00:00:04 - 5 degrees\n00:00:09 -5 degrees\n").text == "- 5 degrees -5 degrees"


@pytest.mark.parametrize("cut", ["[", "[0", "[0:1", "[0:12"])
def test_a_mark_cut_at_the_end_is_left_out_with_a_mend(cut: str) -> None:
    transcript = read_text(f"[0:04] left knee\n{cut}")
    assert transcript.text == "left knee"
    assert mended(transcript) == [(2, "the file stops in the middle of a time mark, which is left out")]


def test_a_name_may_stand_on_a_line_of_its_own() -> None:
    transcript = read_text("[0:04] Nurse:\nLeft?\n\n[0:06] Surgeon:\nLeft.\n\n[0:09] Nurse:\nNoted.\n\n[0:12] Surgeon:\nGo.\n")
    assert [(row[0], row[3]) for row in rows(transcript)] == [
        ("Left?", "Nurse"),
        ("Left.", "Surgeon"),
        ("Noted.", "Nurse"),
        ("Go.", "Surgeon"),
    ]


def test_words_in_front_of_the_first_mark_are_kept_without_a_time() -> None:
    transcript = read_text("case seven\n\n[0:04] left knee\n")
    assert rows(transcript) == [("case seven", None, None, None), ("left knee", 4.0, None, None)]
    assert mended(transcript) == [(1, "words in front of the first time mark are kept without a time")]


def test_a_mark_that_runs_backwards_is_read_and_noted() -> None:
    transcript = read_text("[0:09] left\n[0:04] knee\n[0:12] nine\n")
    assert [row[1:3] for row in rows(transcript)] == [(9.0, None), (4.0, 12.0), (12.0, None)]
    assert mended(transcript) == [(2, "these words begin before those above them; the order of the file is kept")]


def test_more_than_59_seconds_are_read_and_noted() -> None:
    transcript = read_text("[0:75] left knee\n")
    assert rows(transcript) == [("left knee", 75.0, None, None)]
    assert [mend.line for mend in transcript.mends] == [1]


@pytest.mark.parametrize("text", ["[0:04] S1: left knee", "[0:04] SPEAKER_00: left knee", "[0:04] Speaker 1: left knee"])
def test_numbered_speakers_are_known_at_once(text: str) -> None:
    assert [(row[0], row[3]) for row in rows(read_text(text))] == [("left knee", text[7:].split(":")[0])]


def test_named_speakers_are_known_where_they_recur() -> None:
    transcript = read_text(
        "[0:04] Nurse: Left?\n[0:06] Mr A. Bone: Left.\nLeft it is.\n\nAnd go.\n"
        "[0:20] Nurse: Noted.\n[0:22] Mr A. Bone: Nine.\n[0:25] Student: Why?\n[0:30] Nurse: Hush.\nMr A. Bone: A good question: it fits.\n"
    )
    assert [(row[0], row[3]) for row in rows(transcript)] == [
        ("Left?", "Nurse"),
        ("Left. Left it is.", "Mr A. Bone"),
        ("And go.", "Mr A. Bone"),
        ("Noted.", "Nurse"),
        ("Nine.", "Mr A. Bone"),
        ("Why?", "Student"),
        ("Hush.", "Nurse"),
        ("A good question: it fits.", "Mr A. Bone"),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "[0:01] Surgeon: Mr Bone.\n[0:04] Assistant: Miss Marrow.\n[0:06] Diagnosis: a torn ligament.\n",
        "[0:01] Left knee.\n[0:04] Screw: nine by twenty.\n[0:06] Screw: eight by twenty.\n[0:09] It held.\n[0:12] Done.\n",
    ],
)
def test_headings_are_not_speakers(text: str) -> None:
    transcript = read_text(text)
    assert [row[3] for row in rows(transcript)] == [None] * len(transcript.segments)
    assert all(row[0] in text for row in rows(transcript))


def test_the_kind_of_mark_is_the_files_own() -> None:
    assert mark_kind("[0:04] at 00:00:09 sharp\n[0:12] x") is SQUARE
    assert mark_kind("left knee") is None
