"""JSON with the line on which each object's words stand; the standard library's parser gives no places."""

from __future__ import annotations

import json
import re
from typing import Any

_TOKEN = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"|[{}\n]', re.DOTALL)
_BRACKET = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"|[{}\[\]]', re.DOTALL)
_BLANK = re.compile(r"[\s,]*")
_TEXT_KEYS = frozenset(
    f'"{name}"'
    for name in ("text", "word", "transcript", "content", "value", "display", "displayText", "punctuated_word", "utf8", "body", "lines")
)


class Located(dict[str, Any]):
    """A JSON object that knows the line (from 1) of its words, or of its brace where it holds none."""

    line: int


def load_all_located(text: str) -> list[object]:
    """Parse the values in ``text``, one or one behind the other; every object in them is a ``Located``. Raises what ``json`` raises."""
    lines = _object_lines(text)
    count = 0

    def locate(pairs: list[tuple[str, Any]]) -> Located:
        nonlocal count
        found = Located(pairs)
        found.line = lines[count] if count < len(lines) else 1
        count += 1
        return found

    decoder = json.JSONDecoder(object_pairs_hook=locate)
    values: list[object] = []
    at = _behind_blanks(text, 0)
    while at < len(text) or not values:
        value, at = decoder.raw_decode(text, at)
        values.append(value)
        at = _behind_blanks(text, at)
        if at < len(text) and not isinstance(value, Located):
            raise json.JSONDecodeError("Extra data", text, at)
    return values


def whole_part(text: str) -> str | None:
    """What of a text that stops early can be read: up to the last object or list that is whole, with what is open closed behind it.

    >>> whole_part('{"words": [{"word": "left"}, {"wo')
    '{"words": [{"word": "left"}]}'
    """
    opened: list[str] = []
    behind, depth = 0, 0
    for match in _BRACKET.finditer(text):
        token = match.group()
        if token in ("{", "["):
            opened.append("}" if token == "{" else "]")
        elif opened and token == opened[-1]:
            opened.pop()
            behind, depth = match.end(), len(opened)
    return f"{text[:behind]}{''.join(reversed(opened[:depth]))}" if behind else None


def _behind_blanks(text: str, at: int) -> int:
    match = _BLANK.match(text, at)
    return match.end() if match else at


def _object_lines(text: str) -> list[int]:
    """A line for each object, in the order in which the objects end: the order in which the parser hands them over."""
    done: list[int] = []
    opened: list[tuple[int, int | None]] = []
    line = 1
    for match in _TOKEN.finditer(text):
        token = match.group()
        if token == "\n":
            line += 1
        elif token == "{":
            opened.append((line, None))
        elif token == "}" and opened:
            brace, words = opened.pop()
            done.append(words or brace)
        elif opened and opened[-1][1] is None and token in _TEXT_KEYS:
            opened[-1] = (opened[-1][0], line)
    return done
