"""Single timed words -> pieces of speech: a new one where somebody else speaks or a pause stands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from opnote.transcript.reading import Piece, SpokenWord

#: Silence of this many seconds ends a piece (common practice: recognisers cut at pauses of half a second to two seconds).
PAUSE_S = 1.0


@dataclass(frozen=True, slots=True)
class Heard:
    """A word with where it came from; ``timed`` is false where its times cannot be used."""

    word: SpokenWord
    timed: bool
    speaker: str | None
    line: int | None


def utterances(words: Iterable[Heard]) -> list[Piece]:
    """Group ``words``, which come in the order spoken."""
    groups: list[list[Heard]] = []
    for word in words:
        if not groups or _breaks(groups[-1][-1], word):
            groups.append([])
        groups[-1].append(word)
    return [_piece(group) for group in groups]


def joined(words: Iterable[str]) -> str:
    """Words in one text: with a blank between them, unless they bring their own.

    >>> joined(["left", "knee"]), joined([" mid", "-line"])
    ('left knee', ' mid-line')
    """
    texts = list(words)
    return ("" if any(text != text.strip() for text in texts) else " ").join(texts)


def by_time(pieces: Sequence[Piece]) -> list[Piece]:
    """Pieces of several channels, one channel behind the other, in the order of time; one without a time stays behind the one above it."""
    begun: list[float] = []
    for piece in pieces:
        begun.append(piece.start_s if piece.start_s is not None else begun[-1] if begun else 0.0)
    return [pieces[index] for index in sorted(range(len(pieces)), key=begun.__getitem__)]


def _breaks(before: Heard, word: Heard) -> bool:
    if before.speaker != word.speaker:
        return True
    if not (before.timed and word.timed):
        return False
    return word.word.start_s - before.word.end_s >= PAUSE_S or word.word.start_s < before.word.start_s


def _piece(group: list[Heard]) -> Piece:
    timed = tuple(heard.word for heard in group if heard.timed)
    return Piece(
        joined(heard.word.text for heard in group),
        group[0].line,
        timed[0].start_s if timed else None,
        max(word.end_s for word in timed) if timed else None,
        group[0].speaker,
        words=timed,
    )
