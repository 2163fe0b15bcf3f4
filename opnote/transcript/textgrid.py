"""TextGrid -> tiers of labels with times (the format's manual page: text that is no number, quoted text or <flag> is comment).

Long and short files hold the same numbers and quoted texts in the same order, so one reader reads both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from opnote.errors import TranscriptError
from opnote.transcript.clock import finite
from opnote.transcript.reading import MendLog, Reading
from opnote.transcript.tiers import Label, Tier, pieces_of_tiers

_HEAD = re.compile(r'\s*(?:File type\s*=\s*)?"(?:ooTextFile(?: short)?"|[^"\n]{0,40}chronological TextGrid)', re.IGNORECASE)
_TOKEN = re.compile(
    r'"(?P<text>[^"]*(?:""[^"]*)*)"|(?P<open>"[^"]*)|(?<![^\s=])!(?P<comment>[^\n]*)'
    r"|(?<![^\s=])(?P<number>[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]{1,3})?)(?!\S)"
)
_CLASSES = {"IntervalTier": 2, "TextTier": 1}
#: Numbers between the name of a tier and its first label: its begin, its end, and how many labels it has.
_TIER_NUMBERS = 3
_AS_TEXT = "save it as a text file"


def is_textgrid(text: str) -> bool:
    """Whether ``text`` begins as a TextGrid does.

    >>> is_textgrid('File type = "ooTextFile"'), is_textgrid("ooTextFile")
    (True, False)
    """
    return _HEAD.match(text) is not None


@dataclass(slots=True)
class _Open:
    """A tier that is being read; ``times`` is how many numbers stand before each label, ``declared`` the labels it says it has."""

    times: int
    line: int
    name: str | None = None
    declared: int | None = None
    labels: list[Label] = field(default_factory=list)


def read_textgrid(text: str) -> Reading:
    """Read a TextGrid: each tier of words is a speaker, or the words of the tier of sentences that says the same.

    Raises ``TranscriptError`` for one that lists its labels in the order of time, and for one without words.
    """
    if "chronological" in text[:80]:
        raise TranscriptError("a TextGrid in the order of time is not read", hint=_AS_TEXT)
    log = MendLog()
    tiers = _tiers(text, log)
    _note_counts(tiers, log)
    pieces = pieces_of_tiers([Tier(tier.name or "", tier.line, tier.times == 2, tuple(tier.labels)) for tier in tiers], log)
    return Reading(tuple(pieces), log.mends())


def _tiers(text: str, log: MendLog) -> list[_Open]:
    """The tiers in the order of the file; numbers gather until the text that they belong to."""
    tiers: list[_Open] = []
    numbers: list[str] = []
    for kind, value, line in _tokens(text):
        if kind == "number":
            numbers.append(value)
            continue
        if kind == "open":
            log.note(line, "the file stops in the middle of a label", "cut")
        if value in _CLASSES and _between_tiers(tiers, numbers):
            tiers.append(_Open(_CLASSES[value], line))
        elif tiers and tiers[-1].name is None:
            tiers[-1].name = value
        elif tiers:
            _add(tiers[-1], numbers, value, line, log)
        numbers.clear()
    if tiers and len(numbers) > (0 if tiers[-1].labels else _TIER_NUMBERS):
        log.note(text.count("\n") + 1, "the file stops in the middle of a label", "cut")
    return tiers


def _tokens(text: str) -> Iterator[tuple[str, str, int]]:
    """Numbers and texts with the line on which each begins."""
    line, at = 1, 0
    for match in _TOKEN.finditer(text):
        line, at = line + text.count("\n", at, match.start()), match.start()
        if match.lastgroup != "comment":
            kind = match.lastgroup or ""
            yield kind, match[kind].replace('""', '"').removeprefix('"' if kind == "open" else ""), line


def _between_tiers(tiers: Sequence[_Open], numbers: Sequence[str]) -> bool:
    """Whether a text that reads like the class of a tier is one: no times of a label stand in front of it."""
    return not tiers or not numbers or (not tiers[-1].labels and len(numbers) == _TIER_NUMBERS)


def _add(tier: _Open, numbers: Sequence[str], text: str, line: int, log: MendLog) -> None:
    if not tier.labels and len(numbers) > tier.times:
        count = finite(numbers[-tier.times - 1])
        tier.declared = int(count) if count is not None else None
    times = [finite(number) for number in numbers[-tier.times :]]
    start_s = times[0] if len(times) == tier.times else None
    end_s = times[1] if len(times) == tier.times == 2 else None
    if start_s is None or start_s < 0 or (tier.times == 2 and end_s is None):
        log.note(line, "a label's time is no number of seconds; its words are kept without it", "time")
        start_s = end_s = None
    elif end_s is not None and end_s < start_s:
        log.note(line, "a label ends before it begins; its end is left out", "time")
        end_s = None
    tier.labels.append(Label(text, line, _milli(start_s), _milli(end_s)))


def _milli(second: float | None) -> float | None:
    return None if second is None else round(second, 3)


def _note_counts(tiers: Sequence[_Open], log: MendLog) -> None:
    for tier in tiers:
        if tier.declared is not None and len(tier.labels) < tier.declared:
            log.note(tier.line, "a tier has fewer labels than it says", "cut" if tier is tiers[-1] else "shape")
