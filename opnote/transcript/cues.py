"""Cues of WebVTT and SubRip: blocks of lines with a timing line, found even where blank lines and counters are missing."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from opnote.transcript.reading import MendLog
from opnote.transcript.timing import ENDS_EARLY, UNREADABLE, Format, Timing, parse_timing

#: A line with its number, from 1.
Line = tuple[int, str]

_COUNTER = re.compile(r"[ \t]*[0-9]{1,9}[ \t]*")
#: What may be left of a cue whose times were cut off: a counter, a part of a time, a part of the arrow.
_STUMP = re.compile(r"[\s0-9:.,>\-]*")

#: Lines that a file has behind the times of its last cue where the cue has no words: the end of that line, and an empty line.
_LINES_BEHIND = 2
CUT_CUE = "the file stops in the middle of a cue; nothing of it can be read"
#: Share of the cues that bear an identifier, above which a line that stands alone at the end of a file is one.
_IDENTIFIED = 0.9


@dataclass(slots=True)
class Cue:
    """A timing line's number, its times and the lines of text under it."""

    line: int
    start_s: float | None
    end_s: float | None
    text: list[Line] = field(default_factory=list)


@dataclass(slots=True)
class _Block:
    """Lines between blank lines, split before each timing line but the first; ``lead`` stands in front of the timing line."""

    lead: list[Line] = field(default_factory=list)
    timing: Timing | None = None
    timing_line: int = 0
    text: list[Line] = field(default_factory=list)

    @property
    def counter(self) -> int | None:
        """The counter in front of the timing line, or the number that is all there is."""
        return int(self.lead[-1][1]) if self.lead and _COUNTER.fullmatch(self.lead[-1][1]) else None


def read_cues(lines: Sequence[Line], format_name: Format, *, is_comment: Callable[[str], bool], log: MendLog) -> list[Cue]:
    """All cues in ``lines``; a block for whose first line ``is_comment`` holds is left out if it has no timing line of its own.

    Words that stand in no cue are kept: with the cue above, or in front of all cues without a time.
    """
    cues: list[Cue] = []
    counter = 0
    last_line = next((number for number, text in reversed(lines) if text.strip()), 0)
    identified = 0
    for block in _blocks(lines, format_name, log):
        if block.timing is not None:
            _note_lead(block, cues, format_name, log)
            cues.append(_cue(block.timing, block, log))
            identified += format_name == "webvtt" and len(block.lead) == 1
        elif is_comment(block.lead[0][1]):
            continue
        elif block.lead[-1][0] == last_line and _is_stump(block, identifiers=identified > _IDENTIFIED * len(cues)):
            log.note(block.lead[0][0], CUT_CUE, "cut")
        elif len(block.lead) == 1 and block.counter == counter + 1:
            log.note(block.lead[0][0], "a counter stands apart from its cue")
        else:
            _keep(block.lead, cues, log)
        counter = block.counter or counter
    if cues and not cues[-1].text and lines[-1][0] - cues[-1].line < _LINES_BEHIND:
        log.note(cues.pop().line, CUT_CUE, "cut")
    return cues


def _is_stump(block: _Block, *, identifiers: bool) -> bool:
    """Whether the lines of a block without times are what is left of a cue: a counter, a part of its times, an identifier."""
    return all(_STUMP.fullmatch(text) for _, text in block.lead) or (identifiers and len(block.lead) == 1)


def _cue(timing: Timing, block: _Block, log: MendLog) -> Cue:
    for fault in timing.faults:
        log.note(block.timing_line, fault, "time" if fault in (UNREADABLE, ENDS_EARLY) else "shape")
    return Cue(block.timing_line, timing.start_s, timing.end_s, block.text)


def _blocks(lines: Sequence[Line], format_name: Format, log: MendLog) -> Iterator[_Block]:
    """The blocks of a file; a timing line begins a new one also where no blank line stands in front of it."""
    block, counter = _Block(), 0
    for number, text in lines:
        timing = parse_timing(text, format_name)
        if not text.strip():
            if block.lead or block.timing:
                yield block
            block = _Block()
        elif timing is None:
            (block.text if block.timing else block.lead).append((number, text))
        else:
            if block.timing or len(block.lead) > 1:
                log.note(number, "no empty line before this cue")
                tail = _tail(block, counter)
                yield block
                block = _Block(tail)
            counter = block.counter or counter
            block.timing, block.timing_line = timing, number
    if block.lead or block.timing:
        yield block


def _tail(block: _Block, counter: int) -> list[Line]:
    """The last line of ``block``, taken out of it, if it is the counter of the cue that follows."""
    lines = block.text or block.lead
    if counter and block.text and _COUNTER.fullmatch(lines[-1][1]) and int(lines[-1][1]) == counter + 1:
        return [lines.pop()]
    return []


def _note_lead(block: _Block, cues: list[Cue], format_name: Format, log: MendLog) -> None:
    """What stands in front of the timing line is an identifier in WebVTT; in SubRip a counter, or words that are kept."""
    if format_name == "webvtt" or block.counter is not None:
        return
    if block.lead:
        _keep(block.lead, cues, log)
    else:
        log.note(block.timing_line, "the cue has no counter")


def _keep(lines: list[Line], cues: list[Cue], log: MendLog) -> None:
    if cues:
        log.note(lines[0][0], "words after an empty line are kept with the cue above them")
        cues[-1].text.extend(lines)
        return
    log.note(lines[0][0], "words in front of the first cue are kept without a time")
    cues.append(Cue(lines[0][0], None, None, list(lines)))
