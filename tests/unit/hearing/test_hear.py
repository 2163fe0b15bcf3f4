"""What holds for every dictation: the edits replay, spaces stay single, spans map back, the same words give the same reading."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from opnote.hearing import Heard, hear, replay
from opnote.hearing.protected import is_number
from opnote.hearing.words import words_of
from opnote.lexicon import Lexicon, load
from opnote.spans import TextSpan
from opnote.transcript.model import Segment, TimedWord, Transcript

LEXICON = load()
NEGATIONS = {word for entry in LEXICON.opposites if entry.id == "negations" for forms in entry.words for word in forms}
SPOKEN = sorted(
    {phrase for layout in LEXICON.layouts for phrase in layout.said}
    | {phrase for filler in LEXICON.fillers for phrase in filler.said}
    | {phrase for entry in LEXICON.mishearings for phrase in entry.heard}
    | {"the", "a", "to", "for", "two", "eight", "8.5", "left", "no", "not", "graft,", "tunnel.", "it", "was", "and", "so", "Um,", "period."}
    | {"(", "-", "comma's", "seven-by", "(um)", "x\u2014y", "7,5", "lot", "A"}
)
DICTATIONS = st.one_of(
    st.lists(st.sampled_from(SPOKEN), max_size=60).map(lambda parts: " ".join(" ".join(parts).split())),
    st.text(max_size=200).map(lambda text: " ".join(text.split())),
)


def transcript_of(text: str, words: tuple[TimedWord, ...] = ()) -> Transcript:
    return Transcript("dictation", "test", "", "text", text, (Segment(0, len(text)),), words)


def whole(heard: Heard) -> str:
    """The heard text put together from its pieces: what no edit touches stands in the dictation as it stands here."""
    return replay(heard.transcript.text, heard.edits)


@settings(max_examples=300, deadline=None)
@given(DICTATIONS)
def test_any_dictation_is_heard_by_the_rules_of_the_house(text: str) -> None:
    result = hear(transcript_of(text), LEXICON)
    assert whole(result) == result.text
    assert result.text == " ".join(result.text.split())
    assert all(one.raw.end <= two.raw.start for one, two in zip(result.edits, result.edits[1:], strict=False))
    assert all(edit.raw.end <= len(text) and edit.why for edit in result.edits)
    assert result == hear(transcript_of(text), LEXICON)
    for reading in result.readings:
        assert result.text[reading.text.start : reading.text.end].lower() in {option.lower() for option, _ in reading.options}


@settings(max_examples=200, deadline=None)
@given(DICTATIONS)
def test_words_that_no_edit_touches_map_back_to_themselves(text: str) -> None:
    result = hear(transcript_of(text), LEXICON)
    edited = [(edit.raw.start, edit.raw.end) for edit in result.edits]
    for word in words_of(result.text):
        raw = result.raw(TextSpan(word.start, word.end))
        if not any(start < raw.end and raw.start < end for start, end in edited):
            assert text[raw.start : raw.end] == result.text[word.start : word.end]


@settings(max_examples=300, deadline=None)
@given(DICTATIONS)
def test_no_number_and_no_negation_is_lost_without_a_question(text: str) -> None:
    """Those dictated are all still there (lexicons/mishearings/README.md: one number is never made another)."""
    result = hear(transcript_of(text), LEXICON)
    for edit in result.edits:
        before = {word.low for word in words_of(text[edit.raw.start : edit.raw.end]) if is_number(word.low) or word.low in NEGATIONS}
        after = {word.low for word in words_of(edit.read_as)}
        assert before <= after or edit.ask


def test_an_empty_dictation_is_heard_as_empty(heard: Callable[[str], Heard]) -> None:
    assert heard("").text == ""


def test_an_edited_word_maps_back_to_all_it_replaced(heard: Callable[[str], Heard]) -> None:
    result = heard("um the semi tendinosis was long")
    start = result.text.index("semitendinosus")
    raw = result.raw(TextSpan(start, start + len("semitendinosus")))
    assert result.transcript.quote(raw) == "semi tendinosis"


def test_a_long_sentence_does_not_end_spoken_punctuation(heard: Callable[[str], Heard]) -> None:
    formal = "report period left knee comma supine period " * 20
    talk = "so we went on and on without a stop " * 8
    assert heard(f"{formal}{talk}then it ended period").text.endswith("then it ended.")


def test_one_layout_word_in_long_talk_after_a_dictation_stays_a_word(heard: Callable[[str], Heard]) -> None:
    formal = "report period left knee comma supine period "
    talk = "so we went on and on without a stop " * 20
    assert heard(f"{formal}{talk}then it ended period").text.endswith("then it ended period")


def test_an_edit_says_why_and_what_kind_it_is(heard: Callable[[str], Heard]) -> None:
    result = heard("so so um the graph held a various load")
    assert [(edit.kind, edit.why, edit.ask) for edit in result.edits] == [
        ("restart", "said-twice", False),
        ("filler", "filler-um", False),
        ("repair", "graft-from-graph", False),
        ("repair", "varus-from-various", True),
    ]


def test_a_doubtful_word_is_kept_and_given_its_readings(heard: Callable[[str], Heard]) -> None:
    result = heard("um backed up with a stable on the tibia")
    assert result.text == "backed up with a stable on the tibia"
    (reading,) = result.readings
    assert result.text[reading.text.start : reading.text.end] == reading.options[0][0]


@pytest.mark.parametrize(
    ("text", "unsure"),
    [
        ("um the left knee was opened", ["left"]),
        ("reamed to eight. then closed", ["eight."]),
        ("there was no drain", ["no"]),
        ("the pin went in", []),
        ("the wound was closed well", []),
    ],
)
def test_what_the_recogniser_was_unsure_of_is_a_doubt_where_a_meaning_hangs_on_it(text: str, unsure: list[str], lexicon: Lexicon) -> None:
    places = [(word, text.index(word)) for word in text.split()]
    words = tuple(TimedWord(at, at + len(word), 0.0, 0.1, 0.3 if word in unsure or word == "pin" else 0.9) for word, at in places)
    result = hear(transcript_of(text, words), lexicon)
    assert [result.text[r.text.start : r.text.end] for r in result.readings if r.why == "recogniser-unsure"] == unsure
