"""From the changes that the rules propose to the edits that replay: overlaps settled, spaces kept single."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from opnote.hearing.model import Edit, EditKind, Heard, Reading, replay
from opnote.spans import RawSpan, TextSpan
from opnote.transcript.model import Transcript

_LEANS_LEFT = frozenset(".,:;?!)-")
_TAKES_NO_SPACE = frozenset(("", " ", "(", "-"))  # after these no space is read


@dataclass(frozen=True, slots=True)
class Change:
    """The characters ``start`` to ``end`` of the dictated text are to be read as ``read_as``; the spaces around are not its business."""

    start: int
    end: int
    read_as: str
    kind: EditKind
    why: str
    ask: bool = False


@dataclass(frozen=True, slots=True)
class Doubt:
    """The characters ``start`` to ``end`` of the dictated text may be one of ``options``, likeliest first."""

    start: int
    end: int
    options: tuple[tuple[str, float], ...]
    why: str


def cased(heard: str, meant: str) -> str:
    """The word meant, with a capital where the word heard has one at its start.

    >>> cased("Various", "varus"), cased("peak", "PEEK")
    ('Varus', 'PEEK')
    """
    return meant[:1].upper() + meant[1:] if heard[:1].isupper() and meant.islower() else meant


def settled(changes: Iterable[Change], *, length: int) -> tuple[Change, ...]:
    """The changes in order of place; where two overlap, the one that was proposed first stands."""
    taken = bytearray(length)
    kept: list[Change] = []
    for change in changes:
        if change.end > change.start and not any(taken[change.start : change.end]):
            taken[change.start : change.end] = b"\1" * (change.end - change.start)
            kept.append(change)
    return tuple(sorted(kept, key=lambda change: change.start))


def heard_with(transcript: Transcript, changes: Sequence[Change], doubts: Iterable[Doubt] = ()) -> Heard:
    """The heard text that ``changes`` (settled) make of the transcript's text; it stays single-spaced."""
    edits = _edits(transcript.text, changes)
    return Heard(transcript, replay(transcript.text, edits), edits, _readings(edits, doubts))


def _edits(text: str, changes: Sequence[Change]) -> tuple[Edit, ...]:
    edits: list[Edit] = []
    at, last = 0, ""  # where the edit before ended in the dictated text, and the last character read so far
    for change in changes:
        edit, last = _spaced(text, at, last, change)
        edits.append(edit)
        at = edit.raw.end
    return tuple(edits)


def _spaced(text: str, at: int, last: str, change: Change) -> tuple[Edit, str]:
    """The edit of one change with the space that it makes superfluous, and the last character read after it."""
    start, end, read_as = change.start, change.end, change.read_as
    before = text[at:start][-1:] or last
    if not read_as or read_as[0] in _LEANS_LEFT:
        if before == " " and start > at and not text[end : end + 1].isalnum():
            start -= 1
            before = text[at:start][-1:] or last
        read_as = read_as if before else ""  # a mark needs something to lean on
    if text[end : end + 1] == " " and (read_as[-1:] or before) in _TAKES_NO_SPACE:
        end += 1
    edit = Edit(RawSpan(start, end), read_as, change.kind, change.why, change.ask)
    return edit, read_as[-1:] or before


def _readings(edits: Sequence[Edit], doubts: Iterable[Doubt]) -> tuple[Reading, ...]:
    """The doubts with their places in the heard text; a doubt about words that an edit already settles is dropped."""
    ends = [edit.raw.end for edit in edits]
    grown = [0]  # by how much the heard text has grown after each edit
    for edit in edits:
        grown.append(grown[-1] + len(edit.read_as) - (edit.raw.end - edit.raw.start))
    readings: list[Reading] = []
    for doubt in sorted(doubts, key=lambda doubt: doubt.start):
        done = bisect_right(ends, doubt.start)
        if done < len(edits) and edits[done].raw.start < doubt.end:
            continue
        readings.append(Reading(TextSpan(doubt.start + grown[done], doubt.end + grown[done]), doubt.options, doubt.why))
    return tuple(readings)
