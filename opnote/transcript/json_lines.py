"""JSON with the line on which each object's words stand; the standard library's parser gives no places."""

from __future__ import annotations

import json
import re
from typing import Any

_TOKEN = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"|[{}\n]', re.DOTALL)
_TEXT_KEYS = frozenset(('"text"', '"word"', '"transcript"'))


class Located(dict[str, Any]):
    """A JSON object that knows the line (from 1) of its words, or of its brace where it holds none."""

    line: int


def load_located(text: str) -> object:
    """Parse ``text``; every object in it is a ``Located``. Raises what ``json.loads`` raises."""
    lines = _object_lines(text)
    count = 0

    def locate(pairs: list[tuple[str, Any]]) -> Located:
        nonlocal count
        found = Located(pairs)
        found.line = lines[count] if count < len(lines) else 1
        count += 1
        return found

    return json.loads(text, object_pairs_hook=locate)


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
