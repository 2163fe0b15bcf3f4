"""Several files of one dictation -> one transcript, in the order given, with the pauses between them as far as they are known."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace

from opnote.errors import TranscriptError
from opnote.moments import moment
from opnote.transcript.model import Mend, Segment, TimedWord, Transcript

#: A part whose first words begin so little before the last second above still goes on with its clock, as cues may overlap; in seconds,
#: and as a share of all that was said above.
_OVERLAP_S, _OVERLAP_SHARE = 2.0, 0.1

GOES_ON = "its seconds go on from the file before it"
BEGINS_ANEW = "its seconds begin anew; {} is added to them, and how long the pause before it was is not known"
EARLIER = "its seconds end before those of the file before it begin; are the files in order?"
LINES_GO_ON = "its lines are counted on from {}"


def joined(parts: Sequence[Transcript]) -> Transcript:
    """``parts`` as one transcript of the source and kind of the first; one part comes back as it is.

    Seconds that go on from the part above stay as they are, so that the pause between is kept; seconds that begin anew get the last
    second above added, and the whole is ``restarted``. Lines count on through the files. Raises ``TranscriptError`` for a file that is
    given twice.
    """
    _refuse_twice(parts)
    if len(parts) == 1:
        return parts[0]
    whole = parts[0]
    mends = [_named(mend, parts[0].name) for mend in parts[0].mends]
    lines = parts[0].lines
    for part in parts[1:]:
        added_s, told = _added(whole, part, lines)
        mends.extend(_named(mend, part.name) for mend in (*told, *part.mends))
        whole = _behind(whole, part, added_s or 0.0, lines)
        whole = replace(whole, restarted=whole.restarted or added_s is not None)
        lines += part.lines
    sums = "".join(part.sha256 for part in parts)
    return replace(
        whole,
        name=", ".join(part.name for part in parts),
        format=", ".join(dict.fromkeys(part.format for part in parts)),
        sha256=hashlib.sha256(sums.encode()).hexdigest(),
        mends=tuple(mends),
        lines=lines,
    )


def _refuse_twice(parts: Sequence[Transcript]) -> None:
    seen: dict[str, str] = {}
    for part in parts:
        if part.sha256 in seen:
            raise TranscriptError(f"the same file as {seen[part.sha256]}", where=part.name, hint="give each part of a dictation once")
        seen[part.sha256] = part.name


def _added(whole: Transcript, part: Transcript, lines: int) -> tuple[float | None, list[Mend]]:
    """The seconds to add to a part that begins anew, or None, and what is to be told of its seconds and lines."""
    begins_s, ends_s = _first_second(part), whole.duration_s
    if begins_s is None:
        return None, [Mend(None, LINES_GO_ON.format(lines))]
    if ends_s is None:
        return None, []
    if begins_s >= ends_s - min(_OVERLAP_S, _OVERLAP_SHARE * ends_s):
        return None, [Mend(None, GOES_ON)]
    told = [Mend(None, BEGINS_ANEW.format(moment(ends_s)))]
    first_s = _first_second(whole)
    if first_s and part.duration_s is not None and part.duration_s <= first_s:
        told.append(Mend(None, EARLIER, "time"))
    return ends_s, told


def _first_second(transcript: Transcript) -> float | None:
    return min((segment.start_s for segment in transcript.segments if segment.start_s is not None), default=None)


def _behind(whole: Transcript, part: Transcript, added_s: float, lines: int) -> Transcript:
    offset = len(whole.text) + 1
    segments = [_moved(segment, offset, added_s, lines) for segment in part.segments]
    segments[0] = replace(segments[0], paragraph=True)
    words = (
        TimedWord(w.start + offset, w.end + offset, _later(w.start_s, added_s), _later(w.end_s, added_s), w.confidence) for w in part.words
    )
    ends_s = None if part.duration_s is None else _later(part.duration_s, added_s)
    return replace(
        whole,
        text=f"{whole.text} {part.text}",
        segments=(*whole.segments, *segments),
        words=(*whole.words, *words),
        duration_s=max((second for second in (whole.duration_s, ends_s) if second is not None), default=None),
    )


def _moved(segment: Segment, offset: int, added_s: float, lines: int) -> Segment:
    return replace(
        segment,
        start=segment.start + offset,
        end=segment.end + offset,
        start_s=None if segment.start_s is None else _later(segment.start_s, added_s),
        end_s=None if segment.end_s is None else _later(segment.end_s, added_s),
        line=None if segment.line is None else segment.line + lines,
    )


def _later(second: float, added_s: float) -> float:
    return round(second + added_s, 3)


def _named(mend: Mend, name: str) -> Mend:
    return Mend(mend.line, f"{name}: {mend.what}", mend.kind)
