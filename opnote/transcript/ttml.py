"""TTML and DFXP -> pieces of speech (W3C TTML2: nested timing, agents as speakers)."""

from __future__ import annotations

import html
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from xml.parsers import expat
from xml.parsers.expat import errors

from opnote.errors import TranscriptError
from opnote.transcript.reading import MendLog, Piece, Reading
from opnote.transcript.speakers import with_speakers
from opnote.transcript.ttml_times import Rates, rates, time_s

_NOT_SPOKEN = frozenset(("head", "metadata", "style", "region", "image", "audio", "data", "desc", "title", "copyright"))
_BARE_LESS = re.compile(r"<(?![A-Za-z_/!?])")
_BARE_AMPERSAND = re.compile(r"&(?!(?:amp|lt|gt|quot|apos|#[0-9]{1,7}|#x[0-9A-Fa-f]{1,6});)([A-Za-z][A-Za-z0-9]{1,30};)?")

#: Errors by which the parser says that the text is at its end and the markup is not: open elements, an open tag, an open section.
_UNFINISHED = frozenset(
    errors.codes[name] for name in (errors.XML_ERROR_NO_ELEMENTS, errors.XML_ERROR_UNCLOSED_TOKEN, errors.XML_ERROR_UNCLOSED_CDATA_SECTION)
)
_WELL_FORMED = "let the recogniser write it again as well-formed XML"


@dataclass(frozen=True, slots=True)
class _Element:
    """An open element: its interval on the file's clock and what it hands down to the elements in it."""

    name: str
    start_s: float | None
    end_s: float | None
    speaker: str | None
    spoken: bool
    in_paragraph: bool
    sequence: bool


_OUTSIDE = _Element("", None, None, None, spoken=True, in_paragraph=False, sequence=False)


@dataclass(slots=True)
class _Handler:
    """Follows the markup with a stack of open elements and collects a piece for each stretch of one time and one speaker."""

    parser: expat.XMLParserType
    log: MendLog
    rate: Rates = field(default_factory=Rates)
    open: list[_Element] = field(default_factory=list)
    cursors: list[float | None] = field(default_factory=list)
    agents: dict[str, dict[str, str]] = field(default_factory=dict)
    agent: str | None = None
    naming: str | None = None
    pieces: list[Piece] = field(default_factory=list)
    text: list[str] = field(default_factory=list)
    line: int | None = None

    def start(self, qualified: str, qualified_attributes: dict[str, str]) -> None:
        name = _local(qualified)
        attributes = {_local(key): value for key, value in qualified_attributes.items()}
        if name == "tt":
            self.rate = rates(attributes)
        if name == "agent":
            self.agent = attributes.get("id")
        self.naming = attributes.get("type", "") if name == "name" and self.agent is not None else None
        if name == "br":
            self.text.append(" ")
        if name == "p" or attributes.keys() & {"begin", "end", "dur", "agent"}:
            self.flush()
        self.open.append(self._element(name, attributes))
        self.cursors.append(self.open[-1].start_s)

    def end(self, qualified: str) -> None:
        element = self.open[-1]
        parent = self.open[-2] if len(self.open) > 1 else None
        if element.name == "p" or parent is None or _differs(element, parent):
            self.flush()
        self.open.pop()
        self.cursors.pop()
        if parent is not None and parent.sequence and element.spoken:
            self.cursors[-1] = element.end_s
        if element.name == "agent":
            self.agent = None
        self.naming = None

    def characters(self, data: str) -> None:
        if self.naming is not None and self.agent is not None:
            names = self.agents.setdefault(self.agent, {})
            names[self.naming] = names.get(self.naming, "") + data
        elif self.open and self.open[-1].spoken and self.open[-1].in_paragraph:
            if self.line is None and data.strip():
                self.line = self.parser.CurrentLineNumber
            self.text.append(data)

    def unknown_entity(self, name: str, is_parameter: bool) -> None:
        """A character named by a declaration outside the file, which is never fetched: what HTML calls so, else the letters."""
        if not is_parameter:
            self.characters(html.unescape(f"&{name};"))

    def refuse_entities(self, *_: object) -> None:
        raise TranscriptError("TTML that declares entities of its own is not read", line=self.parser.CurrentLineNumber, hint=_WELL_FORMED)

    def flush(self) -> None:
        """Make a piece of the text so far, with the time and the speaker of the element that is open now."""
        if self.open and "".join(self.text).strip():
            element = self.open[-1]
            self.pieces.append(Piece("".join(self.text), self.line, element.start_s, element.end_s, element.speaker))
        self.text.clear()
        self.line = None

    def _element(self, name: str, attributes: dict[str, str]) -> _Element:
        parent = self.open[-1] if self.open else _OUTSIDE
        base = self.cursors[-1] if self.open else None
        start_s, end_s = self._interval(attributes, parent, base)
        agent = attributes.get("agent", "").split()
        speaker = _name(self.agents.get(agent[0], {}), agent[0]) if agent else parent.speaker
        spoken = parent.spoken and name not in _NOT_SPOKEN
        in_paragraph = parent.in_paragraph or name == "p"
        return _Element(name, start_s, end_s, speaker, spoken, in_paragraph, attributes.get("timeContainer") == "seq")

    def _interval(self, attributes: dict[str, str], parent: _Element, base: float | None) -> tuple[float | None, float | None]:
        """Begin and end count from the parent's begin, or in a sequence from the end of the element before (TTML2, 12.2)."""
        begin, end, length = (self._time(attributes, key) for key in ("begin", "end", "dur"))
        if begin is None and end is None and length is None:
            return base, parent.end_s
        start_s = round((base or 0.0) + (begin or 0.0), 3)
        ends = [(base or 0.0) + end] if end is not None else []
        ends += [start_s + length] if length is not None else []
        ends += [parent.end_s] if parent.end_s is not None else []
        end_s = round(min(ends), 3) if ends else None
        if end_s is not None and end_s < start_s:
            self.log.note(self.parser.CurrentLineNumber, "the cue ends before it begins; its end is left out", "time")
            end_s = None
        return start_s, end_s

    def _time(self, attributes: dict[str, str], key: str) -> float | None:
        if key not in attributes:
            return None
        second = time_s(attributes[key], self.rate)
        if second is None:
            self.log.note(self.parser.CurrentLineNumber, f"the time in '{key}' cannot be read; it is left out", "time")
        return second


def read_ttml(text: str) -> Reading:
    """Read a TTML or DFXP file; a bare ``<`` or ``&`` is mended, of a broken file what stands in front of the break is read.

    Raises ``TranscriptError`` for markup of which nothing can be read and for files that declare entities.
    """
    handler, error = _parsed(text)
    if error is not None:
        mended = _BARE_AMPERSAND.sub(_escaped, _BARE_LESS.sub("&lt;", text))
        if mended != text:
            handler, error = _parsed(mended)
            handler.log.note(None, "a '<' or '&' that begins no markup is read as text")
    if error is None:
        return _reading(handler)
    if not handler.pieces:
        raise TranscriptError("the markup is broken and nothing of it can be read", line=error.lineno, hint=_WELL_FORMED)
    if error.code in _UNFINISHED:
        handler.log.note(error.lineno, "the file stops in the middle of its markup", "cut")
    else:
        handler.log.note(error.lineno, "the markup is broken here; what stands behind cannot be read")
    return _reading(handler)


def _reading(handler: _Handler) -> Reading:
    return Reading(tuple(with_speakers(handler.pieces, timed=True)), handler.log.mends())


def _parsed(text: str) -> tuple[_Handler, expat.ExpatError | None]:
    parser = expat.ParserCreate()
    handler = _Handler(parser, MendLog())
    parser.StartElementHandler = handler.start
    parser.EndElementHandler = handler.end
    parser.CharacterDataHandler = handler.characters
    parser.EntityDeclHandler = handler.refuse_entities
    parser.SkippedEntityHandler = handler.unknown_entity
    try:
        parser.Parse(text, True)
    except expat.ExpatError as error:
        handler.flush()
        return handler, error
    return handler, None


def _name(names: Mapping[str, str], agent: str) -> str:
    """Of the names that an agent bears, the full one, else an alias, else given and family name, else what there is (TTML2, 14.1.5)."""
    told = {kind: " ".join(name.split()) for kind, name in names.items() if name.strip()}
    parts = " ".join(told[kind] for kind in ("given", "family") if kind in told)
    return told.get("full") or told.get("alias") or parts or " ".join(told.values()) or agent


def _escaped(match: re.Match[str]) -> str:
    """A named character that XML does not know, or the ampersand itself."""
    name = match[1]
    character = html.unescape(f"&{name}") if name else ""
    return character if len(character) == 1 else f"&amp;{name or ''}"


def _differs(element: _Element, parent: _Element) -> bool:
    return (element.start_s, element.end_s, element.speaker) != (parent.start_s, parent.end_s, parent.speaker)


def _local(name: str) -> str:
    return name.rpartition(":")[2]
