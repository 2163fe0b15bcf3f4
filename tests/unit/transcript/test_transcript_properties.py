"""What holds for any input: no crash, places that fit, and files that say what was put into them."""

from __future__ import annotations

import json

from hypothesis import given
from hypothesis import strategies as st

from opnote.errors import TranscriptError
from opnote.transcript import Transcript, read_bytes

HEADS = (
    "",
    "WEBVTT\n\n",
    "WEBVTT\n\n00:01.000 --> 00:02.000\n",
    "1\n00:00:01,000 --> 00:00:02,000\n",
    "[0:04] ",
    "00:00:04 a\n00:00:09 ",
    "c A 0.1 0.2 ",
    '"ooTextFile"\n"TextGrid"\n0 9 <exists> 1\n"IntervalTier" "words" 0 9 2\n0 1 "a" 1 ',
)
JSON_HEADS = ('{"segments": [', '[{"text": "a", "words": [', "<tt><body><p begin='1s'>", "<tt><body><p>a</p><p>")
#: What the formats give a meaning to; text is made of it.
TOKENS = (
    *("-->", "->", "<v ", "<", ">", "</", "&", "&amp;", ";", ":", "00:01", ".000", ",5", "[0:0", "]", "(1:02)", "NOTE ", "STYLE", "WEBVTT"),
    *("\n", "\n\n", "\r", " ", "\t", "\u200b", "\x00", "\ufeff", "\u2028", "\x85", "\x1c", "\u00bd", "left", "9", "12", "- ", "-5"),
    *("S1: ", "Nurse: ", ";;", '"', "{", "}", "\\", '"text": "b"', '"start": 1', ",", "</p>", "<p>", "<br/>", "{\\an8}", "<ALT>"),
)
PROVOKING = st.lists(st.sampled_from(TOKENS), max_size=40).map("".join)


def check(transcript: Transcript) -> None:
    """The invariants of a transcript."""
    assert transcript.text == " ".join(transcript.text.split())
    assert transcript.text
    parts = [transcript.text[segment.start : segment.end] for segment in transcript.segments]
    assert " ".join(parts) == transcript.text
    assert all(part and part == part.strip() for part in parts)
    assert all(segment.start_s is None or segment.end_s is None or segment.start_s <= segment.end_s for segment in transcript.segments)
    places = [(word.start, word.end) for word in transcript.words]
    assert places == sorted(places)
    assert all(0 <= start < end <= len(transcript.text) and " " not in transcript.text[start:end] for start, end in places)
    assert transcript.text.encode()


def read_or_refuse(data: bytes) -> None:
    try:
        check(read_bytes(data, name="case"))
    except TranscriptError as error:
        refusal = error
    else:
        return
    assert "\n" not in str(refusal)
    assert refusal.hint


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    read_or_refuse(data)


@given(st.sampled_from(HEADS + JSON_HEADS), st.text(max_size=200))
def test_any_text_is_read_or_refused(head: str, text: str) -> None:
    read_or_refuse((head + text).encode())


@given(st.sampled_from(HEADS + JSON_HEADS), PROVOKING)
def test_any_heap_of_markup_is_read_or_refused(head: str, text: str) -> None:
    read_or_refuse((head + text).encode("utf-8", "surrogatepass"))


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12),
        lambda inner: (
            st.lists(inner, max_size=4)
            | st.dictionaries(
                st.sampled_from(["segments", "words", "text", "word", "start", "end", "speaker", "confidence"]), inner, max_size=5
            )
        ),
        max_leaves=20,
    )
)
def test_any_json_is_read_or_refused(data: object) -> None:
    read_or_refuse(json.dumps(data).encode())


WORDS = st.lists(st.text("abcdefgh\u00e9", min_size=1, max_size=8), min_size=1, max_size=6).map(" ".join)
CUES = st.lists(st.tuples(st.integers(0, 5_000), st.integers(1, 9_000), WORDS), min_size=1, max_size=8)


def timed(cues: list[tuple[int, int, str]]) -> list[tuple[str, float, float]]:
    """Cues one behind the other: words, begin and end in seconds, from gaps and lengths in milliseconds."""
    told, at = [], 0
    for gap, length, words in cues:
        told.append((words, (at + gap) / 1000, (at + gap + length) / 1000))
        at += gap + length
    return told


def clock(second: float, mark: str) -> str:
    ms = round(second * 1000)
    return f"{ms // 3_600_000:02}:{ms // 60_000 % 60:02}:{ms // 1000 % 60:02}{mark}{ms % 1000:03}"


@given(CUES)
def test_cues_come_back_from_every_format(cues: list[tuple[int, int, str]]) -> None:
    told = timed(cues)
    vtt = "WEBVTT\n\n" + "".join(f"{clock(start, '.')} --> {clock(end, '.')}\n{words}\n\n" for words, start, end in told)
    srt = "".join(f"{n}\n{clock(start, ',')} --> {clock(end, ',')}\n{words}\n\n" for n, (words, start, end) in enumerate(told, start=1))
    ttml = "".join(f'<p begin="{clock(start, ".")}" end="{clock(end, ".")}">{words}</p>' for words, start, end in told)
    as_json = json.dumps({"segments": [{"start": start, "end": end, "text": words} for words, start, end in told]})
    for text in (vtt, srt, f"<tt><body><div>{ttml}</div></body></tt>", as_json):
        transcript = read_bytes(text.encode(), name="case")
        assert [(transcript.text[s.start : s.end], s.start_s, s.end_s) for s in transcript.segments] == told
        assert transcript.mends == ()


@given(CUES)
def test_two_readings_are_equal(cues: list[tuple[int, int, str]]) -> None:
    data = json.dumps([{"start": start, "end": end, "text": words} for words, start, end in timed(cues)]).encode()
    assert read_bytes(data, name="case") == read_bytes(data, name="case")
