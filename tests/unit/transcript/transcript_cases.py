"""What the transcript tests share: reading a text given in the test, and the rows of what was read."""

from __future__ import annotations

from opnote.transcript import Transcript, read_bytes

#: Words, begin, end and speaker of a segment.
Row = tuple[str, float | None, float | None, str | None]


def read_text(text: str) -> Transcript:
    """``text`` read as a file in UTF-8."""
    return read_bytes(text.encode(), name="case")


def rows(transcript: Transcript) -> list[Row]:
    """A row for each segment."""
    return [
        (transcript.text[segment.start : segment.end], segment.start_s, segment.end_s, segment.speaker) for segment in transcript.segments
    ]


def mended(transcript: Transcript) -> list[tuple[int | None, str]]:
    """Line and words of each mend."""
    return [(mend.line, mend.what) for mend in transcript.mends]
