"""Files that are no transcript, known by their first bytes, so that a refusal can say what they are.

Source of the signatures: the formats' own specifications as listed in the `file` utility's magic database (from memory).
"""

from __future__ import annotations

from typing import NamedTuple


class Foreign(NamedTuple):
    """What a file is (with its article) and what to try instead."""

    what: str
    hint: str


_EXPORT = "export its text and give that"
_RECOGNISE = "give the text that a recogniser wrote from it"
_UNPACK = "unpack it and give the transcript inside"

_PDF = Foreign("a PDF", _EXPORT)
_PICTURE = Foreign("a picture", "give the dictation as text")
_ARCHIVE = Foreign("an archive", _UNPACK)
_RECORDING = Foreign("a sound or film recording", _RECOGNISE)
_DOCUMENT = Foreign("a word processor's document", _EXPORT)
_BINARY = Foreign("a binary file", "give the text that the recogniser wrote")

_SIGNATURES: tuple[tuple[bytes, Foreign], ...] = (
    (b"%PDF-", _PDF),
    (b"\x89PNG", _PICTURE),
    (b"\xff\xd8\xff", _PICTURE),
    (b"GIF87a", _PICTURE),
    (b"GIF89a", _PICTURE),
    (b"II*\x00", _PICTURE),
    (b"MM\x00*", _PICTURE),
    (b"PK\x03\x04", Foreign("an archive or a word processor's document", "unpack it, or export its text, and give that")),
    (b"PK\x05\x06", _ARCHIVE),
    (b"\x1f\x8b", _ARCHIVE),
    (b"BZh", _ARCHIVE),
    (b"\xfd7zXZ\x00", _ARCHIVE),
    (b"7z\xbc\xaf\x27\x1c", _ARCHIVE),
    (b"Rar!\x1a\x07", _ARCHIVE),
    (b"\x28\xb5\x2f\xfd", _ARCHIVE),
    (b"ID3", _RECORDING),
    (b"OggS", _RECORDING),
    (b"fLaC", _RECORDING),
    (b"#!AMR", _RECORDING),
    (b"\x1aE\xdf\xa3", _RECORDING),
    (b"\xd0\xcf\x11\xe0", _DOCUMENT),
    (b"ooBinaryFile", Foreign("a binary TextGrid", "save it as a text file and give that")),
    (b"\x7fELF", _BINARY),
    (b"SQLite format 3\x00", _BINARY),
)
_RIFF = {b"WEBP": _PICTURE, b"WAVE": _RECORDING, b"AVI ": _RECORDING}
_PICTURE_BRANDS = (b"heic", b"heix", b"mif1", b"avif")


def foreign_kind(data: bytes) -> Foreign | None:
    """What ``data`` is if its first bytes are those of a known other kind of file.

    >>> foreign_kind(b"%PDF-1.7 ...").what
    'a PDF'
    >>> foreign_kind(b"WEBVTT") is None
    True
    """
    for signature, kind in _SIGNATURES:
        if data.startswith(signature):
            return kind
    if data[:4] == b"RIFF":
        return _RIFF.get(data[8:12])
    if data[4:8] == b"ftyp":
        return _PICTURE if data[8:12] in _PICTURE_BRANDS else _RECORDING
    if data[257:262] == b"ustar":
        return _ARCHIVE
    return _PDF if b"%PDF-" in data[:1024] and b"\x00" in data[:4096] else None
