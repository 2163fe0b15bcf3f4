"""A recogniser's JSON. No standard: common practice."""

from __future__ import annotations

import json

import pytest

from opnote.errors import TranscriptError
from opnote.transcript.model import TimedWord
from tests.unit.transcript.transcript_cases import mended, read_text, rows


def test_segments_with_speakers() -> None:
    segments = [
        {"start": 1, "end": 2.5, "text": " Left knee.", "speaker": "S1"},
        {"start": 3.0004, "end": 4, "text": "Nine.", "speaker": 0},
    ]
    expected = [("Left knee.", 1.0, 2.5, "S1"), ("Nine.", 3.0, 4.0, "0")]
    for data in ({"segments": segments, "text": "ignored"}, segments):
        transcript = read_text(json.dumps(data))
        assert transcript.format == "recogniser json"
        assert rows(transcript) == expected
        assert transcript.mends == ()


def test_the_line_is_the_one_on_which_the_words_stand() -> None:
    text = '{"segments": [\n {"start": 0,\n  "text": "a \\"{ b",\n  "end": 1},\n {"end": 2, "start": 1, "text": "c"}]\n}'
    assert [segment.line for segment in read_text(text).segments] == [3, 5]


def test_words_with_times_and_confidence_get_their_places() -> None:
    words = [
        {"word": " left", "start": 1.0, "end": 1.2, "probability": 0.9},
        {"word": " knee", "start": 1.2, "end": 1.5, "confidence": 0.4},
        {"word": " mid", "start": 1.5, "end": 1.6},
        {"word": "-line", "start": 1.6, "end": 1.9, "score": 7},
    ]
    transcript = read_text(json.dumps([{"start": 1, "end": 2, "text": " Left  knee, mid-line.", "words": words}]))
    assert transcript.words == (
        TimedWord(0, 4, 1.0, 1.2, 0.9),
        TimedWord(5, 9, 1.2, 1.5, 0.4),
        TimedWord(11, 14, 1.5, 1.6, None),
        TimedWord(14, 19, 1.6, 1.9, None),
    )
    assert transcript.mends == ()


def test_words_under_one_time_share_it() -> None:
    words = [{"word": "twenty five", "start": 1, "end": 2, "confidence": 0.8}, {"word": "mm", "start": 2, "end": 3}]
    transcript = read_text(json.dumps([{"start": 1, "end": 3, "text": "Twenty five mm.", "words": words}]))
    assert transcript.words == (TimedWord(0, 6, 1.0, 1.6, 0.8), TimedWord(7, 11, 1.6, 2.0, 0.8), TimedWord(12, 14, 2.0, 3.0, None))


def test_a_word_that_the_text_does_not_hold_is_noted() -> None:
    words = [{"word": "left", "start": 1, "end": 2}, {"word": "hip", "start": 2, "end": 3}, {"word": "knee", "start": 3, "end": 4}]
    transcript = read_text(json.dumps([{"start": 1, "end": 4, "text": "left knee", "words": words}]))
    assert [(word.start, word.end) for word in transcript.words] == [(0, 4), (5, 9)]
    assert [mend.what for mend in transcript.mends] == ["a timed word does not stand in the segment's text; its time is left out"]


def test_a_segment_of_words_alone() -> None:
    words = [{"word": "left", "start": 1, "end": 2}, {"word": "knee", "start": 2, "end": 3}]
    transcript = read_text(json.dumps({"segments": [{"start": 1, "end": 3, "words": words}]}))
    assert rows(transcript) == [("left knee", 1.0, 3.0, None)]
    assert len(transcript.words) == 2


@pytest.mark.parametrize("key", ["word", "text"])
def test_words_alone_are_cut_at_pauses_and_where_another_speaks(key: str) -> None:
    words = [
        {key: "left", "start": 1, "end": 1.2},
        {key: "knee", "start": 1.3, "end": 1.5},
        {key: "nine", "start": 2.5, "end": 2.8},
        {key: "ten", "start": 2.9, "end": 3, "speaker": "S2"},
    ]
    transcript = read_text(json.dumps({"words": words}))
    assert rows(transcript) == [("left knee", 1.0, 1.5, None), ("nine", 2.5, 2.8, None), ("ten", 2.9, 3.0, "S2")]
    assert [word.start for word in transcript.words] == [0, 5, 10, 15]


@pytest.mark.parametrize(
    ("times", "expected"),
    [
        ('"start": "1.5", "end": "2.5"', (1.5, 2.5)),
        ('"start": -1, "end": 2', (None, 2.0)),
        ('"start": 1, "end": NaN', (1.0, None)),
        ('"start": 1, "end": 1e999', (1.0, None)),
        ('"start": true, "end": {}', (None, None)),
        ('"start": 3, "end": 2', (3.0, None)),
        ('"start": null', (None, None)),
        ('"start_time": 1, "end_time": 2', (1.0, 2.0)),
    ],
)
def test_times_that_are_none_are_left_out(times: str, expected: tuple[float | None, float | None]) -> None:
    transcript = read_text(f'[{{"text": "left knee", {times}}}]')
    assert (transcript.segments[0].start_s, transcript.segments[0].end_s) == expected


def test_a_time_that_is_no_number_is_noted() -> None:
    transcript = read_text('[\n{"text": "left knee", "start": "soon", "end": 2}]')
    assert mended(transcript) == [(2, "a time that is no number of seconds is left out")]


def test_entries_that_are_no_segments_are_noted() -> None:
    transcript = read_text('["x", {"text": "left knee", "start": 1, "end": 2}, {"text": "", "start": 2, "end": 3}]')
    assert transcript.text == "left knee"
    assert [mend.what for mend in transcript.mends] == ["entries that are no segments are left out"]


@pytest.mark.parametrize("lost", ['{"txt": "nine millimetres", "start": 2}', '{"text": null, "start": 2}', '{"start": 2, "end": 3}'])
def test_a_segment_whose_words_cannot_be_found_is_noted_with_its_line(lost: str) -> None:
    transcript = read_text('[{"text": "left knee", "start": 1, "end": 2},\n' + lost + "]")
    assert transcript.text == "left knee"
    assert [(mend.line, mend.what) for mend in transcript.mends] == [
        (2, "a segment without words, or with its words under an unknown name, is left out")
    ]


def test_escaped_controls_and_half_characters_do_not_reach_the_text() -> None:
    assert read_text('[{"text": "left\\u0000 \\ud800 \\u200bknee\\n", "start": 1}]').text == "left \ufffd knee"


@pytest.mark.parametrize(
    "text",
    [
        "{}",
        "[]",
        "[1, 2]",
        '["left knee"]',
        '{"a": 1}',
        '{"segments": []}',
        '{"segments": {"text": "x"}}',
        '[{"text": 7}]',
        '{"words": [[]]}',
    ],
)
def test_json_of_another_shape_is_refused(text: str) -> None:
    with pytest.raises(TranscriptError, match="holds no segments with words; give"):
        read_text(text)


@pytest.mark.parametrize(
    "text", ['{"segments": [\n{"text": "left', '{"a" 1}', "[" * 100_000, '[{"text": "a"}] b', '[{"start": ' + "9" * 5000 + "}]"]
)
def test_broken_json_is_refused_without_its_words(text: str) -> None:
    with pytest.raises(TranscriptError) as caught:
        read_text(text)
    assert "left" not in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_break_is_told_by_its_line() -> None:
    with pytest.raises(TranscriptError) as caught:
        read_text('{"segments": [\n{"text" "left"}]}')
    assert caught.value.line == 2
