"""What a row of a recogniser's JSON says of itself: its words, seconds, confidence and speaker, under any of the names in use.

No standard: names and units are common practice. Names are compared without capitals and underscores, so that ``startTime`` and
``start_time`` are one.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from opnote.transcript.clock import finite, seconds
from opnote.transcript.json_lines import Located
from opnote.transcript.reading import MendLog

#: Names of a segment's words, and of a single word's, the one with punctuation first.
TEXT = ("text", "transcript", "displaytext", "display", "sentence", "content", "value", "body", "word")
WORD = ("punctuatedword", "word", "text", "content", "value", "display", "utf8")

#: Seconds in a unit of the value, by name; the first that is there counts.
_START = {
    **dict.fromkeys(("start", "starttime", "begin", "from", "ts"), 1.0),
    **dict.fromkeys(("startms", "starttimems", "beginms", "offsetmilliseconds", "tstartms"), 0.001),
    "offsetinticks": 1e-7,
    "offset": 1.0,
}
_END = {
    **dict.fromkeys(("end", "endtime", "to", "endts", "resultendtime"), 1.0),
    **dict.fromkeys(("endms", "endtimems"), 0.001),
}
_LENGTH = {
    **dict.fromkeys(("dur",), 1.0),
    **dict.fromkeys(("durationmilliseconds", "durationms", "ddurationms"), 0.001),
    "durationinticks": 1e-7,
    "duration": 1.0,
}
_CONFIDENCE = ("confidence", "probability", "score", "conf")
_SPEAKER = ("speaker", "speakerlabel", "speakername", "speakertag", "speakerid")
_CHANNEL = ("channel", "channeltag", "channelid")

#: "offset" and "duration" in ticks of 100 ns are whole numbers, and a word lasts at least so many.
_TICKS, _TICK_S = 100_000, 1e-7

_NUMBER_S = re.compile(r"\s*(?P<number>[0-9]{1,12}(?:\.[0-9]{1,12})?)\s*s\s*")
_ISO = re.compile(r"PT(?:(?P<h>[0-9]{1,6})H)?(?:(?P<m>[0-9]{1,6})M)?(?:(?P<s>[0-9]{1,9}(?:\.[0-9]{1,12})?)S)?")
_CLOCK = re.compile(r"\s*(?:(?P<h>[0-9]{1,6}):)?(?P<m>[0-9]{1,3}):(?P<s>[0-9]{2})(?:[.,](?P<f>[0-9]{1,9}))?\s*")

NO_NUMBER = "a time that is no number of seconds is left out"


def plain(row: Mapping[str, object]) -> dict[str, object]:
    """``row`` by its names without capitals and underscores.

    >>> plain({"start_time": 1, "endTime": 2})
    {'starttime': 1, 'endtime': 2}
    """
    return {key.replace("_", "").lower(): value for key, value in row.items()}


def first_text(row: Mapping[str, object], names: Sequence[str]) -> str:
    """The first of ``names`` in the plain ``row`` that holds words; lines are put together."""
    for name in names:
        value = row.get(name)
        if isinstance(value, str) and value.strip():
            return value
    lines = row.get("lines")
    return "\n".join(line for line in lines if isinstance(line, str)) if isinstance(lines, list) and "lines" not in names else ""


def interval(row: Mapping[str, object], line: int, log: MendLog) -> tuple[float | None, float | None]:
    """Begin and end of the plain ``row`` in seconds, to the millisecond; a time that cannot be one is noted and absent."""
    if (pair := _pair(row)) is not None:
        return _second(pair[0], pair[2], line, log), _second(pair[1], pair[2], line, log)
    ticks = _in_ticks(row)
    start_s = _told(row, _START, ticks, line, log)
    end_s = _told(row, _END, ticks, line, log)
    if end_s is None and start_s is not None and (length := _told(row, _LENGTH, ticks, line, log)) is not None:
        end_s = round(start_s + length, 3)
    return start_s, end_s


def has_fraction(row: Mapping[str, object]) -> bool:
    """Whether a time in the plain ``row`` is written with a decimal point, as seconds are and milliseconds are not."""
    values = (row.get(name) for units in (_START, _END, _LENGTH) for name in units)
    return any(isinstance(value, float) or (isinstance(value, str) and "." in value) for value in values)


def _pair(row: Mapping[str, object]) -> tuple[object, object, float] | None:
    """Begin, end and unit where one value holds both: ``[begin, end]``, or ``{"from": ..., "to": ...}`` in milliseconds or by the clock."""
    timestamp, offsets, stamps = row.get("timestamp"), row.get("offsets"), row.get("timestamps")
    if isinstance(timestamp, list) and len(timestamp) == 2:
        return timestamp[0], timestamp[1], 1.0
    if isinstance(offsets, dict):
        return offsets.get("from"), offsets.get("to"), 0.001
    if isinstance(stamps, dict):
        return stamps.get("from"), stamps.get("to"), 1.0
    return None


def _in_ticks(row: Mapping[str, object]) -> bool:
    offset, duration = row.get("offset"), row.get("duration")
    return type(offset) is int and type(duration) is int and duration >= _TICKS


def _told(row: Mapping[str, object], units: Mapping[str, float], ticks: bool, line: int, log: MendLog) -> float | None:
    name = next((name for name in units if row.get(name) is not None), None)
    if name is None:
        return None
    return _second(row[name], _TICK_S if ticks and name in ("offset", "duration") else units[name], line, log)


def _second(value: object, unit: float, line: int, log: MendLog) -> float | None:
    if value is None:
        return None
    number = _number(value, unit)
    if number is None or number < 0:
        log.note(line, NO_NUMBER, "time")
        return None
    return round(number, 3)


def _number(value: object, unit: float) -> float | None:
    """Seconds of a number, of a text ("1.5", "1.5s", "PT1M2.5S", "0:01:02,5"), or of whole seconds with billionths."""
    if isinstance(value, Mapping) and value.keys() & {"seconds", "nanos"}:
        whole, billionths = finite(value.get("seconds", 0)), finite(value.get("nanos", 0))
        return None if whole is None or billionths is None else whole + billionths / 1e9
    number = finite(value)
    if number is not None:
        return number * unit
    if not isinstance(value, str):
        return None
    if (match := _NUMBER_S.fullmatch(value)) is not None:
        return float(match["number"])
    if (match := _ISO.fullmatch(value)) is not None and len(value) > len("PT"):
        return int(match["h"] or 0) * 3600 + int(match["m"] or 0) * 60 + float(match["s"] or 0)
    match = _CLOCK.fullmatch(value)
    return None if match is None else seconds(match["h"], match["m"], match["s"], match["f"])


def confidence(row: Mapping[str, object]) -> float | None:
    """The recogniser's confidence (0 to 1) in the plain ``row``."""
    number = finite(next((row[name] for name in _CONFIDENCE if row.get(name) is not None), None))
    return number if number is not None and 0 <= number <= 1 else None


def speaker(row: Mapping[str, object]) -> str | None:
    """Who speaks in the plain ``row``, by name or number."""
    return _label(row, _SPEAKER)


def channel(row: Mapping[str, object]) -> str | None:
    """The channel of the recording in the plain ``row``."""
    return _label(row, _CHANNEL)


def _label(row: Mapping[str, object], names: Sequence[str]) -> str | None:
    value = next((row[name] for name in names if row.get(name) is not None), None)
    if isinstance(value, Located):
        value = next((value[name] for name in ("name", "label", "id") if value.get(name) is not None), None)
    if isinstance(value, bool) or not isinstance(value, str | int):
        return None
    return " ".join(str(value).split()) or None
