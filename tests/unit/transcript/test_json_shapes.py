"""The shapes of recognisers' JSON, described by what they look like. No standard: common practice.

All say the same: "Left knee, nine." from 1 to 3 s, and "Ten." from 5 to 5.5 s.
"""

from __future__ import annotations

import json

import pytest

from opnote.errors import TranscriptError
from tests.unit.transcript.transcript_cases import mended, read_text, rows

LEFT = ("Left", 1.0, 1.5)
KNEE = ("knee", 1.5, 2.0)
NINE = ("nine", 2.0, 3.0)
TEN = ("Ten", 5.0, 5.5)

#: Sentences with their own times, each shape of a row.
SENTENCES: dict[str, object] = {
    "chunks with pairs of seconds": {
        "text": "Left knee, nine. Ten.",
        "chunks": [{"timestamp": [1.0, 3.0], "text": " Left knee, nine."}, {"timestamp": [5.0, 5.5], "text": " Ten."}],
    },
    "rows with clock times and milliseconds": {
        "transcription": [
            {
                "timestamps": {"from": "00:00:01,000", "to": "00:00:03,000"},
                "offsets": {"from": 1000, "to": 3000},
                "text": " Left knee, nine.",
            },
            {"timestamps": {"from": "00:00:05,000", "to": "00:00:05,500"}, "offsets": {"from": 5000, "to": 5500}, "text": " Ten."},
        ]
    },
    "rows with clock times alone": [
        {"timestamps": {"from": "00:00:01.000", "to": "00:00:03.000"}, "text": "Left knee, nine."},
        {"timestamps": {"from": "00:00:05.000", "to": "00:00:05.500"}, "text": "Ten."},
    ],
    "fragments with lines": {
        "fragments": [
            {"begin": "1.000", "end": "3.000", "lines": ["Left knee,", "nine."], "id": "f1"},
            {"begin": "5.000", "end": "5.500", "lines": ["Ten."], "id": "f2"},
        ]
    },
    "a version and a list of bodies": {
        "version": "1.0.0",
        "segments": [{"startTime": 1, "endTime": 3, "body": "Left knee, nine."}, {"startTime": 5, "endTime": 5.5, "body": "Ten."}],
    },
    "phrases with milliseconds by name": {
        "durationMilliseconds": 6000,
        "combinedPhrases": [{"text": "Left knee, nine. Ten."}],
        "phrases": [
            {"offsetMilliseconds": 1000, "durationMilliseconds": 2000, "text": "Left knee, nine."},
            {"offsetMilliseconds": 5000, "durationMilliseconds": 500, "text": "Ten."},
        ],
    },
    "phrases with readings and durations of ISO 8601": {
        "combinedRecognizedPhrases": [{"display": "Left knee, nine. Ten."}],
        "recognizedPhrases": [
            {"offset": "PT1S", "duration": "PT2S", "nBest": [{"confidence": 0.9, "display": "Left knee, nine."}, {"display": "Leaf"}]},
            {"offset": "PT0M5S", "duration": "PT0.5S", "nBest": [{"confidence": 0.9, "display": "Ten."}]},
        ],
    },
    "a line of JSON for each phrase, in ticks": "\n".join(
        json.dumps({"Offset": offset, "Duration": length, "NBest": [{"Display": text}]})
        for offset, length, text in ((10_000_000, 20_000_000, "Left knee, nine."), (50_000_000, 5_000_000, "Ten."))
    ),
    "events of parts": {
        "events": [
            {"tStartMs": 1000, "dDurationMs": 2000, "segs": [{"utf8": "Left"}, {"utf8": " knee,", "tOffsetMs": 500}, {"utf8": " nine."}]},
            {"tStartMs": 5000, "dDurationMs": 500, "segs": [{"utf8": "Ten."}]},
        ]
    },
    "seconds in words": [{"start": "1s", "end": "3s", "text": "Left knee, nine."}, {"start": "5.0s", "end": "5.500s", "text": "Ten."}],
    "whole seconds and billionths": [
        {"start": {"seconds": 1}, "end": {"seconds": "3", "nanos": 0}, "text": "Left knee, nine."},
        {"start": {"seconds": 5}, "end": {"seconds": 5, "nanos": 500_000_000}, "text": "Ten."},
    ],
    "a length in place of an end": [{"start": 1, "duration": 2, "text": "Left knee, nine."}, {"start": 5, "dur": 0.5, "text": "Ten."}],
    "a wrapper around segments": {
        "status": "ok",
        "result": {"data": {"segments": [{"start": 1, "end": 3, "text": "Left knee, nine."}, {"start": 5, "end": 5.5, "text": "Ten."}]}},
    },
    "no sentences, and segments behind": {
        "utterances": None,
        "segments": [{"start": 1, "end": 3, "text": "Left knee, nine."}, {"start": 5, "end": 5.5, "text": "Ten."}],
    },
}

#: Words with times and marks on their own, each shape of a word.
WORDS: dict[str, object] = {
    "results of alternatives with words": {
        "results": [
            {
                "alternatives": [
                    {
                        "transcript": "Left knee, nine.",
                        "confidence": 0.9,
                        "words": [
                            {"word": "Left", "startTime": "1s", "endTime": "1.500s"},
                            {"word": "knee,", "startTime": "1.500s", "endTime": "2s"},
                            {"word": "nine.", "startTime": "2s", "endTime": "3s"},
                        ],
                    },
                    {"transcript": "Leaf me nine."},
                ],
                "resultEndTime": "3s",
            },
            {"alternatives": [{"transcript": " Ten.", "words": [{"word": "Ten.", "startTime": "5s", "endTime": "5.500s"}]}]},
        ]
    },
    "results of alternatives with lists": {
        "result_index": 0,
        "results": [
            {
                "final": True,
                "alternatives": [
                    {
                        "transcript": "Left knee, nine. ",
                        "timestamps": [["Left", 1.0, 1.5], ["knee,", 1.5, 2.0], ["nine.", 2.0, 3.0]],
                        "word_confidence": [["Left", 0.9], ["knee,", 0.8], ["nine.", 0.7]],
                    }
                ],
            },
            {"final": True, "alternatives": [{"transcript": "Ten. ", "timestamps": [["Ten.", 5.0, 5.5]]}]},
        ],
    },
    "monologues of elements": {
        "monologues": [
            {
                "speaker": 0,
                "elements": [
                    {"type": "text", "value": "Left", "ts": 1.0, "end_ts": 1.5, "confidence": 0.9},
                    {"type": "punct", "value": " "},
                    {"type": "text", "value": "knee", "ts": 1.5, "end_ts": 2.0, "confidence": 0.9},
                    {"type": "punct", "value": ", "},
                    {"type": "text", "value": "nine", "ts": 2.0, "end_ts": 3.0, "confidence": 0.9},
                    {"type": "punct", "value": "."},
                ],
            },
            {"speaker": 0, "elements": [{"type": "text", "value": "Ten", "ts": 5.0, "end_ts": 5.5}, {"type": "punct", "value": "."}]},
        ]
    },
    "items nested in results": {
        "results": {
            "transcripts": [{"transcript": "Left knee, nine. Ten."}],
            "items": [
                {"start_time": "1.0", "end_time": "1.5", "alternatives": [{"confidence": "0.9", "content": "Left"}], "type": "word"},
                {"start_time": "1.5", "end_time": "2.0", "alternatives": [{"confidence": "0.9", "content": "knee"}], "type": "word"},
                {"alternatives": [{"confidence": "0.0", "content": ","}], "type": "punctuation"},
                {"start_time": "2.0", "end_time": "3.0", "alternatives": [{"confidence": "0.9", "content": "nine"}], "type": "word"},
                {"alternatives": [{"confidence": "0.0", "content": "."}], "type": "punctuation"},
                {"start_time": "5.0", "end_time": "5.5", "alternatives": [{"confidence": "0.9", "content": "Ten"}], "type": "word"},
                {"alternatives": [{"confidence": "0.0", "content": "."}], "type": "punctuation"},
            ],
        },
        "status": "done",
    },
    "a flat list of words and marks": {
        "format": "2.9",
        "results": [
            {"type": "word", "start_time": 1.0, "end_time": 1.5, "alternatives": [{"content": "Left", "confidence": 0.9}]},
            {"type": "word", "start_time": 1.5, "end_time": 2.0, "alternatives": [{"content": "knee", "confidence": 0.9}]},
            {"type": "punctuation", "start_time": 2.0, "end_time": 2.0, "alternatives": [{"content": ",", "confidence": 0.9}]},
            {"type": "word", "start_time": 2.0, "end_time": 3.0, "alternatives": [{"content": "nine", "confidence": 0.9}]},
            {"type": "punctuation", "start_time": 3.0, "end_time": 3.0, "alternatives": [{"content": ".", "confidence": 0.9}]},
            {"type": "word", "start_time": 5.0, "end_time": 5.5, "alternatives": [{"content": "Ten", "confidence": 0.9}]},
            {"type": "punctuation", "start_time": 5.5, "end_time": 5.5, "alternatives": [{"content": ".", "confidence": 0.9}]},
        ],
    },
    "channels of alternatives with words as they are written": {
        "results": {
            "channels": [
                {
                    "alternatives": [
                        {
                            "words": [
                                {"word": "left", "punctuated_word": "Left", "start": 1.0, "end": 1.5, "confidence": 0.9},
                                {"word": "knee", "punctuated_word": "knee,", "start": 1.5, "end": 2.0, "confidence": 0.9},
                                {"word": "nine", "punctuated_word": "nine.", "start": 2.0, "end": 3.0, "confidence": 0.9},
                                {"word": "ten", "punctuated_word": "Ten.", "start": 5.0, "end": 5.5, "confidence": 0.9},
                            ],
                        }
                    ]
                }
            ]
        }
    },
    "a list named result, and a line of JSON for each": "\n".join(
        json.dumps(
            {
                "result": [{"conf": 0.9, "word": word, "start": start, "end": end} for word, start, end in said],
                "text": " ".join(w for w, _, _ in said),
            }
        )
        for said in (((("Left"), 1.0, 1.5), ("knee,", 1.5, 2.0), ("nine.", 2.0, 3.0)), (("Ten.", 5.0, 5.5),))
    ),
    "words aligned to a text": {
        "transcript": "Left knee, nine. Ten.",
        "words": [
            {"case": "success", "word": word, "start": start, "end": end, "startOffset": 0}
            for word, start, end in (("Left", 1.0, 1.5), ("knee,", 1.5, 2.0), ("nine.", 2.0, 3.0), ("Ten.", 5.0, 5.5))
        ],
    },
}


def text_of(data: object) -> str:
    return data if isinstance(data, str) else json.dumps(data, indent=1)


@pytest.mark.parametrize("shape", SENTENCES)
def test_sentences_of_every_shape(shape: str) -> None:
    transcript = read_text(text_of(SENTENCES[shape]))
    assert rows(transcript) == [("Left knee, nine.", 1.0, 3.0, None), ("Ten.", 5.0, 5.5, None)]
    assert transcript.mends == ()


@pytest.mark.parametrize("shape", WORDS)
def test_words_of_every_shape(shape: str) -> None:
    transcript = read_text(text_of(WORDS[shape]))
    speaker = "0" if "monologues" in shape else None
    assert rows(transcript) == [("Left knee, nine.", 1.0, 3.0, speaker), ("Ten.", 5.0, 5.5, speaker)]
    places = [(transcript.text[word.start : word.end].strip(".,"), word.start_s, word.end_s) for word in transcript.words]
    assert places == [LEFT, KNEE, NINE, TEN]
    assert transcript.mends == ()


def test_the_line_is_the_one_on_which_the_words_stand() -> None:
    transcript = read_text('{"results": [\n{"alternatives": [\n{"transcript": "left"}]},\n{"alternatives": [{\n"transcript": "knee"}]}]}')
    assert [segment.line for segment in transcript.segments] == [3, 5]


@pytest.mark.parametrize("key", ["speaker", "speaker_label", "speakerTag", "speakerId", "speaker_id"])
def test_words_that_tell_another_speaker_cut_a_sentence(key: str) -> None:
    words = [
        {"word": "left", "start": 1, "end": 1.5, key: 1},
        {"word": "which", "start": 1.5, "end": 2, key: 2},
        {"word": "size", "start": 2, "end": 3, key: 2},
    ]
    data = {"results": [{"alternatives": [{"transcript": "Left? Which size?", "words": words}]}]}
    assert rows(read_text(json.dumps(data))) == [("Left?", 1.0, 1.5, "1"), ("Which size?", 1.5, 3.0, "2")]


def test_one_speaker_of_all_words_is_the_sentences() -> None:
    data = [{"text": "Left knee.", "start": 1, "end": 2, "words": [{"word": "Left", "start": 1, "end": 2, "speaker": "A"}]}]
    assert rows(read_text(json.dumps(data))) == [("Left knee.", 1.0, 2.0, "A")]


@pytest.mark.parametrize(
    "labels",
    [
        [{"from": 0.5, "to": 2.0, "speaker": 0, "final": True}, {"from": 2.0, "to": 9, "speaker": 1}],
        {
            "speakers": 2,
            "segments": [
                {"start_time": "0.5", "end_time": "2.0", "speaker_label": "0"},
                {"start_time": "2", "end_time": "9", "speaker_label": "1"},
            ],
        },
    ],
)
def test_speakers_told_apart_from_the_words(labels: object) -> None:
    items = [
        {"start_time": "1.0", "end_time": "1.5", "alternatives": [{"content": "left"}], "type": "word"},
        {"start_time": "2.0", "end_time": "3.0", "alternatives": [{"content": "which"}], "type": "word"},
    ]
    data = {"results": {"speaker_labels": labels, "items": items}}
    assert [(row[0], row[3]) for row in rows(read_text(json.dumps(data)))] == [("left", "0"), ("which", "1")]


def test_a_last_result_that_has_all_words_again_tells_the_speakers() -> None:
    words = [{"word": "left", "startTime": "1s", "endTime": "2s"}, {"word": "which", "startTime": "2s", "endTime": "3s"}]
    again = [{**word, "speakerTag": number} for number, word in enumerate(words, start=1)]
    data = {"results": [{"alternatives": [{"transcript": "left which", "words": words}]}, {"alternatives": [{"words": again}]}]}
    assert [(row[0], row[3]) for row in rows(read_text(json.dumps(data)))] == [("left", "1"), ("which", "2")]


def test_channels_speak_in_the_order_of_time() -> None:
    def channel(*words: tuple[str, float, float]) -> object:
        told = [{"word": word, "start": start, "end": end} for word, start, end in words]
        return {"alternatives": [{"transcript": " ".join(word for word, _, _ in words), "words": told}]}

    data = {"results": {"channels": [channel(("left", 1, 1.5), ("nine", 6, 6.5)), channel(("which", 2.5, 3), ("size", 3, 3.5))]}}
    assert [(row[0], row[3]) for row in rows(read_text(json.dumps(data)))] == [("left", "1"), ("which size", "2"), ("nine", "1")]


def test_sentences_of_one_channel_behind_the_others_speak_in_the_order_of_time() -> None:
    data = [{"channel": c, "start": s, "end": s + 1, "text": t} for c, s, t in ((0, 1, "Left."), (0, 5, "Nine."), (1, 3, "Which?"))]
    assert [(row[0], row[3]) for row in rows(read_text(json.dumps(data)))] == [("Left.", "0"), ("Which?", "1"), ("Nine.", "0")]


def test_whole_outputs_one_behind_the_other_keep_their_times() -> None:
    lines = [json.dumps({"text": text, "segments": [{"start": s, "end": s + 1, "text": text}]}) for s, text in ((1, "Left."), (3, "Nine."))]
    assert rows(read_text("\n".join(lines))) == [("Left.", 1.0, 2.0, None), ("Nine.", 3.0, 4.0, None)]


def test_confidence_comes_with_the_words() -> None:
    transcript = read_text(text_of(WORDS["results of alternatives with lists"]))
    assert [word.confidence for word in transcript.words] == [0.9, 0.8, 0.7, None]


def test_results_written_while_listening_are_left_out() -> None:
    data = {
        "results": [{"final": False, "alternatives": [{"transcript": "leaf"}]}, {"final": True, "alternatives": [{"transcript": "left"}]}]
    }
    transcript = read_text(json.dumps(data))
    assert transcript.text == "left"
    assert mended(transcript) == [(None, "results that the recogniser wrote before its final ones are left out")]


def test_where_nothing_is_final_all_is_read() -> None:
    assert read_text('{"results": [{"final": false, "alternatives": [{"transcript": "left"}]}]}').text == "left"


def test_whole_numbers_too_long_for_their_words_are_milliseconds() -> None:
    words = [
        {"text": "Left", "start": 1000, "end": 1500},
        {"text": "knee,", "start": 1500, "end": 2000},
        {"text": "nine.", "start": 2000, "end": 3000},
    ]
    data = {"utterances": [{"speaker": "A", "start": 1000, "end": 3000, "text": "Left knee, nine.", "words": words}]}
    transcript = read_text(json.dumps(data))
    assert rows(transcript) == [("Left knee, nine.", 1.0, 3.0, "A")]
    assert [(word.start_s, word.end_s) for word in transcript.words] == [(1.0, 1.5), (1.5, 2.0), (2.0, 3.0)]
    assert mended(transcript) == [(None, "the times are whole numbers, too long for the words under them; they are read as milliseconds")]


@pytest.mark.parametrize("times", [(1000, 1090), (1000.5, 3000.5), (1000.0, 3000.0), (1000, None)])
def test_other_long_times_stay_seconds(times: tuple[float, float | None]) -> None:
    transcript = read_text(json.dumps([{"start": times[0], "end": times[1], "text": "Left knee, nine."}]))
    assert rows(transcript)[0][1:3] == times


@pytest.mark.parametrize(
    "data",
    [{"text": "Left knee."}, {"transcript": "Left knee.", "confidence": 0.9}, {"results": {"transcripts": [{"transcript": "Left knee."}]}}],
)
def test_a_text_without_times(data: object) -> None:
    assert rows(read_text(json.dumps(data))) == [("Left knee.", None, None, None)]


@pytest.mark.parametrize(
    "text",
    [
        '{"a": {"b": {"text": "left"}}}',
        '{"results": [{"alternatives": []}]}',
        '{"monologues": [{"elements": []}]}',
        '{"words": "left"}',
        '{"items": [{"type": "punctuation", "content": ","}]}',
    ],
)
def test_a_shape_without_speech_is_refused(text: str) -> None:
    with pytest.raises(TranscriptError, match="no segments with words"):
        read_text(text)
