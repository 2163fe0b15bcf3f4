"""Stage 1: a file of any known kind -> Transcript. What was dictated, with its seconds, never altered afterwards."""

from __future__ import annotations

import hashlib
import os
import sys
from pathlib import Path

from opnote.errors import TranscriptError
from opnote.transcript.assemble import assembled
from opnote.transcript.encoding import decode
from opnote.transcript.limits import LIMIT_BYTES, LIMIT_MB
from opnote.transcript.model import Mend, Segment, TimedWord, Transcript
from opnote.transcript.order import note_times, without_impossible
from opnote.transcript.parts import joined
from opnote.transcript.reading import MendLog
from opnote.transcript.sniff import READERS, format_of
from opnote.transcript.unpack import unpacked

__all__ = ["LIMIT_BYTES", "Mend", "Segment", "TimedWord", "Transcript", "joined", "place", "read", "read_bytes"]

STANDARD_INPUT = "standard input"


def read(path_or_stdin: str, *, source: str = "dictation", kind: str = "dictation") -> Transcript:
    """Read the dictation in a file, or on standard input for ``-``.

    ``source`` is the id of the source in the record, ``kind`` its kind there (dictation, addendum). Raises ``TranscriptError``
    for a file that cannot be opened, is too large, is no transcript, or holds no words.
    """
    if path_or_stdin == "-":
        return _transcript(_bytes_of_stdin(), name=STANDARD_INPUT, where=STANDARD_INPUT, source=source, kind=kind)
    return _transcript(_bytes_of(path_or_stdin), name=Path(path_or_stdin).name, where=path_or_stdin, source=source, kind=kind)


def place(path_or_stdin: str) -> str:
    """What an error calls a file: its path, or "standard input"."""
    return STANDARD_INPUT if path_or_stdin == "-" else path_or_stdin


def read_bytes(data: bytes, *, name: str, source: str = "dictation", kind: str = "dictation") -> Transcript:
    """Read the dictation in the bytes of a file; the same bytes give the same transcript.

    >>> transcript = read_bytes(b"[0:04] Left knee. [0:09] Nine millimetres.", name="dictation.txt")
    >>> transcript.text, transcript.segments[1].start_s
    ('Left knee. Nine millimetres.', 9.0)
    """
    return _transcript(data, name=name, where=name, source=source, kind=kind)


def _transcript(data: bytes, *, name: str, where: str, source: str, kind: str) -> Transcript:
    try:
        return _parsed(data, name=name, source=source, kind=kind)
    except TranscriptError as error:
        raise TranscriptError(error.what, where=where, line=error.line, hint=error.hint) from None


def _parsed(data: bytes, *, name: str, source: str, kind: str) -> Transcript:
    _refuse_large(len(data))
    log = MendLog()
    decoded = decode(unpacked(data, log))
    format_name = format_of(decoded.text)
    reading = READERS[format_name](decoded.text)
    log.extend((*decoded.mends, *reading.mends))
    pieces = without_impossible(reading.pieces, log=log)
    note_times(pieces, log=log)
    whole = assembled(pieces, log=log)
    if not whole.segments:
        raise TranscriptError(f"no words in it (read as {format_name})", hint="give a file with a dictation in it")
    return Transcript(
        source=source,
        name=name,
        sha256=hashlib.sha256(data).hexdigest(),
        format=format_name,
        text=whole.text,
        segments=whole.segments,
        words=whole.words,
        mends=log.mends(),
        duration_s=whole.duration_s,
        kind=kind,
        lines=decoded.text.count("\n") + (not decoded.text.endswith("\n")),
    )


def _bytes_of(path: str) -> bytes:
    try:
        with open(path, "rb") as file:
            _refuse_large(os.fstat(file.fileno()).st_size)
            return file.read(LIMIT_BYTES)
    except TranscriptError as error:
        raise TranscriptError(error.what, where=path, hint=error.hint) from None
    except (OSError, ValueError) as error:
        raise TranscriptError(_why_not(error), where=path.strip(), hint="give the path of a file that can be read") from None


def _bytes_of_stdin() -> bytes:
    try:
        return sys.stdin.buffer.read(LIMIT_BYTES)
    except OSError as error:
        raise TranscriptError(_why_not(error), where=STANDARD_INPUT, hint="pipe a transcript into it") from None


def _refuse_large(size: int) -> None:
    if size >= LIMIT_BYTES:
        raise TranscriptError(
            f"the file is too large: {LIMIT_MB} MB or more", hint="give the transcript of one case, without the recording"
        )


def _why_not(error: OSError | ValueError) -> str:
    if isinstance(error, FileNotFoundError):
        return "no such file" if error.filename else "no file is named"
    if isinstance(error, IsADirectoryError):
        return "this is a folder, not a file"
    if isinstance(error, PermissionError):
        return "no permission to read the file"
    return "the file cannot be read"
