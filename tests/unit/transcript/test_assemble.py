"""Pieces -> one text with places; mends that recur are told once."""

from __future__ import annotations

from opnote.transcript.assemble import assembled, share_out
from opnote.transcript.model import Mend, Segment
from opnote.transcript.reading import MendLog, Piece
from tests.unit.transcript.transcript_cases import read_text


def test_segments_are_joined_by_single_spaces() -> None:
    whole = assembled([Piece(" left \n knee", 1, 0.0, 1.0), Piece("  ", 2), Piece("nine", 3, 1.0, 2.0, "Nurse")], log=MendLog())
    assert whole.text == "left knee nine"
    assert whole.segments == (Segment(0, 9, 0.0, 1.0, None, 1), Segment(10, 14, 1.0, 2.0, "Nurse", 3))
    assert whole.duration_s == 2.0


def test_a_break_in_front_of_an_empty_piece_is_not_lost() -> None:
    whole = assembled([Piece("a", 1), Piece("", 2, paragraph=True), Piece("b", 3)], log=MendLog())
    assert [segment.paragraph for segment in whole.segments] == [False, True]


def test_time_is_shared_by_letters() -> None:
    shared = share_out([Piece("abc", 1), Piece("d", 2)], 10.0, 14.0)
    assert [(piece.start_s, piece.end_s) for piece in shared] == [(10.0, 13.0), (13.0, 14.0)]


def test_without_an_end_all_have_the_begin() -> None:
    shared = share_out([Piece("abc", 1), Piece("d", 2)], 10.0, None)
    assert [(piece.start_s, piece.end_s) for piece in shared] == [(10.0, None), (10.0, None)]


def test_mends_come_in_the_order_of_lines_and_many_of_a_kind_as_one() -> None:
    log = MendLog()
    for line in range(10, 20):
        log.note(line, "often")
    log.note(12, "once")
    assert log.mends() == (Mend(10, "often (10 times, first here)"), Mend(12, "once"))


def test_times_that_cannot_all_be_true_are_noted() -> None:
    for times, what in (("00:00.000 --> 00:00.000", "all times are zero"), ("30:00:00.000 --> 31:00:00.000", "times beyond a day")):
        transcript = read_text("WEBVTT\n\n" + f"{times}\nleft\n\n" * 2)
        assert len(transcript.mends) == 1
        assert transcript.mends[0].what.startswith(what)
