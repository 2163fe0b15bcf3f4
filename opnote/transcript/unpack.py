"""What a file is packed in: gzip, a word processor's document. The text inside is then read as any other."""

from __future__ import annotations

import zlib

from opnote.errors import TranscriptError
from opnote.transcript.docx import docx_text, is_docx
from opnote.transcript.limits import LIMIT_BYTES, LIMIT_MB
from opnote.transcript.reading import MendLog
from opnote.transcript.rtf import is_rtf, rtf_text

_GZIP = b"\x1f\x8b"
_GZIP_BITS = 31
_UNPACK = "unpack it and give the transcript inside"


def unpacked(data: bytes, log: MendLog) -> bytes:
    """The bytes of the text in ``data``, which come back as they are where nothing is packed.

    Raises ``TranscriptError`` for what cannot be unpacked, and for what would be too large.
    """
    if data.startswith(_GZIP):
        data = _gunzipped(data, log)
    if is_docx(data):
        return docx_text(data, log).encode()
    return rtf_text(data, log).encode() if is_rtf(data) else data


def _gunzipped(data: bytes, log: MendLog) -> bytes:
    parts: list[bytes] = []
    size = 0
    while data.startswith(_GZIP):
        machine = zlib.decompressobj(_GZIP_BITS)
        try:
            parts.append(machine.decompress(data, LIMIT_BYTES - size))
        except zlib.error:
            raise TranscriptError("the gzip file is broken", hint=_UNPACK) from None
        size += len(parts[-1])
        if size >= LIMIT_BYTES:
            raise TranscriptError(f"the file is too large once unpacked: {LIMIT_MB} MB or more", hint="give the transcript of one case")
        data = machine.unused_data
        if not machine.eof:
            log.note(None, "the gzip file stops in its middle", "cut")
    if not size:
        raise TranscriptError("nothing is in the gzip file, or it stops before its first words", hint="get the whole file")
    return b"".join(parts)
