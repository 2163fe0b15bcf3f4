"""Time marks in plain text: how they are written, and which kind a file uses."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass

from opnote.transcript.clock import seconds

_FRACTION = r"(?:[.,](?P<{0}f>[0-9]{{1,6}}))?"
_CLOCK = r"(?:(?P<{0}h>[0-9]{{1,3}}):)?(?P<{0}m>[0-9]{{1,3}}):(?P<{0}s>[0-9]{{2}})" + _FRACTION
_FULL_CLOCK = r"(?P<{0}h>[0-9]{{1,3}}):(?P<{0}m>[0-9]{{2}}):(?P<{0}s>[0-9]{{2}})" + _FRACTION
_TO = r"[ ]{0,3}(?:-{1,2}>?|[\u2013\u2014\u2192]|to)[ ]{0,3}"
#: A mark without brackets stands apart from the words, perhaps by a dash that no number follows.
_APART = r"(?=[ \t]|$)(?:[ \t]+[-\u2013|](?=[ \t]+[^\W\d_]))?"


@dataclass(frozen=True, slots=True)
class MarkKind:
    """One way to write marks. ``inline`` marks also count within a line; ``sure`` ones need no company to be believed."""

    name: str
    pattern: re.Pattern[str]
    inline: bool = False
    sure: bool = False
    latest_first_s: float | None = None


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark's seconds (``end_s`` where it gives a range) and where it stands in its line."""

    start_s: float
    end_s: float | None
    start: int
    end: int
    regular: bool


def _pattern(before: str, clock: str, after: str) -> re.Pattern[str]:
    return re.compile(f"{before}{clock.format('a')}(?:{_TO}{clock.format('b')})?{after}")


#: A mark of minutes and seconds without square brackets may be a time of the day: a recording begins within its first minutes.
_FIRST_MINUTES_S = 300.0

SQUARE = MarkKind("[m:ss]", _pattern(r"\[[ ]?", _CLOCK, r"[ ]?\]"), inline=True, sure=True)
KINDS = (
    SQUARE,
    MarkKind("h:mm:ss", _pattern("", _FULL_CLOCK, _APART)),
    MarkKind("(m:ss)", _pattern(r"\([ ]?", _CLOCK, r"[ ]?\)"), latest_first_s=_FIRST_MINUTES_S),
    MarkKind("m:ss", _pattern("", _CLOCK, _APART), latest_first_s=_FIRST_MINUTES_S),
)


def mark_kind(text: str) -> MarkKind | None:
    """The kind of mark ``text`` is written with, or None for a text without.

    >>> mark_kind("[0:16] under a spinal").name
    '[m:ss]'
    >>> mark_kind("10:20 antibiotic given") is None
    True
    """
    lines = text.split("\n")
    return next((kind for kind in KINDS if _is_used(kind, lines)), None)


def marks_in(line: str, kind: MarkKind) -> list[Mark]:
    """The marks in ``line``; those without brackets stand only at its beginning."""
    if kind.inline:
        return [_mark(match) for match in kind.pattern.finditer(line)]
    match = kind.pattern.match(line, len(line) - len(line.lstrip()))
    return [_mark(match)] if match else []


def _mark(match: re.Match[str]) -> Mark:
    start_s = seconds(match["ah"], match["am"], match["as"], match["af"])
    end_s = None if match["bm"] is None else seconds(match["bh"], match["bm"], match["bs"], match["bf"])
    regular = int(match["as"]) < 60 and (match["ah"] is None or int(match["am"]) < 60)
    return Mark(start_s, end_s, match.start(), match.end(), regular)


def _is_used(kind: MarkKind, lines: Sequence[str]) -> bool:
    starts = [_leading(line, kind) for line in lines if line.strip()]
    times = [start_s for start_s in starts if start_s is not None]
    if not times or kind.sure:
        return bool(times)
    if starts[0] is None or (kind.latest_first_s is not None and times[0] >= kind.latest_first_s):
        return False
    forward = all(earlier <= later for earlier, later in itertools.pairwise(times))
    return forward and len(times) > 1 and 2 * len(times) >= min(len(starts), _paragraphs(lines))


def _leading(line: str, kind: MarkKind) -> float | None:
    match = kind.pattern.match(line, len(line) - len(line.lstrip()))
    return _mark(match).start_s if match else None


def _paragraphs(lines: Sequence[str]) -> int:
    return sum(1 for before, line in itertools.pairwise(["", *lines]) if line.strip() and not before.strip())
