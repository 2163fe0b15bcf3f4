"""Cues -> pieces: one for each voice or dashed turn in a cue, with its part of the cue's time."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from opnote.transcript.assemble import share_out
from opnote.transcript.cues import Cue, Line
from opnote.transcript.markup import voices
from opnote.transcript.reading import MendLog, Piece

#: A dash in front of a turn, by the custom of subtitles ("- Which knee?"), or the ">>" of captions. "-5 degrees" is no turn.
_DASHED = re.compile(r"\s*(?:[-\u2013\u2014]\s+(?=\S)|>>+\s*(?=\S))")
#: The same in front of a letter: what must recur before any dash in the file is read as a turn.
_SURELY_DASHED = re.compile(r"\s*(?:[-\u2013\u2014]\s+|>>+\s*)[^\W\d_]")


def pieces_of(cues: Sequence[Cue], *, log: MendLog) -> list[Piece]:
    """The words of all cues, turn by turn; a cue without words is noted in ``log``."""
    dashed = _dashes_mark_turns(cues)
    pieces: list[Piece] = []
    for cue in cues:
        turns = [piece for turn in _turns(cue.text, dashed=dashed) for piece in _voiced(turn)]
        if not turns:
            log.note(cue.line, "the cue has no words")
        pieces.extend(share_out(turns, cue.start_s, cue.end_s))
    return pieces


def _dashes_mark_turns(cues: Iterable[Cue]) -> bool:
    found = (True for cue in cues for _, text in cue.text if _SURELY_DASHED.match(text))
    return next(found, False) and next(found, False)


@dataclass(slots=True)
class _Turn:
    """Lines of one turn; ``marked`` where a dash, taken off, began it."""

    lines: list[Line]
    marked: bool


def _turns(lines: Sequence[Line], *, dashed: bool) -> list[_Turn]:
    turns: list[_Turn] = []
    for number, text in lines:
        match = _DASHED.match(text) if dashed else None
        if match or not turns:
            turns.append(_Turn([(number, text[match.end() if match else 0 :])], marked=match is not None))
        else:
            turns[-1].lines.append((number, text))
    return turns


def _voiced(turn: _Turn) -> list[Piece]:
    text = "\n".join(text for _, text in turn.lines)
    return [Piece(part, turn.lines[0][0], speaker=voice, paragraph=turn.marked) for voice, part in voices(text)]
