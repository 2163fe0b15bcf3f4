"""Plain text with time marks ("[0:16]", "[1:02:30]", "00:01:23") -> pieces of speech. No standard: common practice of recorders."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from opnote.transcript.assemble import share_out
from opnote.transcript.clock import seconds
from opnote.transcript.reading import MendLog, Piece, Reading
from opnote.transcript.speakers import with_speakers

_FRACTION = r"(?:[.,](?P<{0}f>[0-9]{{1,6}}))?"
_CLOCK = r"(?:(?P<{0}h>[0-9]{{1,3}}):)?(?P<{0}m>[0-9]{{1,3}}):(?P<{0}s>[0-9]{{2}})" + _FRACTION
_FULL_CLOCK = r"(?P<{0}h>[0-9]{{1,3}}):(?P<{0}m>[0-9]{{2}}):(?P<{0}s>[0-9]{{2}})" + _FRACTION
_TO = r"\s{{0,3}}(?:-->?|[\u2013\u2014\u2192]|to)\s{{0,3}}"


def _mark(clock: str, before: str, after: str) -> re.Pattern[str]:
    return re.compile(f"{before}{clock.format('a')}(?:{_TO.format()}{clock.format('b')})?{after}")


#: Each kind of mark: how it is written, and whether it also counts in the middle of a line (where only brackets are sure).
_SQUARE = _mark(_CLOCK, r"\[[ ]?", r"[ ]?\]")
_KINDS = (
    _SQUARE,
    _mark(_CLOCK, r"\([ ]?", r"[ ]?\)"),
    _mark(_FULL_CLOCK, "", r"(?=[ \t]|$)(?:[ \t]+[-\u2013|](?=[ \t]+[^\W\d_]))?"),
    _mark(_CLOCK, "", r"(?=[ \t]|$)(?:[ \t]+[-\u2013|](?=[ \t]+[^\W\d_]))?"),
)
#: Marks without brackets could be times of the day in a text: they must recur, run forward and begin half of the paragraphs.
_NEED_COMPANY = frozenset(_KINDS[1:])


@dataclass(slots=True)
class _Stretch:
    """A mark's seconds, and the paragraphs that stand under it, each a list of numbered lines."""

    start_s: float | None
    end_s: float | None
    line: int
    gap: bool = False
    paragraphs: list[list[tuple[int, str]]] = field(default_factory=list)


def mark_kind(text: str) -> re.Pattern[str] | None:
    """The kind of time mark that ``text`` is written with, or None for a text without.

    >>> mark_kind("[0:16] under a spinal") is _SQUARE
    True
    >>> mark_kind("10:20 antibiotic given") is None
    True
    """
    lines = [line for line in text.split("\n") if line.strip()]
    for kind in _KINDS:
        times = [_start(match) for line in lines if (match := kind.match(line.lstrip()))]
        if times and (kind not in _NEED_COMPANY or _in_company(times, lines, kind, text)):
            return kind
    return None


def _in_company(times: Sequence[float], lines: Sequence[str], kind: re.Pattern[str], text: str) -> bool:
    begins = sum(1 for paragraph in re.split(r"\n\s*\n", text) if kind.match(paragraph.lstrip()))
    paragraphs = 1 + len(re.findall(r"\n\s*\n", text))
    forward = all(earlier <= later for earlier, later in itertools.pairwise(times))
    first = kind.match(lines[0].lstrip()) is not None
    return first and forward and len(times) > 1 and (2 * len(times) >= len(lines) or 2 * begins >= paragraphs)


def read_timed_text(text: str) -> Reading:
    """Read a text with time marks; what stands under a mark lasts until the next one, what stands in front of all has no time."""
    kind = mark_kind(text) or _SQUARE
    log = MendLog()
    stretches = [stretch for stretch in _stretches(text, kind) if stretch.paragraphs or stretch.start_s is not None]
    _note_order(stretches, log)
    pieces: list[Piece] = []
    for stretch, following in zip(stretches, [*stretches[1:], None], strict=True):
        pieces.extend(share_out(_paragraphs(stretch), stretch.start_s, _end(stretch, following)))
    return Reading(tuple(with_speakers(pieces, timed=True)), log.mends())


def _stretches(text: str, kind: re.Pattern[str]) -> Iterator[_Stretch]:
    stretch, gap, fresh = _Stretch(None, None, 1), False, True
    for number, line in enumerate(text.split("\n"), start=1):
        if not line.strip():
            gap, fresh = True, True
            continue
        for match, words in _split(line, kind):
            if match is not None:
                yield stretch
                stretch, fresh = _Stretch(_start(match), _stop(match), number, gap=gap), True
            gap = False
            if words.strip():
                if fresh:
                    stretch.paragraphs.append([])
                stretch.paragraphs[-1].append((number, words))
                fresh = False
    yield stretch


def _split(line: str, kind: re.Pattern[str]) -> Iterator[tuple[re.Match[str] | None, str]]:
    """The marks in a line, each with the words behind it; words in front of the first come with None."""
    first = kind.match(line, len(line) - len(line.lstrip()))
    matches = list(kind.finditer(line)) if kind is _SQUARE else [first] if first else []
    starts = [match.start() for match in matches]
    before = line[: starts[0]] if starts else line
    if before.strip():
        yield None, before
    for match, stop in zip(matches, [*starts[1:], len(line)], strict=True):
        yield match, line[match.end() : stop]


def _start(match: re.Match[str]) -> float:
    return seconds(match["ah"], match["am"], match["as"], match["af"])


def _stop(match: re.Match[str]) -> float | None:
    return None if match["bm"] is None else seconds(match["bh"], match["bm"], match["bs"], match["bf"])


def _end(stretch: _Stretch, following: _Stretch | None) -> float | None:
    if stretch.start_s is None:
        return None
    end_s = stretch.end_s if stretch.end_s is not None else following.start_s if following else None
    return end_s if end_s is not None and end_s >= stretch.start_s else None


def _paragraphs(stretch: _Stretch) -> list[Piece]:
    return [
        Piece("\n".join(words for _, words in lines), lines[0][0], paragraph=stretch.gap or index > 0)
        for index, lines in enumerate(stretch.paragraphs)
    ]


def _note_order(stretches: Iterable[_Stretch], log: MendLog) -> None:
    latest = 0.0
    for stretch in stretches:
        if stretch.start_s is None:
            log.note(stretch.line, "words in front of the first time mark are kept without a time")
        elif stretch.start_s < latest:
            log.note(stretch.line, "this time mark is earlier than one above it")
        latest = max(latest, stretch.start_s or 0.0)
