"""Text without times: lines instead of seconds."""

from __future__ import annotations

from tests.unit.transcript.transcript_cases import read_text, rows


def test_a_line_is_a_segment_and_an_empty_line_a_paragraph() -> None:
    transcript = read_text("\nLeft knee.\nNine  by\ttwenty.\n\n \nDone.\n")
    assert transcript.format == "plain text"
    assert rows(transcript) == [("Left knee.", None, None, None), ("Nine by twenty.", None, None, None), ("Done.", None, None, None)]
    assert [(segment.line, segment.paragraph) for segment in transcript.segments] == [(2, False), (3, False), (6, True)]
    assert transcript.duration_s is None
    assert transcript.second_at(3) is None


def test_names_that_recur_are_speakers() -> None:
    transcript = read_text("S1: Left?\nS2: Left.\n\nS1: Noted,\nthen.\n")
    assert [(row[0], row[3]) for row in rows(transcript)] == [("Left?", "S1"), ("Left.", "S2"), ("Noted,", "S1"), ("then.", "S1")]


def test_the_headings_of_a_report_are_not_speakers() -> None:
    text = "Anesthesia: spinal.\nPosition: supine.\nS1: intact.\nComplications: none.\n"
    assert read_text(text).text == " ".join(text.split())


def test_text_that_only_looks_like_another_format_is_text() -> None:
    for text in ("<inaudible> left knee", "[12] left knee", "{nine} by twenty", "a --> b", "9 8 7.5 6.5 x y z w"):
        transcript = read_text(text)
        assert (transcript.format, transcript.text, transcript.mends) == ("plain text", text, ())
