"""Times that cannot all be true: noted, never changed. The order of speech is the order of the file."""

from __future__ import annotations

from collections.abc import Sequence

from opnote.transcript.reading import MendLog, Piece

#: No operation lasts longer; seconds beyond are milliseconds or a calendar's.
_DAY_S = 86_400.0


def note_times(pieces: Sequence[Piece], *, log: MendLog) -> None:
    """Note where the times run backwards, are all zero, or lie beyond a day."""
    timed = [piece for piece in pieces if piece.start_s is not None]
    latest = 0.0
    for piece in timed:
        start_s = piece.start_s or 0.0
        if start_s < latest:
            log.note(piece.line, "these words begin before those above them; the order of the file is kept", "time")
        latest = start_s
    if len(timed) > 1 and not any(piece.start_s or piece.end_s for piece in timed):
        log.note(None, "all times are zero", "time")
    if any(second > _DAY_S for piece in timed for second in (piece.start_s, piece.end_s) if second is not None):
        log.note(None, "times beyond a day; perhaps they are not seconds", "time")
