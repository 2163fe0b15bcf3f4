"""Pieces of speech -> one text with the place of every segment and every timed word in it."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from opnote.transcript.characters import spoken_characters
from opnote.transcript.model import Segment, TimedWord
from opnote.transcript.reading import MendLog, Piece, SpokenWord
from opnote.transcript.word_places import word_places


@dataclass(frozen=True, slots=True)
class Assembled:
    """The words of all pieces joined by single spaces, with offsets into that text."""

    text: str
    segments: tuple[Segment, ...]
    words: tuple[TimedWord, ...]
    duration_s: float | None


def assembled(pieces: Iterable[Piece], *, log: MendLog) -> Assembled:
    """Join ``pieces``; a piece without words leaves no segment, a word that its piece's text does not hold is noted in ``log``."""
    texts: list[str] = []
    segments: list[Segment] = []
    words: list[TimedWord] = []
    at, paragraph = 0, False
    for piece in pieces:
        text = spoken_characters(piece.text)
        paragraph = paragraph or piece.paragraph
        if not text:
            continue
        texts.append(text)
        start_s, end_s = _interval(piece)
        segments.append(Segment(at, at + len(text), start_s, end_s, piece.speaker, piece.line, paragraph and at > 0, piece.named))
        words.extend(_placed(piece, text, at, log))
        at, paragraph = at + len(text) + 1, False
    return Assembled(" ".join(texts), tuple(segments), tuple(words), _last_second(segments, words))


def _interval(piece: Piece) -> tuple[float | None, float | None]:
    """Begin and end of a piece, from its words where it has none of its own; one that ends as it begins has no end, as words take time."""
    start_s, end_s = piece.start_s, piece.end_s
    if piece.words:
        start_s = piece.words[0].start_s if start_s is None else start_s
        end_s = max(word.end_s for word in piece.words) if end_s is None else end_s
    return start_s, None if start_s is not None and end_s is not None and end_s <= start_s else end_s


def share_out(pieces: Sequence[Piece], start_s: float | None, end_s: float | None) -> list[Piece]:
    """Give pieces that stand under one time their part of it, in proportion to their letters; without an end all get the start."""
    lengths = [len(spoken_characters(piece.text)) for piece in pieces]
    total = sum(lengths)
    timed: list[Piece] = []
    done = 0
    for piece, length in zip(pieces, lengths, strict=True):
        begins, done = done, done + length
        start, end = _part(begins, done, total, start_s, end_s)
        timed.append(replace(piece, start_s=start, end_s=end))
    return timed


def _part(begins: int, ends: int, total: int, start_s: float | None, end_s: float | None) -> tuple[float | None, float | None]:
    if start_s is None or end_s is None or total == 0:
        return start_s, end_s
    length = end_s - start_s
    return (
        start_s if begins == 0 else round(start_s + length * begins / total, 3),
        end_s if ends == total else round(start_s + length * ends / total, 3),
    )


def _placed(piece: Piece, text: str, offset: int, log: MendLog) -> list[TimedWord]:
    """The piece's words with their places in the whole text."""
    placed: list[TimedWord] = []
    words = [part for word in piece.words for part in _single(word)]
    for word, place in zip(words, word_places(text, words), strict=True):
        if place is None:
            log.note(piece.line, "a timed word does not stand in the segment's text; its time is left out")
        else:
            placed.append(TimedWord(offset + place[0], offset + place[1], word.start_s, word.end_s, word.confidence))
    return placed


def _single(word: SpokenWord) -> list[SpokenWord]:
    """``word``, or the words that stand under one time ("twenty five"), each with its part of it."""
    texts = spoken_characters(word.text).split(" ")
    if len(texts) == 1:
        return [word]
    ends = list(itertools.accumulate(len(text) for text in texts))
    times = [round(word.start_s + (word.end_s - word.start_s) * end / ends[-1], 3) for end in (0, *ends)]
    return [
        SpokenWord(text, begins, stops, word.confidence) for text, (begins, stops) in zip(texts, itertools.pairwise(times), strict=True)
    ]


def _last_second(segments: Sequence[Segment], words: Sequence[TimedWord]) -> float | None:
    seconds = [second for segment in segments for second in (segment.start_s, segment.end_s) if second is not None]
    seconds.extend(word.end_s for word in words)
    return max(seconds, default=None)
