"""Seconds of a recording: written in one way wherever people read them."""

from __future__ import annotations

from pathlib import Path

import pytest

import opnote
from opnote.moments import moment, place


@pytest.mark.parametrize(("second", "printed"), [(0, "0:00"), (59.9, "0:59"), (187.4, "3:07"), (3599.9, "59:59"), (4621, "1:17:01")])
def test_a_moment_is_minutes_and_seconds_with_hours_from_an_hour_on(second: float, printed: str) -> None:
    assert moment(second) == printed


def test_an_untimed_source_has_lines_for_seconds() -> None:
    assert (place(67.0, 3), place(None, 12), place(None, None)) == ("1:07", "line 12", "")


@pytest.mark.parametrize("stage", ["check", "note", "exchange", "record"])
def test_no_stage_writes_moments_of_its_own(stage: str) -> None:
    """What divides seconds by sixty writes them; only the clock of SubRip and WebVTT is written otherwise."""
    for path in (Path(opnote.__file__).parent / stage).glob("*.py"):
        text = path.read_text(encoding="utf-8").partition("def _clock(seconds: float, point: str)")[0]
        assert "% 60" not in text, path
        assert "// 60" not in text, path
        assert "divmod(int(" not in text, path
