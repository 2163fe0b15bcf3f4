"""Which format a text is, by what stands in it; a file's name says nothing."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable

from opnote.errors import TranscriptError
from opnote.transcript.ctm import is_ctm_line, read_ctm
from opnote.transcript.marks import mark_kind
from opnote.transcript.plain_text import read_plain_text
from opnote.transcript.reading import Reading
from opnote.transcript.recogniser_json import read_recogniser_json
from opnote.transcript.subrip import read_subrip
from opnote.transcript.textgrid import is_textgrid, read_textgrid
from opnote.transcript.timed_text import read_timed_text
from opnote.transcript.timing import parse_timing
from opnote.transcript.ttml import read_ttml
from opnote.transcript.webvtt import read_webvtt

Reader = Callable[[str], Reading]

READERS: dict[str, Reader] = {
    "webvtt": read_webvtt,
    "subrip": read_subrip,
    "ttml": read_ttml,
    "recogniser json": read_recogniser_json,
    "ctm": read_ctm,
    "textgrid": read_textgrid,
    "timed text": read_timed_text,
    "plain text": read_plain_text,
}

_JSON = re.compile(r'\s*(?:\{\s*["}]|\[\s*(?:[\[{"]|\]\s*\Z|-?[0-9.]+\s*(?:,|\]\s*\Z)|(?:true|false|null)\b))')
_TTML = re.compile(r"<(?:[A-Za-z][\w.-]*:)?tt[\s>]")
_DECLARED_MARKUP = re.compile(r"\s*<(?:\?xml|!doctype|html[\s>])", re.IGNORECASE)
_ROOT = re.compile(r"\s*<(?P<name>[A-Za-z][\w:.-]*)(?:\s[^<>]*)?>")
#: Lines of a CTM file looked at before deciding.
_SAMPLE = 20


def format_of(text: str) -> str:
    r"""The name of the format, a key of ``READERS``. Raises ``TranscriptError`` for markup that is no TTML, and for TOML.

    >>> format_of("WEBVTT\n\n00:01.000 --> 00:02.000\nleft knee\n")
    'webvtt'
    >>> format_of("[0:04] left knee")
    'timed text'
    """
    start = text.lstrip()[:8]
    if start[:6].upper() == "WEBVTT":
        return "webvtt"
    if _JSON.match(text) and not (start.startswith("[") and _is_toml(text)):
        return "recogniser json"
    if is_textgrid(text):
        return "textgrid"
    if start.startswith("<") and _is_markup(text):
        return _markup(text)
    if any((timing := parse_timing(line, "subrip")) and timing.start_s is not None for line in text.split("\n")):
        return "subrip"
    if _is_ctm(text):
        return "ctm"
    if mark_kind(text):
        return "timed text"
    if _is_toml(text):
        raise TranscriptError("this is a TOML file, not a transcript", hint="give a case sheet with --case, a lexicon with --lexicons")
    return "plain text"


def _is_markup(text: str) -> bool:
    """Whether the whole text is markup: a dictation may begin with "<inaudible>"."""
    if _DECLARED_MARKUP.match(text) or _TTML.match(text.lstrip()[:200]):
        return True
    root = _ROOT.match(text)
    return root is not None and text.rstrip().endswith(f"</{root['name']}>")


def _markup(text: str) -> str:
    if _TTML.search(text[:20_000]):
        return "ttml"
    raise TranscriptError("markup of another kind (HTML or XML), not a transcript", hint="give TTML, WebVTT or the plain text")


def _is_toml(text: str) -> bool:
    """Whether the whole text is TOML with something in it, which no dictation is by chance."""
    if "=" not in text:
        return False
    try:
        return bool(tomllib.loads(text))
    except (tomllib.TOMLDecodeError, RecursionError):
        return False


def _is_ctm(text: str) -> bool:
    lines = [line for line in text[:20_000].split("\n") if line.strip() and not line.lstrip().startswith(";;")][:_SAMPLE]
    sure = sum(is_ctm_line(line) for line in lines)
    tolerated = sum(is_ctm_line(line, tolerant=True) for line in lines)
    return len(lines) > 1 and 2 * sure >= len(lines) and 10 * tolerated >= 9 * len(lines)
