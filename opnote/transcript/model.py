"""What was dictated, with its seconds: the first noun of the pipeline."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from opnote.spans import RawSpan

MendKind = Literal["shape", "time", "cut", "end"]


@dataclass(frozen=True, slots=True)
class Segment:
    """One cue, line or paragraph of the source; ``start`` and ``end`` are characters of ``Transcript.text``.

    Seconds are absent where the source has none. ``speaker`` is the source's own label. ``line`` is the line of the file
    (from 1) on which the words begin. ``paragraph`` says that the source shows a break before this segment, ``named`` that the
    speaker's name stands among its words in the file ("Nurse: ...").
    """

    start: int
    end: int
    start_s: float | None = None
    end_s: float | None = None
    speaker: str | None = None
    line: int | None = None
    paragraph: bool = False
    named: bool = False


@dataclass(frozen=True, slots=True)
class TimedWord:
    """A word for which the recogniser gives seconds of its own, and perhaps its confidence (0 to 1)."""

    start: int
    end: int
    start_s: float
    end_s: float
    confidence: float | None = None


@dataclass(frozen=True, slots=True)
class Mend:
    """Something irregular in the file that the reader tolerated: the line and what was done about it.

    kind   shape: how the file is written; time: seconds that cannot be true; cut: the file plainly stops before its end; end: it may
    """

    line: int | None
    what: str
    kind: MendKind = "shape"


@dataclass(frozen=True)
class Transcript:
    """A dictation as the recogniser wrote it, never altered afterwards.

    ``text`` holds the words of all segments joined by single spaces; no other white space occurs in it, so a quote can be
    compared with the file by its words. ``source`` is the id of the source in the record ("dictation", "addendum-1"). ``lines`` is how
    many lines the file has. ``restarted`` says that the clock of the recording does not run through: pauses of unknown length stand
    between several files.
    """

    source: str
    name: str
    sha256: str
    format: str
    text: str
    segments: tuple[Segment, ...]
    words: tuple[TimedWord, ...] = ()
    mends: tuple[Mend, ...] = ()
    duration_s: float | None = None
    kind: str = field(default="dictation")
    lines: int = 0
    restarted: bool = False

    @cached_property
    def _starts(self) -> list[int]:
        return [segment.start for segment in self.segments]

    @cached_property
    def _word_starts(self) -> list[int]:
        return [word.start for word in self.words]

    def segment_at(self, char: int) -> Segment:
        """The segment in which character ``char`` of the text stands (the first one for an empty text)."""
        return self.segments[max(0, bisect_right(self._starts, char) - 1)]

    def second_at(self, char: int, *, end: bool = False) -> float | None:
        """The second at which character ``char`` was said: from the word's own time, else in proportion within its segment."""
        if self.words:
            index = bisect_right(self._word_starts, char) - 1
            if index >= 0 and char <= self.words[index].end:
                return self.words[index].end_s if end else self.words[index].start_s
        segment = self.segment_at(char)
        if segment.start_s is None:
            return None
        if segment.end_s is None or segment.end <= segment.start:
            return segment.start_s
        share = (min(char, segment.end) - segment.start) / (segment.end - segment.start)
        return round(segment.start_s + share * (segment.end_s - segment.start_s), 2)

    def seconds(self, span: RawSpan) -> tuple[float | None, float | None]:
        """The seconds at which the words of ``span`` begin and end; absent for an untimed source."""
        return self.second_at(span.start), self.second_at(max(span.start, span.end - 1), end=True)

    def quote(self, span: RawSpan) -> str:
        """The words of ``span``, letter for letter."""
        return self.text[span.start : span.end]
