"""Names in front of what is said ("Nurse: left knee") -> speakers, where the file shows that they are names.

A dictated report has the same form ("Anesthesia: spinal"), so a word before a colon is taken for a name only if the file is a
conversation: names recur in it, and much of it is named.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from opnote.transcript.reading import Piece

_LABEL = re.compile(r"\s*(?P<name>[^\W\d_][\w.'\u2019-]{0,24}(?:[ ][\w.'\u2019-]{1,24}){0,3})[ ]?:(?:\s+(?=\S)|\s*$)")
#: Labels that recognisers number themselves ("S1", "SPEAKER_00") are names wherever they begin a timed piece.
_NUMBERED = re.compile(r"(?:S|SPK|SPKR|SPEAKER)[ _-]?[0-9]{1,3}", re.IGNORECASE)

#: Shares of the beginnings that bear a name: in a file that names every turn, and in one with a name where the speaker changes.
_ALL_NAMED = 0.9
_CONVERSATION = 0.3


def with_speakers(pieces: Sequence[Piece], *, timed: bool) -> list[Piece]:
    """Take the names off the pieces and make them speakers; without a break between, the next piece is the same speaker's."""
    names = speaker_names((piece.text for piece in pieces if piece.speaker is None), timed=timed)
    if not names:
        return list(pieces)
    named: list[Piece] = []
    for piece in pieces:
        name, words = split_name(piece.text, names) if piece.speaker is None else (piece.speaker, piece.text)
        said = name is not None and piece.speaker is None
        if name is None and named and not piece.paragraph:
            name = named[-1].speaker
        named.append(replace(piece, text=words, speaker=name, named=said))
    return named


def speaker_names(beginnings: Iterable[str], *, timed: bool) -> frozenset[str]:
    """The words before a colon that are names of speakers, from the beginnings of all turns or lines of a file.

    >>> sorted(speaker_names(["Nurse: Left?", "Surgeon: Left.", "Nurse: Noted.", "Surgeon: Go on."], timed=True))
    ['Nurse', 'Surgeon']
    >>> sorted(speaker_names(["Anesthesia: spinal.", "Position: supine.", "Complications: none."], timed=True))
    []
    """
    labels = [match["name"] if (match := _LABEL.match(text)) else None for text in beginnings]
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


def split_name(text: str, names: frozenset[str]) -> tuple[str | None, str]:
    """The name in front of ``text``, if it is one of ``names``, and the words behind it.

    >>> split_name("Nurse: left knee", frozenset({"Nurse"}))
    ('Nurse', 'left knee')
    """
    match = _LABEL.match(text)
    if match is None or match["name"] not in names:
        return None, text
    return match["name"], text[match.end() :]
