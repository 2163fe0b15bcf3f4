"""How a second of a recording is written, wherever people read it: the note, the worksheet, questions, traces, transcripts."""

from __future__ import annotations


def moment(second: float) -> str:
    """A second of a recording as m:ss, or from an hour on as h:mm:ss.

    >>> moment(187.4), moment(3725)
    ('3:07', '1:02:05')
    """
    minutes, rest = divmod(int(second), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"


def place(second: float | None, line: int | None) -> str:
    """Where words stand in their source: their moment, the line of a source without seconds, or nothing.

    >>> place(187.4, None), place(None, 12), place(None, None)
    ('3:07', 'line 12', '')
    """
    if second is not None:
        return moment(second)
    return f"line {line}" if line is not None else ""
