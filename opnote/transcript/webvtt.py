"""WebVTT -> pieces of speech (W3C WebVTT, sections 4 and 6.1; HLS's X-TIMESTAMP-MAP by RFC 8216, 3.5)."""

from __future__ import annotations

import re

from opnote.transcript.cues import Line, read_cues
from opnote.transcript.cut import note_cut_words, without_cut_markup
from opnote.transcript.reading import MendLog, Reading
from opnote.transcript.speakers import with_speakers
from opnote.transcript.timing import parse_timing
from opnote.transcript.turns import pieces_of

_SIGNATURE = re.compile(r"WEBVTT(?=[ \t]|$)")
#: A signature further down stands where files were put one behind the other.
_NOT_SPOKEN = re.compile(r"(?:(?:NOTE|WEBVTT)(?=[ \t]|$)|(?:STYLE|REGION)[ \t]*$)")
_HEADER_FIELD = re.compile(r"(?:Kind|Language|Region|X-[A-Za-z-]+)[ \t]*[:=]", re.IGNORECASE)


def read_webvtt(text: str) -> Reading:
    """Read a WebVTT file: header, comments, styles, regions and cue identifiers are not speech; voices are speakers."""
    log = MendLog()
    lines: list[Line] = list(enumerate(without_cut_markup(text, log).split("\n"), start=1))
    cues = read_cues(_body(lines, log), "webvtt", is_comment=_is_comment, log=log)
    note_cut_words(text, cues, log)
    pieces = with_speakers(pieces_of(cues, log=log), timed=True)
    return Reading(tuple(pieces), log.mends())


def _is_comment(line: str) -> bool:
    return _NOT_SPOKEN.match(line) is not None


def _body(lines: list[Line], log: MendLog) -> list[Line]:
    """The lines behind the header, which is the signature and what stands under it up to an empty line."""
    at = next(index for index, (_, text) in enumerate(lines) if text.strip())
    number, first = lines[at]
    if at or not _SIGNATURE.match(first):
        log.note(number, "the first line is not WEBVTT as the format asks")
    at += 1
    while at < len(lines) and lines[at][1].strip():
        if parse_timing(lines[at][1], "webvtt"):
            log.note(lines[at][0], "no empty line before this cue")
            return lines[at:]
        at += 1
    return lines[_behind_fields(lines, at) :]


def _behind_fields(lines: list[Line], at: int) -> int:
    """Header fields ("Kind: captions") that stand apart from the signature are still header."""
    blocks_at = at
    while at < len(lines) and not lines[at][1].strip():
        at += 1
    fields_at = at
    while at < len(lines) and _HEADER_FIELD.match(lines[at][1]):
        at += 1
    apart = at > fields_at and (at == len(lines) or not lines[at][1].strip())
    return at if apart else blocks_at
