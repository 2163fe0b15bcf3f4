"""Tiers of labels that lie over one recording -> pieces of speech: which tiers are speech, whose, and which hold another's words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from opnote.errors import TranscriptError
from opnote.transcript.reading import MendLog, Piece, SpokenWord
from opnote.transcript.utterances import Heard, by_time, utterances

#: Names of tiers that hold sounds of speech, not words (common practice of aligners).
_SOUNDS = re.compile(r"(?:^|[\s_-])(?:phon(?:e|eme|es|emes|etics?)?|syll(?:able|ables)?|tones?|pitch|stress|visemes?|pos)$", re.IGNORECASE)
#: "Surgeon - words": a speaker's name in front of what the tier holds.
_OF_SPEAKER = re.compile(
    r"(?P<speaker>.*\S)\s*[-:_/]\s*(?:words?|utterances?|sentences?|transcripts?|text|ortho(?:graphy)?)", re.IGNORECASE
)
_WORDS_ONLY = re.compile(r"(?:words?|utterances?|sentences?|transcripts?|text|ortho(?:graphy)?)", re.IGNORECASE)
#: Labels of silence.
_NO_WORD = frozenset(("sil", "sp", "spn", "<sil>", "<eps>", "<p>", "<s>", "</s>", "#", "_"))
_NO_LETTER = re.compile(r"[\W_]+")


@dataclass(frozen=True, slots=True)
class Label:
    """The text of an interval or point, its line and its seconds."""

    text: str
    line: int
    start_s: float | None
    end_s: float | None

    @property
    def letters(self) -> str:
        """What is compared to tell that two tiers say the same."""
        return _NO_LETTER.sub("", self.text).casefold()


@dataclass(frozen=True, slots=True)
class Tier:
    """A layer of labels; ``intervals`` is false where its labels are points in time."""

    name: str
    line: int
    intervals: bool
    labels: tuple[Label, ...]


def pieces_of_tiers(tiers: Sequence[Tier], log: MendLog) -> list[Piece]:
    """The speech in ``tiers``, in the order of time. Raises ``TranscriptError`` where none has words."""
    spoken = [worded for tier in tiers if (worded := _worded(tier)).labels]
    words = [tier for tier in spoken if not _SOUNDS.search(tier.name.strip())]
    if not words:
        raise TranscriptError("a TextGrid without a tier of words", hint="give one with a tier of words or sentences")
    kept = [tier for tier in words if tier.intervals] or words
    for tier in spoken:
        if tier not in kept:
            log.note(tier.line, "a tier of points or of the sounds of speech is left out")
    voices = _same_words(kept)
    named = [_pieces(voice, _speaker(voice, alone=len(voices) == 1), log) for voice in voices]
    return by_time([piece for pieces in named for piece in pieces]) if len(named) > 1 else named[0]


def _worded(tier: Tier) -> Tier:
    return Tier(tier.name, tier.line, tier.intervals, tuple(label for label in tier.labels if label.text.strip() and not _silent(label)))


def _silent(label: Label) -> bool:
    return label.text.strip().lower() in _NO_WORD


def _same_words(tiers: Sequence[Tier]) -> list[list[Tier]]:
    """Tiers that say the same, together; the one with the fewest labels comes first."""
    groups: dict[str, list[Tier]] = {}
    for tier in tiers:
        groups.setdefault("".join(label.letters for label in tier.labels), []).append(tier)
    return [sorted(group, key=lambda tier: len(tier.labels)) for group in groups.values()]


def _speaker(voice: Sequence[Tier], *, alone: bool) -> str | None:
    """Whose tier it is: a lone tier only tells where a name stands in front of what it holds."""
    for tier in voice:
        if (found := _OF_SPEAKER.fullmatch(tier.name.strip())) is not None:
            return " ".join(found["speaker"].split())
    name = " ".join(voice[0].name.split())
    return None if alone or _WORDS_ONLY.fullmatch(name) else name or None


def _pieces(voice: Sequence[Tier], speaker: str | None, log: MendLog) -> list[Piece]:
    coarse, fine = voice[0].labels, voice[-1].labels
    if all(_is_word(label) for label in coarse):
        return utterances(
            Heard(_word(label), timed=label.start_s is not None and label.end_s is not None, speaker=speaker, line=label.line)
            for label in coarse
        )
    words = fine if all(_is_word(label) for label in fine) else ()
    pieces: list[Piece] = []
    at = 0
    for label in coarse:
        reached = _reach(words, at, len(label.letters))
        timed = tuple(_word(word) for word in words[at:reached] if word.start_s is not None and word.end_s is not None)
        pieces.append(Piece(label.text, label.line, label.start_s, label.end_s, speaker, words=timed))
        at = reached
    return pieces


def _reach(words: Sequence[Label], at: int, letters: int) -> int:
    """Where the words end that have so many letters from ``at`` on."""
    while at < len(words) and letters > 0:
        letters -= len(words[at].letters)
        at += 1
    return at


def _is_word(label: Label) -> bool:
    return len(label.text.split()) == 1


def _word(label: Label) -> SpokenWord:
    return SpokenWord(label.text.strip(), label.start_s or 0.0, label.end_s or 0.0)
