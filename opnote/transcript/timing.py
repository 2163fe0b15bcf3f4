"""The line of a cue that holds its times, in WebVTT and SubRip, as the formats say it and as files have it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from opnote.transcript.clock import seconds

#: A time as either format or a careless tool writes it: hours or none, one or more digits a field, dot or comma, any fraction.
_TIME = r"(?:(?P<{0}h>[0-9]{{1,6}}):)?(?P<{0}m>[0-9]{{1,2}}):(?P<{0}s>[0-9]{{1,2}})(?:(?P<{0}mark>[.,])(?P<{0}f>[0-9]{{1,9}}))?"
_ARROW = r"(?P<before>[ \t\f]*)(?P<arrow>-->|->|--&gt;|[\u2013\u2014]>|\u2192)(?P<after>[ \t\f]*)"
_TIMING = re.compile(r"[ \t\f]*" + _TIME.format("a") + _ARROW + _TIME.format("b") + r"(?=[ \t\f]|$)(?P<settings>.*)")
#: A line that was meant to be a timing: an arrow with nothing but the characters of a time before it, or a time behind it.
_MEANT = re.compile(r"[\s0-9:.,\-+]*-->|[^\[(]{0,80}-->\s*[-+]?[0-9]+:")

_STRICT_HOURS = {"webvtt": re.compile(r"[0-9]+"), "subrip": re.compile(r"[0-9]{2,}")}
_FRACTION_MARK = {"webvtt": ".", "subrip": ","}

UNREADABLE = "the times of this cue cannot be read; its words are kept without a time"
ENDS_EARLY = "the cue ends before it begins; its end is left out"

Format = Literal["webvtt", "subrip"]


@dataclass(frozen=True, slots=True)
class Timing:
    """A cue's seconds, absent where the line cannot be read, and what was irregular about the line."""

    start_s: float | None
    end_s: float | None
    faults: tuple[str, ...] = ()


def parse_timing(line: str, format_name: Format) -> Timing | None:
    """The times in ``line``, or None if it is no timing line.

    >>> parse_timing("00:01.000 --> 00:02.500 align:left", "webvtt")
    Timing(start_s=1.0, end_s=2.5, faults=())
    >>> parse_timing("below 9 --> 8", "webvtt") is None
    True
    """
    if ">" not in line and "\u2192" not in line and "--&gt;" not in line:
        return None
    match = _TIMING.match(line)
    if match is None:
        unreadable = Timing(None, None, (UNREADABLE,))
        return unreadable if _MEANT.match(line) else None
    start_s = seconds(match["ah"], match["am"], match["as"], match["af"])
    end_s = seconds(match["bh"], match["bm"], match["bs"], match["bf"])
    faults = _faults(match, format_name)
    if end_s < start_s:
        return Timing(start_s, None, (*faults, ENDS_EARLY))
    return Timing(start_s, end_s, faults)


def _faults(match: re.Match[str], format_name: Format) -> tuple[str, ...]:
    """Each deviation from the format's grammar, in words."""
    faults: list[str] = []
    if match["arrow"] != "-->" or not match["before"] or not match["after"]:
        faults.append("the arrow between the times is not ' --> '")
    marks = {match["amark"], match["bmark"]} - {None}
    if marks - {_FRACTION_MARK[format_name]}:
        faults.append(f"the fraction of a second does not begin with '{_FRACTION_MARK[format_name]}'")
    if any(len(match[name] or "") != 3 for name in ("af", "bf")):
        faults.append("the fraction of a second does not have 3 digits; read as a decimal fraction")
    if any(not _field_is_strict(match, side, format_name) for side in "ab"):
        faults.append("the time does not have the digits that the format asks for")
    return tuple(faults)


def _field_is_strict(match: re.Match[str], side: str, format_name: Format) -> bool:
    hours, minutes, secs = match[f"{side}h"], match[f"{side}m"], match[f"{side}s"]
    if hours is None and format_name == "subrip":
        return False
    if hours is not None and not _STRICT_HOURS[format_name].fullmatch(hours):
        return False
    return len(minutes) == len(secs) == 2 and int(minutes) < 60 and int(secs) < 60
