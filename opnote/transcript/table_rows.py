"""Rows of a document's table -> lines: a time in the first cell becomes a time mark, a name beside it a speaker."""

from __future__ import annotations

import re

#: What stands between the cells of a row while a document is read: a character that no text has.
CELL = "\x1f"

_TIME = re.compile(r"[\[(]?\s*(?P<time>(?:[0-9]{1,3}:)?[0-9]{1,3}:[0-9]{2}(?:[.,][0-9]{1,6})?)\s*[\])]?")
_NAME = re.compile(r"[^\W\d_][^:\n]{0,40}:?")


def row_line(line: str) -> str:
    r"""A line with its cells put together.

    >>> row_line("0:04\x1fNurse\x1fWhich knee?"), row_line("side\x1fleft")
    ('[0:04] Nurse: Which knee?', 'side left')
    """
    if CELL not in line:
        return line
    cells = [" ".join(cell.split()) for cell in line.split(CELL)]
    cells = [cell for cell in cells if cell]
    time = _TIME.fullmatch(cells[0]) if cells else None
    if time is None:
        return " ".join(cells)
    if len(cells) == 3 and _NAME.fullmatch(cells[1]):
        return f"[{time['time']}] {cells[1].rstrip(':')}: {cells[2]}"
    return " ".join((f"[{time['time']}]", *cells[1:]))
