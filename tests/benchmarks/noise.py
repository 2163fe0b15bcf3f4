"""What a recogniser's errors do to the record: ``python -m tests.benchmarks.noise [FOLDER ...]``.

The dictations below the folders (of the repository, where none is named) are read as they are and with 3, 6 and 7.4 errors to the 100
words. The last is the rate of unedited dictations in Zhou et al. 2018 (JAMA Netw Open 1:e180530), whose shares the errors have: 35 %
words left out, 27 % put in, the rest put for others: by the table of mis-hearings where it has one, else by sound. The same run
gives the same errors. A row a rate: precision, recall, F1, harm and traps as in the ablation; sides and loads that are wrong; and
values of the record that quote words which nobody said (there must be none).
"""

from __future__ import annotations

import json
import random
import re
import sys
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rapidfuzz import fuzz

from opnote.lexicon import Lexicon
from opnote.pipeline import run
from opnote.record.model import Record
from opnote.transcript import read
from opnote.transcript.model import Segment, Transcript
from tests.benchmarks.ablation import row
from tests.corpora import DICTATIONS, SAMPLES, transcript_of
from tests.score import Score, lexicon, score

RATES = (0.0, 0.03, 0.06, 0.074)
LEFT_OUT, PUT_IN = 0.35, 0.27
SLIPPED_IN = ("a", "and", "the", "of", "to", "in", "it", "uh", "so", "that", "is", "on")
LIKE = 62.0  # rapidfuzz ratio from which two words sound alike enough to be taken for each other
SIDES = ("case.side", "procedure.side", "tensioning.stress", "tensioning.rotation")
SOUNDS = (("bpfv", "b"), ("cgjkqsxz", "c"), ("dt", "d"), ("l", "l"), ("mn", "m"), ("r", "r"))
WORD = re.compile(r"\S+")


@dataclass(frozen=True)
class Confusions:
    """What may be heard for a word: its entries in the table of mis-hearings, and words of the corpus of a like sound."""

    table: Mapping[str, Sequence[str]]
    sounds: Mapping[str, Sequence[str]]

    @classmethod
    def of(cls, lexicon: Lexicon, words: Iterable[str]) -> Confusions:
        """The confusions of a lexicon, and among some words."""
        table: dict[str, list[str]] = defaultdict(list)
        for entry in lexicon.mishearings:
            table[entry.meant.lower()] += entry.heard
        sounds: dict[str, list[str]] = defaultdict(list)
        for word in sorted(set(words)):
            sounds[sound(word)].append(word)
        return cls(table, sounds)

    def heard(self, word: str, rng: random.Random) -> str:
        """What is heard for a word; the word itself where nothing sounds like it."""
        plain = word.strip(".,;:?!").lower()
        likely = self.table.get(plain) or [
            other for other in self.sounds.get(sound(plain), ()) if other != plain and fuzz.ratio(plain, other) >= LIKE
        ]
        return word.lower().replace(plain, rng.choice(likely)) if likely and plain else word


def sound(word: str) -> str:
    """The consonants of a word by their kind, its first letter too.

    >>> sound("varus"), sound("various"), sound("fifteen")
    ('brc', 'brc', 'bbdm')
    """
    kinds = [kind for letter in word for letters, kind in SOUNDS if letter in letters]
    return "".join(kinds)[:4]


def spoilt(transcript: Transcript, rate: float, confusions: Confusions) -> Transcript:
    """A transcript with errors at a rate to the word; its seconds are those of its segments."""
    if not rate:
        return transcript
    rng = random.Random(f"{transcript.sha256} {rate}")
    text, segments = "", list[Segment]()
    for segment in transcript.segments:
        words = [said for word in WORD.findall(transcript.text[segment.start : segment.end]) for said in _said(word, rng, confusions, rate)]
        start = len(text) + bool(text)
        text = " ".join([*([text] if text else []), *words])
        if words:
            segments.append(replace(segment, start=start, end=len(text)))
    return replace(transcript, text=text, segments=tuple(segments), words=())


def _said(word: str, rng: random.Random, confusions: Confusions, rate: float) -> list[str]:
    if rng.random() >= rate:
        return [word]
    kind = rng.random()
    if kind < LEFT_OUT:
        return []
    return [word, rng.choice(SLIPPED_IN)] if kind < LEFT_OUT + PUT_IN else [confusions.heard(word, rng)]


def unsaid(record: Record, transcript: Transcript) -> int:
    """How many values quote words that do not stand in the transcript."""
    quotes = (w.quote for e in record.entities for a in e.attributes.values() for w in a.evidence)
    return sum(quote not in transcript.text for quote in quotes)


def main(folders: Sequence[str]) -> None:
    """Print the table."""
    named = [gold.parent for folder in folders for gold in sorted(Path(folder).rglob("gold.json"))]
    cases = named or [*SAMPLES, *DICTATIONS]
    read_once = {case: read(str(transcript_of(case))) for case in cases}
    words = (w.strip(".,;:?!").lower() for t in read_once.values() for w in WORD.findall(t.text))
    confusions = Confusions.of(lexicon(), (w for w in words if w.isalpha()))
    print(f"{len(cases)} dictations; errors to 100 words")
    for rate in RATES:
        told, invented = list[Score](), 0
        for case, whole in read_once.items():
            heard = spoilt(whole, rate, confusions)
            record = run(heard, lexicon=lexicon()).record
            told.append(score(record, json.loads((case / "gold.json").read_text(encoding="utf-8"))))
            invented += unsaid(record, heard)
        sides = sum(value.startswith(SIDES) for one in told for value in one.wrong)
        print(f"{row(f'{100 * rate:.1f}', told)}  sides {sides:3}  unsaid {invented}", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
