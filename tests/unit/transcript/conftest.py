"""What the transcript tests share: reading a text given in the test, and the rows of what was read."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from opnote.transcript import Transcript, read_bytes

Row = tuple[str, float | None, float | None, str | None]


@pytest.fixture
def read_text() -> Callable[[str], Transcript]:
    """Reads a text as a file in UTF-8."""
    return lambda text: read_bytes(text.encode(), name="case")


@pytest.fixture
def rows() -> Callable[[Transcript], list[Row]]:
    """Words, begin, end and speaker of each segment."""
    return lambda transcript: [
        (transcript.text[segment.start : segment.end], segment.start_s, segment.end_s, segment.speaker) for segment in transcript.segments
    ]


@pytest.fixture
def mended() -> Callable[[Transcript], list[tuple[int | None, str]]]:
    """Line and words of each mend."""
    return lambda transcript: [(mend.line, mend.what) for mend in transcript.mends]
