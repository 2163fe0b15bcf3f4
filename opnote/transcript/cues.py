"""Cues of WebVTT and SubRip: blocks of lines with a timing line, found even where blank lines and counters are missing."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from opnote.transcript.reading import MendLog
from opnote.transcript.timing import Format, Timing, parse_timing

#: A line with its number, from 1.
Line = tuple[int, str]

_COUNTER = re.compile(r"\s*[0-9]{1,9}\s*")
#: What may be left of a cue whose times were cut off: a counter, a part of a time, a part of the arrow.
_STUMP = re.compile(r"[\s0-9:.,>\-]*")

CUT_CUE = "the file stops in the middle of a cue; nothing of it can be read"


@dataclass(slots=True)
class Cue:
    """A timing line's number, its times and the lines of text under it."""

    line: int
    start_s: float | None
    end_s: float | None
    text: list[Line] = field(default_factory=list)


@dataclass(slots=True)
class _Block:
    """Lines between blank lines, split before each timing line but the first."""

    lines: list[Line] = field(default_factory=list)
    timing: Timing | None = None
    timing_at: int = -1


def read_cues(lines: Sequence[Line], format_name: Format, *, is_comment: Callable[[str], bool], log: MendLog) -> list[Cue]:
    """All cues in ``lines``; a block for whose first line ``is_comment`` holds is left out if it has no timing line of its own.

    Words that stand in no cue are kept: with the cue above, or in front of all cues without a time.
    """
    cues: list[Cue] = []
    last_line = next((number for number, text in reversed(lines) if text.strip()), 0)
    for block in _blocks(lines, format_name, log):
        if block.timing is None:
            if not is_comment(block.lines[0][1]):
                _keep_stray(block, cues, log, last=block.lines[-1][0] == last_line)
            continue
        _keep_lead(block, cues, format_name, log)
        line = block.lines[block.timing_at][0]
        for fault in block.timing.faults:
            log.note(line, fault)
        cues.append(Cue(line, block.timing.start_s, block.timing.end_s, block.lines[block.timing_at + 1 :]))
    if cues and not cues[-1].text:
        log.note(cues.pop().line, CUT_CUE)
    return cues


def _blocks(lines: Sequence[Line], format_name: Format, log: MendLog) -> Iterator[_Block]:
    block, counter = _Block(), 0
    for number, text in lines:
        if not text.strip():
            if block.lines:
                yield block
            block = _Block()
            continue
        timing = parse_timing(text, format_name)
        if timing is None:
            block.lines.append((number, text))
            continue
        if block.timing is not None or len(block.lines) > 1:
            log.note(number, "no empty line before this cue")
            tail = _tail(block, counter)
            if block.lines:
                yield block
            block = _Block(tail)
        counter = _counter(block, counter)
        block.timing, block.timing_at = timing, len(block.lines)
        block.lines.append((number, text))
    if block.lines:
        yield block


def _tail(block: _Block, counter: int) -> list[Line]:
    """The last line of ``block``, taken out of it, if it is the counter of the cue that follows."""
    if _COUNTER.fullmatch(block.lines[-1][1]) and counter and int(block.lines[-1][1]) == counter + 1:
        return [block.lines.pop()]
    return []


def _counter(block: _Block, counter: int) -> int:
    """The counter in front of the timing line that comes now, or the one before it."""
    if block.lines and _COUNTER.fullmatch(block.lines[-1][1]):
        return int(block.lines[-1][1])
    return counter


def _keep_lead(block: _Block, cues: list[Cue], format_name: Format, log: MendLog) -> None:
    """A line in front of the timing line is an identifier in WebVTT and a counter in SubRip; a SubRip line of words is kept."""
    lead = block.lines[: block.timing_at]
    if format_name == "webvtt":
        return
    if not lead:
        log.note(block.lines[0][0], "the cue has no counter")
    elif not _COUNTER.fullmatch(lead[-1][1]):
        _keep(lead, cues, log)


def _keep_stray(block: _Block, cues: list[Cue], log: MendLog, *, last: bool) -> None:
    if last and all(_STUMP.fullmatch(text) for _, text in block.lines):
        log.note(block.lines[0][0], CUT_CUE)
        return
    _keep(block.lines, cues, log)


def _keep(lines: list[Line], cues: list[Cue], log: MendLog) -> None:
    if cues:
        log.note(lines[0][0], "words after an empty line are kept with the cue above them")
        cues[-1].text.extend(lines)
        return
    log.note(lines[0][0], "words in front of the first cue are kept without a time")
    cues.append(Cue(lines[0][0], None, None, list(lines)))
