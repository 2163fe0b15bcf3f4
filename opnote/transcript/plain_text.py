"""Text without times -> pieces of speech, a line each; an empty line begins a new paragraph."""

from __future__ import annotations

from opnote.transcript.reading import Piece, Reading
from opnote.transcript.speakers import with_speakers


def read_plain_text(text: str) -> Reading:
    """Read a text that has lines instead of seconds."""
    pieces: list[Piece] = []
    gap = False
    for number, line in enumerate(text.split("\n"), start=1):
        if line.strip():
            pieces.append(Piece(line, number, paragraph=gap))
        gap = not line.strip()
    return Reading(tuple(with_speakers(pieces, timed=False)))
