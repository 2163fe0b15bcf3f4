"""What the recogniser itself was unsure of, where a slip would turn the meaning: numbers, sides, negations and their like."""

from __future__ import annotations

from opnote.hearing.edits import Doubt
from opnote.hearing.protected import is_number
from opnote.transcript.model import Transcript

_UNSURE = 0.5
"""Below this confidence a word is more likely wrong than right, if the recogniser's figures are honest (common practice)."""


def unsure(transcript: Transcript, guarded: frozenset[str]) -> list[Doubt]:
    """A doubt, with the word as its one option and the confidence as its weight, for each unsure number and word of ``guarded``."""
    doubts: list[Doubt] = []
    for word in transcript.words:
        heard = transcript.text[word.start : word.end]
        bare = heard.strip(".,;:?!").lower()
        if word.confidence is not None and word.confidence < _UNSURE and (is_number(bare) or bare in guarded):
            doubts.append(Doubt(word.start, word.end, ((heard, word.confidence),), "recogniser-unsure"))
    return doubts
