"""Times that are absurd: read, told, and never a fault further down."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from opnote.case import read_case
from opnote.note import render
from tests.unit.transcript.transcript_cases import mended, read_text, rows

LEFT, NINE = "Left knee.", "The femoral tunnel was reamed to nine millimetres."
IMPOSSIBLE = "a time of more than a hundred days is left out; its words are kept"


def segments(*times: tuple[float, float]) -> str:
    return json.dumps([{"start": start, "end": end, "text": text} for (start, end), text in zip(times, (LEFT, NINE), strict=True)])


ABSURD = {
    "no recorder runs so long": segments((1e300, 1.7e308), (5, 9)),
    "the seconds of a date": segments((1_700_000_000.5, 1_700_000_003), (1_700_000_004, 1_700_000_009)),
    "an end alone": segments((1, 1e12), (5, 9)),
    "all zero": segments((0, 0), (0, 0)),
    "backwards": segments((90, 95), (5, 9)),
    "negative": segments((-9, -5), (5, 9)),
    "six hours in two cues": f"WEBVTT\n\n00:00.000 --> 03:00:00.000\n{LEFT}\n\n03:00:00.000 --> 06:00:00.000\n{NINE}\n",
    "hours beyond all": f"WEBVTT\n\n999999:59:59.999 --> 999999:59:59.999\n{LEFT}\n\n00:01.000 --> 00:02.000\n{NINE}\n",
    "ninety days": f"[999:59:59] {LEFT}\n[0:00] {NINE}\n",
    "overlapping": segments((1, 60), (2, 3)),
}


@pytest.mark.parametrize("name", ABSURD)
def test_words_under_absurd_times_are_drafted_all_the_same(name: str, tmp_path: Path) -> None:
    path = tmp_path / "case"
    path.write_text(ABSURD[name], encoding="utf-8")
    case = read_case(str(path))
    [tunnel] = case.record.of("tunnel")
    assert tunnel.attributes["diameter_mm"].value == 9
    assert LEFT in case.transcripts[0].text
    assert len(render(case.worksheet(), form="html")) < 1_000_000
    told = any(finding.rule == "FILE01" for finding in case.record.findings)
    assert told == (name not in ("six hours in two cues", "overlapping"))


def test_times_that_no_recording_has_are_left_out() -> None:
    transcript = read_text(ABSURD["no recorder runs so long"])
    assert rows(transcript) == [(LEFT, None, None, None), (NINE, 5.0, 9.0, None)]
    assert mended(transcript) == [(1, IMPOSSIBLE)]
    assert rows(read_text(ABSURD["an end alone"]))[0] == (LEFT, 1.0, None, None)


def test_words_of_their_own_seconds_too() -> None:
    words = [{"word": "Left", "start": 1, "end": 2}, {"word": "knee", "start": 2, "end": 1e12}]
    transcript = read_text(json.dumps([{"start": 1, "end": 3, "text": "Left knee.", "words": words}]))
    assert [(word.start_s, word.end_s) for word in transcript.words] == [(1.0, 2.0)]
    assert mended(transcript) == [(1, IMPOSSIBLE)]


def test_overlapping_cues_need_no_mend() -> None:
    assert read_text(ABSURD["overlapping"]).mends == ()
