"""Times that are milliseconds though nothing says so: whole numbers, far too long for the words under them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.transcript.reading import MendLog, Piece, SpokenWord

#: More than this for a word is no speech: a word takes a third of a second, and under milliseconds would seem to take minutes.
_LONGEST_WORD_S = 30.0
#: So many words at least must tell it, and so large a share of the rows.
_FEWEST_WORDS, _MOST = 3, 0.9
_MILLI = 1000.0


def in_seconds(pieces: Sequence[Piece], log: MendLog) -> list[Piece]:
    """``pieces`` with their times in seconds; what was done about milliseconds is noted."""
    if not _in_milliseconds(pieces):
        return list(pieces)
    log.note(None, "the times are whole numbers, too long for the words under them; they are read as milliseconds")
    return [_shortened(piece) for piece in pieces]


def _in_milliseconds(pieces: Sequence[Piece]) -> bool:
    timed = [piece for piece in pieces if piece.start_s is not None and piece.end_s is not None]
    seconds = [second for piece in timed for second in (piece.start_s, piece.end_s, *_seconds(piece.words)) if second is not None]
    if not all(second.is_integer() for second in seconds):
        return False
    long = [_is_long(piece) for piece in timed if piece.end_s != piece.start_s]
    words = sum(len(piece.text.split()) for piece in timed)
    return words >= _FEWEST_WORDS and bool(long) and sum(long) >= _MOST * len(long)


def _is_long(piece: Piece) -> bool:
    return (piece.end_s or 0.0) - (piece.start_s or 0.0) > _LONGEST_WORD_S * len(piece.text.split())


def _seconds(words: Sequence[SpokenWord]) -> list[float]:
    return [second for word in words for second in (word.start_s, word.end_s)]


def _shortened(piece: Piece) -> Piece:
    words = tuple(replace(word, start_s=word.start_s / _MILLI, end_s=word.end_s / _MILLI) for word in piece.words)
    return replace(piece, start_s=_milli(piece.start_s), end_s=_milli(piece.end_s), words=words)


def _milli(second: float | None) -> float | None:
    return None if second is None else second / _MILLI
