"""DOCX -> its text, a line each paragraph and each row of a table (ECMA-376: WordprocessingML in a zip archive)."""

from __future__ import annotations

import io
import zipfile
import zlib
from dataclasses import dataclass, field
from xml.parsers import expat

from opnote.errors import TranscriptError
from opnote.transcript.limits import LIMIT_BYTES, LIMIT_MB
from opnote.transcript.reading import MendLog
from opnote.transcript.table_rows import CELL, row_line

_ZIP = b"PK\x03\x04"
_DOCUMENT = "word/document.xml"
_EXPORT = "export its text and give that"

#: Elements whose text is not in the document as it reads: what was moved away, and the second writing of a text box.
_NOT_READ = frozenset(("moveFrom", "Fallback"))
_CHARACTERS = {"tab": "\t", "br": "\n", "cr": "\n", "noBreakHyphen": "-"}
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, KeyError, ValueError, OSError)


def is_docx(data: bytes) -> bool:
    """Whether ``data`` is a zip archive that names a document's text in its list of contents."""
    return data.startswith(_ZIP) and _DOCUMENT.encode() in data


def docx_text(data: bytes, log: MendLog) -> str:
    """The text of a document as it reads: without deletions, comments, headers and notes.

    Raises ``TranscriptError`` for a document that is broken, locked or too large.
    """
    reader = _Reader()
    parser = expat.ParserCreate()
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.CharacterDataHandler = reader.characters
    parser.StartDoctypeDeclHandler = reader.refuse
    try:
        parser.Parse(_document(data), True)
    except expat.ExpatError:
        if not reader.text:
            raise TranscriptError("the document is broken and nothing of it can be read", hint=_EXPORT) from None
        log.note(None, "the document is broken; what stands behind the break cannot be read", "cut")
    return "\n".join(row_line(line) for line in "".join(reader.text).split("\n"))


def _document(data: bytes) -> bytes:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive, archive.open(_DOCUMENT) as file:
            document = file.read(LIMIT_BYTES)
    except _BROKEN:
        raise TranscriptError("the document is broken or locked", hint=_EXPORT) from None
    if len(document) >= LIMIT_BYTES:
        raise TranscriptError(f"the document is too large once unpacked: {LIMIT_MB} MB or more", hint="give the transcript of one case")
    return document


@dataclass(slots=True)
class _Reader:
    """Gathers the text; ``cells`` is how many table cells are open, ``hidden`` how many elements that are not read."""

    text: list[str] = field(default_factory=list)
    cells: int = 0
    hidden: int = 0
    in_text: bool = False

    def start(self, qualified: str, attributes: dict[str, str]) -> None:
        name = qualified.rpartition(":")[2]
        self.hidden += name in _NOT_READ
        self.cells += name == "tc"
        self.in_text = name == "t"
        if name in _CHARACTERS and not self.hidden and self._in_run(qualified):
            self.text.append(" " if self.cells else _CHARACTERS[name])

    def end(self, qualified: str) -> None:
        name = qualified.rpartition(":")[2]
        self.in_text = False
        self.hidden -= name in _NOT_READ
        self.cells -= name == "tc"
        if self.hidden:
            return
        if name == "tc":
            self.text.append(" " if self.cells else CELL)
        elif name == "p":
            self.text.append(" " if self.cells else "\n")
        elif name == "tr" and not self.cells:
            self.text.append("\n")

    def characters(self, data: str) -> None:
        if self.in_text and not self.hidden:
            self.text.append(data.replace("\n", " ") if self.cells else data)

    def refuse(self, *_: object) -> None:
        raise TranscriptError("a document that declares a type of its own is not read", hint=_EXPORT)

    @staticmethod
    def _in_run(qualified: str) -> bool:
        return qualified.startswith("w:")
