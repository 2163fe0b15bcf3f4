"""Times of TTML: clock times with fractions or frames, offset times in hours to ticks (W3C TTML2, 8.2 and 12.3)."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from opnote.transcript.clock import finite, seconds

_CLOCK = re.compile(
    r"(?P<h>[0-9]{1,6}):(?P<m>[0-9]{1,2}):(?P<s>[0-9]{1,2})"
    r"(?:[.,](?P<f>[0-9]{1,9})|[:;](?P<frames>[0-9]{1,6})(?:\.(?P<sub>[0-9]{1,6}))?)?"
)
_OFFSET = re.compile(r"(?P<count>[0-9]{1,12}(?:\.[0-9]{1,9})?)(?P<metric>h|ms|m|s|f|t)")
_METRIC_S = {"h": 3600.0, "m": 60.0, "s": 1.0, "ms": 0.001}


@dataclass(frozen=True, slots=True)
class FrameCount:
    """How a clock that counts frames runs: frames it counts to a second, frames there are in one, and the counts it leaves out.

    ``dropped`` gives the counts left out up to an hour and a minute (TTML2, 7.2.2 and annex on time expressions).
    """

    counted: float
    real: float
    dropped: Callable[[int, int], int]


@dataclass(frozen=True, slots=True)
class Rates:
    """Frames and ticks a second, sub-frames a frame; 30, 1 and 1 where the file does not say (TTML2, 7.2).

    ``count`` is there where the file's clock counts frames (time base "smpte") and so may run slower than seconds.
    """

    frames: float = 30.0
    subframes: float = 1.0
    ticks: float = 1.0
    count: FrameCount | None = None


#: Counts left out by the clock up to an hour and minute: two a minute but the tenth; four every second minute but the twentieth.
_DROPPED: dict[str, Callable[[int, int], int]] = {
    "dropNTSC": lambda hour, minute: 2 * (54 * hour + minute - minute // 10),
    "dropPAL": lambda hour, minute: 4 * (27 * hour + minute // 2 - minute // 20),
}


def rates(attributes: Mapping[str, str]) -> Rates:
    """The rates that the root element states.

    >>> rates({"frameRate": "24", "frameRateMultiplier": "1000 1001"}).frames
    23.976
    """
    frame_rate = _positive(attributes.get("frameRate"))
    subframes = _positive(attributes.get("subFrameRate")) or 1.0
    tick_rate = _positive(attributes.get("tickRate"))
    counted = frame_rate or 30.0
    real = counted * _multiplier(attributes.get("frameRateMultiplier", ""))
    dropped = _DROPPED.get(attributes.get("dropMode", ""), lambda hour, minute: 0)
    count = FrameCount(counted, real, dropped) if attributes.get("timeBase") == "smpte" else None
    return Rates(round(real, 3), subframes, tick_rate or (frame_rate * subframes if frame_rate else 1.0), count)


def time_s(value: str, rate: Rates) -> float | None:
    """Seconds of a time expression, or None if it is none.

    >>> time_s("00:00:01:15", Rates()), time_s("2.5s", Rates()), time_s("soon", Rates())
    (1.5, 2.5, None)
    """
    value = value.strip()
    if (clock := _CLOCK.fullmatch(value)) is not None:
        frames = int(clock["frames"] or 0) + int(clock["sub"] or 0) / rate.subframes
        if rate.count is not None:
            return _counted_s(clock, frames, rate.count)
        return round(seconds(clock["h"], clock["m"], clock["s"], clock["f"]) + frames / rate.frames, 3)
    offset = _OFFSET.fullmatch(value)
    if offset is None:
        return None
    unit_s = {**_METRIC_S, "f": 1 / rate.frames, "t": 1 / rate.ticks}[offset["metric"]]
    return round(float(offset["count"]) * unit_s, 3)


def _counted_s(clock: re.Match[str], frames: float, count: FrameCount) -> float:
    hour, minute = int(clock["h"]), int(clock["m"])
    counted = seconds(clock["h"], clock["m"], clock["s"], clock["f"]) * count.counted + frames
    return round((counted - count.dropped(hour, minute)) / count.real, 3)


def _positive(value: str | None) -> float | None:
    number = finite(value)
    return number if number is not None and number > 0 else None


def _multiplier(value: str) -> float:
    parts = [_positive(part) for part in value.replace(":", " ").split()]
    return parts[0] / parts[1] if len(parts) == 2 and parts[0] and parts[1] else 1.0
