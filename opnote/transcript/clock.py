"""Times as files write them -> seconds."""

from __future__ import annotations

import math


def seconds(hours: str | None, minutes: str, secs: str, fraction: str | None) -> float:
    """Seconds, to the millisecond, from the digits of a time; ``fraction`` is a decimal fraction ("5" is half a second).

    >>> seconds(None, "01", "02", "5")
    62.5
    """
    whole = int(hours or 0) * 3600 + int(minutes) * 60 + int(secs)
    return round(whole + (int(fraction) / 10 ** len(fraction) if fraction else 0.0), 3)


def finite(value: object) -> float | None:
    """``value`` as seconds or a share if it is a number that can be one; a text of digits counts.

    >>> finite("1.5"), finite(True), finite(float("nan"))
    (1.5, None, None)
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    try:
        number = float(value)
    except (ValueError, OverflowError):
        return None
    return number if math.isfinite(number) else None
