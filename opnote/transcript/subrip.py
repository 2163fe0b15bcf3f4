"""SubRip -> pieces of speech (no formal standard; the Matroska project's page on subtitle formats, and common practice)."""

from __future__ import annotations

from opnote.transcript.cues import read_cues
from opnote.transcript.cut import note_cut_words, without_cut_markup
from opnote.transcript.reading import MendLog, Reading
from opnote.transcript.speakers import with_speakers
from opnote.transcript.turns import pieces_of


def read_subrip(text: str) -> Reading:
    """Read a SubRip file: counters and formatting tags are not speech."""
    log = MendLog()
    lines = list(enumerate(without_cut_markup(text, log).split("\n"), start=1))
    cues = read_cues(lines, "subrip", is_comment=lambda line: False, log=log)
    note_cut_words(text, cues, log)
    return Reading(tuple(with_speakers(pieces_of(cues, log=log), timed=True)), log.mends())
