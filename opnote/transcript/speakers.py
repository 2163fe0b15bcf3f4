"""Names in front of what is said ("Nurse: left knee") -> speakers, where the file shows that they are names.

A dictated report has the same form ("Anesthesia: spinal"), so a word before a colon is taken for a name only if the file is a
conversation: names recur in it, and much of it is named.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from opnote.transcript.reading import Piece

_LABEL = re.compile(r"\s*(?P<name>[^\W\d_][\w.'\u2019-]{0,24}(?:[ ][\w.'\u2019-]{1,24}){0,3})[ ]?:\s+(?=\S)")
#: Labels that recognisers number themselves ("S1", "SPEAKER_00") are names wherever they begin a piece.
_NUMBERED = re.compile(r"(?:S|SPK|SPKR|SPEAKER)[ _-]?[0-9]{1,3}", re.IGNORECASE)

#: Shares of the pieces that begin with a name: of a file in which all do, and of one in which a name stands only where the speaker changes.
_ALL_NAMED = 0.9
_CONVERSATION = 0.3


def with_speakers(pieces: Sequence[Piece], *, timed: bool) -> list[Piece]:
    """Take the names off the pieces and make them speakers; a paragraph without a time of its own keeps the speaker above it."""
    labels = [_label(piece) for piece in pieces]
    names = _names(labels, timed=timed)
    if not names:
        return list(pieces)
    named: list[Piece] = []
    for piece, label in zip(pieces, labels, strict=True):
        if label in names:
            match = _LABEL.match(piece.text)
            named.append(replace(piece, text=piece.text[match.end() if match else 0 :], speaker=label))
        else:
            named.append(piece)
    return named


def _label(piece: Piece) -> str | None:
    match = _LABEL.match(piece.text) if piece.speaker is None else None
    return match["name"] if match else None


def _names(labels: Sequence[str | None], *, timed: bool) -> frozenset[str]:
    """The labels that are names of speakers."""
    counts = Counter(label for label in labels if label is not None)
    numbered = {label for label in counts if _NUMBERED.fullmatch(label)}
    if not timed and sum(counts[label] for label in numbered) < 2:
        numbered = set()
    recurring = {label for label, count in counts.items() if count > 1} | numbered
    share = sum(counts[label] for label in recurring) / max(1, len(labels))
    if share < _ALL_NAMED and (len(recurring) < 2 or share < _CONVERSATION):
        return frozenset(numbered)
    everyone_named = sum(counts.values()) >= _ALL_NAMED * len(labels)
    return frozenset(counts if everyone_named else recurring)
