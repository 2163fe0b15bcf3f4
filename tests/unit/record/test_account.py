"""The account: every word in exactly one row, whatever was said and whoever said it."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from opnote.hearing.model import Edit, Heard
from opnote.record.account import NAME, account, read, runs
from opnote.record.fates import BACK, IDLE, Cover, Fate, fates
from opnote.record.model import AccountRow
from opnote.spans import RawSpan
from opnote.transcript import Transcript, read_bytes
from tests.unit.record.told import transcript, understood

WORDS = st.sampled_from(
    "the femoral tunnel was reamed to eight nine millimetres no correction um, and you could use a screw ? . , left right comma "
    "we did not lot K 41 72 new paragraph scratch that football on Saturday é \u00b5 -- 2.5".split()
)
TURN = st.tuples(st.sampled_from(["Surgeon", "Nurse", None]), st.lists(WORDS, min_size=1, max_size=12).map(" ".join))


def _rows(read_: Transcript) -> list[AccountRow]:
    return list(account(*understood(read_)))


def _told(text: str) -> list[tuple[str, str]]:
    return [(row.status, row.quote) for row in _rows(transcript(text))]


def _dialogue(turns: list[tuple[str | None, str]]) -> Transcript:
    segments = [
        {"start": 4.0 * place, "end": 4.0 * place + 3, "text": text, **({"speaker": who} if who else {})}
        for place, (who, text) in enumerate(turns)
    ]
    return read_bytes(json.dumps({"segments": segments}).encode(), name="talk.json")


def _labelled(turns: list[tuple[str | None, str]]) -> Transcript:
    lines = [f"[0:{place:02d}] {f'{who}: ' if who else ''}{text}" for place, (who, text) in enumerate(turns)]
    return read_bytes("\n".join(lines).encode(), name="talk.txt")


def _tiles(source: Transcript, rows: list[AccountRow]) -> None:
    wide = [row for row in rows if row.chars[1] > row.chars[0]]
    assert [word for row in wide for word in row.quote.split()] == source.text.split()
    assert all(row.quote == source.text[slice(*row.chars)] == row.quote.strip() for row in wide)
    assert all(first.chars[1] < second.chars[0] for first, second in pairwise(wide))
    assert all(row.reason == NAME for row in rows if row not in wide)


def test_values_are_used_and_the_words_between_them_narrative() -> None:
    assert _told("We reamed the femoral tunnel to nine millimetres.") == [
        ("narrative", "We reamed the"),
        ("used", "femoral"),
        ("narrative", "tunnel to"),
        ("used", "nine millimetres."),
    ]


@pytest.mark.parametrize(
    ("said", "row"),
    [
        ("The um tibial tunnel was nine millimetres.", ("filler", "", "um")),
        ("The tibial tunnel was eight, correction, nine millimetres.", ("set aside", BACK, "eight, correction,")),
        ("The graft was eight comma correction comma nine millimetres period", ("set aside", BACK, "eight comma correction comma")),
        ("Was the graft eight or nine?", ("set aside", "a question", "Was the graft eight or nine?")),
        ("My bicycle has a flat tyre.", ("set aside", IDLE, "My bicycle has a flat tyre.")),
        ("No loose body was seen.", ("narrative", "", "No loose body was seen.")),
    ],
)
def test_each_fate_has_its_reason(said: str, row: tuple[str, str, str]) -> None:
    assert row in [(one.status, one.reason, one.quote) for one in _rows(transcript(said))]


def test_a_spoken_mark_is_read_in_its_own_row() -> None:
    rows = _rows(transcript("The graft was passed period The knee was cycled comma and the screw went in period"))
    assert [(row.quote, row.read) for row in rows if row.status == "filler"] == [("period", "."), ("comma", ","), ("period", ".")]


@pytest.mark.parametrize(
    ("stretch", "text"),
    [
        ("the peak screw comma then um it held", "the PEEK screw, then it held"),
        ("peak", "PEEK"),
        ("the", "the"),
        ("screw", "screw"),
        ("comma", ","),
        ("comma then", ", then"),
        ("um", ""),
        ("um it held", "it held"),
    ],
)
def test_an_edit_is_read_where_its_first_word_stands(stretch: str, text: str) -> None:
    spoken = transcript("the peak screw comma then um it held")
    edits = [(" comma", ",", "layout"), (" um", "", "filler")]
    made = [Edit(RawSpan(4, 8), "PEEK", "repair", "test")]
    made += [Edit(RawSpan(at := spoken.text.index(said), at + len(said)), read_as, kind, "test") for said, read_as, kind in edits]
    start = spoken.text.index(stretch)
    assert read(Heard(spoken, "the PEEK screw, then it held", tuple(made)), RawSpan(start, start + len(stretch))) == text


def test_names_in_the_file_are_rows_of_no_width() -> None:
    rows = _rows(_labelled([("Surgeon", "Left knee."), ("Nurse", "Left."), ("Surgeon", "Good, scope please."), ("Nurse", "Here.")]))
    names = [row for row in rows if row.reason == NAME]
    assert [row.quote for row in names] == ["Surgeon:", "Nurse:", "Surgeon:", "Nurse:"]
    assert all(row.chars[0] == row.chars[1] and row.start_s is not None for row in names)


def test_each_of_two_short_turns_of_one_speaker_has_its_name() -> None:
    source = _labelled([("Nurse", "Yes"), ("Nurse", "Yes"), ("Surgeon", "Good"), ("Surgeon", "Good"), ("Nurse", "Yes")])
    rows = _rows(source)
    assert [row.quote for row in rows if row.reason == NAME] == ["Nurse:", "Nurse:", "Surgeon:", "Surgeon:", "Nurse:"]
    _tiles(source, rows)


def test_words_of_one_fate_are_one_run_up_to_a_break() -> None:
    words = [Fate(place, place + 1, "narrative", "", 0) for place in (0, 2, 4)] + [Fate(6, 7, "used", "", 0)]
    assert [[word.start for word in run] for run in runs(words, breaks={4})] == [[0, 2], [4], [6]]
    assert list(runs([], breaks=())) == []


def test_a_word_of_two_statements_is_in_one_row() -> None:
    """ "flexion.The" is one word of the file, with the end of one statement and the beginning of the next in it."""
    source = transcript("The knee was held in flexion.The graft was fixed.")
    _tiles(source, _rows(source))


def test_nothing_said_is_accounted_for_by_nothing() -> None:
    made = read_bytes(b"[0:01] ...", name="x.txt")
    _tiles(made, _rows(made))


@given(st.lists(st.tuples(st.integers(0, 30), st.integers(0, 10)), max_size=5), st.integers(0, 39), st.integers(1, 10))
def test_cover_says_what_a_set_of_characters_says(given_: list[tuple[int, int]], start: int, width: int) -> None:
    spans = [RawSpan(at, at + size) for at, size in given_]
    covered = {place for span in spans for place in range(span.start, span.end)}
    wanted = set(range(start, min(start + width, 40)))
    cover = Cover(spans, length=40)
    assert cover.touches(start, start + width) == bool(wanted & covered)
    assert cover.fills(start, start + width) == (wanted <= covered)


@settings(max_examples=60, deadline=None)
@given(st.lists(TURN, min_size=1, max_size=8), st.booleans())
def test_the_account_tiles_any_talk(turns: list[tuple[str | None, str]], in_words: bool) -> None:
    source = _labelled(turns) if in_words else _dialogue(turns)
    _tiles(source, _rows(source))


def test_each_word_has_the_number_of_its_statement() -> None:
    told = fates(*understood(transcript("The graft was passed. The knee was cycled. It was fixed.")))
    assert [fate.statement for fate in told] == [0] * 4 + [1] * 4 + [2] * 3


@settings(max_examples=40, deadline=None)
@given(st.lists(WORDS, min_size=1, max_size=40).map(" ".join))
def test_statements_of_the_fates_only_move_ahead(said: str) -> None:
    told = list(fates(*understood(transcript(said))))
    assert all(first.statement <= second.statement for first, second in pairwise(told))
    assert [said[fate.start : fate.end] for fate in told] == said.split()


def test_a_value_of_a_thing_that_the_record_does_not_hold_is_unplaced() -> None:
    talk, extraction = understood(transcript("ACL reconstruction. The tibial tunnel was reamed to nine."))
    rows = list(account(talk, replace(extraction, facts=())))
    assert [row.status for row in rows if "nine" in row.quote] == ["unplaced"]
    assert [row.status for row in account(talk, extraction) if "nine" in row.quote] == ["used"]
