"""Times that cannot all be true: noted, and left out where no recording has them. The order of speech is the order of the file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.transcript.reading import MendLog, Piece

#: No operation lasts longer; seconds beyond are milliseconds or a calendar's.
_DAY_S = 86_400.0
#: No recorder runs longer; such a second is a date's, or a number that was broken.
_LONGEST_S = 100 * _DAY_S


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


def without_impossible(pieces: Sequence[Piece], *, log: MendLog) -> tuple[Piece, ...]:
    """``pieces`` without the times that no recording can have; their words are kept."""
    return tuple(_without_impossible(piece, log) if _is_impossible(piece) else piece for piece in pieces)


def _is_impossible(piece: Piece) -> bool:
    return max(piece.start_s or 0.0, piece.end_s or 0.0, max((word.end_s for word in piece.words), default=0.0)) > _LONGEST_S


def _without_impossible(piece: Piece, log: MendLog) -> Piece:
    log.note(piece.line, "a time of more than a hundred days is left out; its words are kept", "time")
    words = tuple(word for word in piece.words if word.end_s <= _LONGEST_S)
    if piece.start_s is not None and piece.start_s > _LONGEST_S:
        return replace(piece, start_s=None, end_s=None, words=words)
    return replace(piece, end_s=piece.end_s if piece.end_s is not None and piece.end_s <= _LONGEST_S else None, words=words)
