"""Bytes of a file -> characters with plain line ends, or a refusal that says what the file is instead."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from dataclasses import dataclass

from opnote.errors import TranscriptError
from opnote.transcript.characters import CONTROLS, SHAPELESS
from opnote.transcript.foreign import foreign_kind
from opnote.transcript.model import Mend
from opnote.transcript.widths import first_other_form, plain_forms

#: More control characters than one in this many means that the file is no text.
_TOLERATED_SHARE = 50
#: Bytes looked at to tell UTF-16 by its NULs.
_SAMPLE = 4096

#: Bytes above 127 that English clinical text has in Windows-1252: punctuation, signs and fractions anywhere, letters beside letters.
_SIGNS_1252 = rb"[\x80\x85\x91-\x97\x99\xa0\xa3\xa7\xab\xae\xb0-\xb3\xb5\xb7\xb9\xba\xbb-\xbe\xd7\xd8\xf7\xf8]"
_LETTER_1252 = rb"(?:(?<=[A-Za-z])[\x8a\x8c\x8e\x9a\x9c\x9e\x9f\xc0-\xff]|[\x8a\x8c\x8e\x9a\x9c\x9e\x9f\xc0-\xff](?=[a-z]))"
_PLAIN_1252 = re.compile(_SIGNS_1252 + rb"|" + _LETTER_1252)
_HIGH_BYTE = re.compile(rb"[\x80-\xff]")

#: Byte order marks; that of UTF-32 begins with that of UTF-16.
_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)

_SAVE_AS_UTF8 = "save it as UTF-8 text"


@dataclass(frozen=True, slots=True)
class Decoded:
    """The characters of a file with LF line ends, and what was irregular about its bytes."""

    text: str
    mends: tuple[Mend, ...] = ()


def decode(data: bytes) -> Decoded:
    """Read UTF-8 (with or without byte order mark), UTF-16, UTF-32 with byte order mark, or what is plainly Windows-1252 text.

    Raises ``TranscriptError`` for an empty file, for pictures, archives, recordings and other files that are no text.
    """
    if not data:
        raise TranscriptError("the file is empty", hint="give a file with a dictation in it")
    if (kind := foreign_kind(data)) is not None:
        raise TranscriptError(f"this is {kind.what}, not a transcript", hint=kind.hint)
    text, mends = _characters(data)
    if "\r\r\n" in text:
        mends.append(Mend(text.count("\n", 0, text.index("\r\r\n")) + 1, "doubled line ends are read as single ones"))
    text = text.replace("\r\r\n", "\n").replace("\r\n", "\n").replace("\r", "\n")
    cleaned, more = _without_controls(text)
    plain, others = _in_plain_forms(SHAPELESS.sub("", cleaned))
    return Decoded(plain, (*mends, *more, *others))


def _characters(data: bytes) -> tuple[str, list[Mend]]:
    for mark, name in _MARKS:
        if data.startswith(mark):
            return _unmarked(data[len(mark) :]) if name == "utf-8" else _wide(data[len(mark) :], name)
    if (codec := _unmarked_utf16(data)) is not None:
        text, mends = _wide(data, codec)
        return text, [Mend(1, "UTF-16 without a byte order mark"), *mends]
    return _unmarked(data)


def _unmarked_utf16(data: bytes) -> str | None:
    """The UTF-16 codec whose ASCII letters show as every second byte being NUL, or None."""
    sample = data[:_SAMPLE]
    even, odd = sample[::2].count(0), sample[1::2].count(0)
    if len(sample) < 4 or 10 * max(even, odd) < 4 * len(sample) or min(even, odd) > len(sample) // 50:
        return None
    return "utf-16-le" if odd > even else "utf-16-be"


def _wide(data: bytes, codec: str) -> tuple[str, list[Mend]]:
    mends: list[Mend] = []
    try:
        text = data.decode(codec)
    except UnicodeDecodeError as error:
        if error.end < len(data):
            raise TranscriptError(f"the file is not valid {codec[:6].upper()}", hint=_SAVE_AS_UTF8) from None
        text = data[: error.start].decode(codec)
        mends.append(_cut_mend(text))
    if 2 * sum(map(str.isascii, text)) < len(text):
        raise TranscriptError(f"the file is not {codec[:6].upper()} text", hint=_SAVE_AS_UTF8)
    return text, mends


def _unmarked(data: bytes) -> tuple[str, list[Mend]]:
    try:
        return data.decode("utf-8"), []
    except UnicodeDecodeError as error:
        if error.reason == "unexpected end of data":
            text = data[: error.start].decode("utf-8")
            return text, [_cut_mend(text)]
    return _line_by_line(data)


def _cut_mend(text: str) -> Mend:
    return Mend(text.count("\n") + 1, "the file stops in the middle of a character, which is left out", "cut")


def _line_by_line(data: bytes) -> tuple[str, list[Mend]]:
    """Read each line as UTF-8 and, where that fails, as Windows-1252: files pasted together hold both."""
    lines: list[str] = []
    mends: list[Mend] = []
    for number, line in _byte_lines(data):
        try:
            lines.append(line.decode("utf-8"))
        except UnicodeDecodeError:
            if not _plainly_1252(line):
                raise TranscriptError("bytes that are not valid UTF-8 text", line=number, hint=_SAVE_AS_UTF8) from None
            lines.append(line.decode("cp1252"))
            mends.append(Mend(number, "not UTF-8; read as Windows-1252"))
    return "\n".join(lines), mends


def _byte_lines(data: bytes) -> Iterator[tuple[int, bytes]]:
    return enumerate(data.replace(b"\r\r\n", b"\n").replace(b"\r\n", b"\n").replace(b"\r", b"\n").split(b"\n"), start=1)


def _plainly_1252(line: bytes) -> bool:
    return len(_PLAIN_1252.findall(line)) == len(_HIGH_BYTE.findall(line))


def _without_controls(text: str) -> tuple[str, list[Mend]]:
    found = len(CONTROLS.findall(text))
    if not found:
        return text, []
    if found * _TOLERATED_SHARE > len(text):
        raise TranscriptError("this is a binary file, not a transcript", hint="give the text that the recogniser wrote")
    first = CONTROLS.search(text)
    line = text.count("\n", 0, first.start()) + 1 if first else None
    return CONTROLS.sub("", text), [Mend(line, f"{found} control character{'s' if found > 1 else ''} (such as NUL) left out")]


def _in_plain_forms(text: str) -> tuple[str, list[Mend]]:
    first = first_other_form(text)
    if first is None:
        return text, []
    plain, found = plain_forms(text)
    line = text.count("\n", 0, first) + 1
    return plain, [Mend(line, f"{found} character{'s' if found > 1 else ''} in another form (full-width, ligature) read as plain")]
