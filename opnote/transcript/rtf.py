"""RTF -> its text, a line each paragraph (Rich Text Format specification 1.9: control words, groups, destinations)."""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass, field, replace

from opnote.transcript.reading import MendLog
from opnote.transcript.table_rows import CELL, row_line

_TOKEN = re.compile(
    r"\\(?P<word>[A-Za-z]{1,32})(?P<number>-?[0-9]{1,10})?[ ]?|\\'(?P<byte>[0-9A-Fa-f]{2})|\\(?P<sign>[^A-Za-z])"
    r"|(?P<brace>[{}])|(?P<text>[^\\{}\r\n]+)"
)
_CHARACTERS = {
    **{"par": "\n", "line": "\n", "row": "\n", "page": "\n", "sect": "\n", "tab": "\t", "cell": CELL, "nestcell": " "},
    **{"emdash": "\u2014", "endash": "\u2013", "bullet": "\u2022", "lquote": "\u2018", "rquote": "\u2019"},
    **{"ldblquote": "\u201c", "rdblquote": "\u201d", "emspace": " ", "enspace": " ", "qmspace": " "},
}
_SIGNS = {"\\": "\\", "{": "{", "}": "}", "~": "\u00a0", "_": "-", "\n": "\n", "\r": "\n"}
#: Groups that are not the text of the document.
_NOT_READ = frozenset(
    "fonttbl colortbl stylesheet info pict object themedata datastore latentstyles listtable listoverridetable revtbl rsidtbl generator"
    " header headerl headerr headerf footer footerl footerr footerf footnote annotation fldinst deleted xmlnstbl".split()
)


@dataclass(frozen=True, slots=True)
class _Group:
    """What holds inside braces: whether the text is read, and how many characters stand in for one that old readers lack."""

    read: bool = True
    stand_ins: int = 1


@dataclass(slots=True)
class _Reader:
    """Gathers the text; ``waiting`` are bytes of one character set, ``skip`` the stand-ins still to come."""

    codec: str = "cp1252"
    groups: list[_Group] = field(default_factory=lambda: [_Group()])
    text: list[str] = field(default_factory=list)
    waiting: bytearray = field(default_factory=bytearray)
    skip: int = 0

    def add(self, text: str) -> None:
        self.flush()
        if self.groups[-1].read:
            self.text.append(text)

    def flush(self) -> None:
        if self.waiting and self.groups[-1].read:
            self.text.append(self.waiting.decode(self.codec, "replace"))
        self.waiting.clear()


def is_rtf(data: bytes) -> bool:
    """Whether ``data`` begins as RTF does."""
    return data.lstrip()[:5] == b"{\\rtf"


def rtf_text(data: bytes, log: MendLog) -> str:
    """The text of an RTF document as it reads, rows of tables as lines; one that stops inside its braces is noted as cut."""
    source = data.decode("cp1252", "replace")
    reader = _Reader()
    at = 0
    while (match := _TOKEN.search(source, at)) is not None:
        at = match.end() + _take(match, reader)
    reader.flush()
    if len(reader.groups) > 1:
        log.note(None, "the document stops in its middle", "cut")
    text = "".join(reader.text).encode("utf-16", "surrogatepass").decode("utf-16", "replace")  # pairs of halves become characters
    return "\n".join(row_line(line) for line in text.split("\n"))


def _take(match: re.Match[str], reader: _Reader) -> int:
    """Take one token; gives how many characters of raw bytes stand behind it."""
    kind = match.lastgroup
    if match["brace"]:
        reader.flush()
        _brace(match["brace"], reader)
    elif match["byte"]:
        _byte(match["byte"], reader)
    elif kind in ("word", "number"):
        return _word(match["word"].lower(), int(match["number"]) if match["number"] else None, reader)
    elif match["sign"]:
        _sign(match["sign"], reader)
    else:
        text = match["text"]
        skipped = min(reader.skip, len(text))
        reader.skip -= skipped
        reader.add(text[skipped:])
    return 0


def _brace(brace: str, reader: _Reader) -> None:
    reader.skip = 0
    if brace == "{":
        reader.groups.append(reader.groups[-1])
    elif len(reader.groups) > 1:
        reader.groups.pop()


def _byte(digits: str, reader: _Reader) -> None:
    if reader.skip:
        reader.skip -= 1
    elif reader.groups[-1].read:
        reader.waiting.append(int(digits, 16))


def _sign(sign: str, reader: _Reader) -> None:
    if sign == "*":
        reader.groups[-1] = replace(reader.groups[-1], read=False)
    elif reader.skip:
        reader.skip -= 1
    else:
        reader.add(_SIGNS.get(sign, ""))


def _word(word: str, number: int | None, reader: _Reader) -> int:
    if word in _NOT_READ and not (word == "deleted" and number == 0):
        reader.flush()
        reader.groups[-1] = replace(reader.groups[-1], read=False)
    elif word == "u" and number is not None:
        _unicode(number, reader)
    elif word == "uc" and number is not None:
        reader.groups[-1] = replace(reader.groups[-1], stand_ins=min(max(number, 0), 8))
    elif word == "ansicpg" and number is not None:
        reader.codec = _codec(number)
    elif word == "bin":
        return max(number or 0, 0)
    elif word in _CHARACTERS:
        reader.add(_CHARACTERS[word])
    return 0


def _unicode(number: int, reader: _Reader) -> None:
    code = number + 65_536 if number < 0 else number
    reader.add(chr(code) if 0 <= code <= 0x10FFFF else "\ufffd")
    reader.skip = reader.groups[-1].stand_ins


def _codec(page: int) -> str:
    try:
        return codecs.lookup(f"cp{page}").name
    except LookupError:
        return "cp1252"
