"""Who spoke when, where a file tells it apart from the words."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass

from opnote.transcript.json_fields import interval, plain, speaker
from opnote.transcript.json_lines import Located
from opnote.transcript.reading import MendLog


@dataclass(frozen=True, slots=True)
class Labelled:
    """Speakers with the seconds at which each begins and stops, in the order of time."""

    starts: tuple[float, ...]
    stops: tuple[float, ...]
    names: tuple[str, ...]

    @classmethod
    def of(cls, rows: Iterable[Located], log: MendLog) -> Labelled:
        """The labels in ``rows``; one without a name or without seconds says nothing."""
        told = [(interval(plain(row), row.line, log), speaker(plain(row))) for row in rows]
        turns = sorted((start, end, name) for (start, end), name in told if start is not None and end is not None and name is not None)
        return cls(tuple(turn[0] for turn in turns), tuple(turn[1] for turn in turns), tuple(turn[2] for turn in turns))

    def at(self, start_s: float | None, end_s: float | None) -> str | None:
        """Who speaks in the middle of an interval, or None where nobody does or the seconds are not known."""
        if start_s is None or not self.names:
            return None
        middle = start_s if end_s is None else (start_s + end_s) / 2
        index = bisect_right(self.starts, middle) - 1
        return self.names[index] if index >= 0 and middle <= self.stops[index] else None
