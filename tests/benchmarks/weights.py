"""How the score of the repository's dictations moves with each weight of the linker: ``python -m tests.benchmarks.weights [NAME ...]``.

Each weight is halved and doubled in turn, all others left alone. A row a weight: the change in values that are right, wrong and in
traps sprung, over all dictations, for both; and how many of the made-up phrases of ``tests/corpus/links_*.toml`` then fail. A weight that
moves nothing either way would earn no place; one that gains by being halved or doubled is set wrong, or the dictations are too few.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

from opnote.extract.extract import extract
from opnote.extract.weights import Weights
from opnote.hearing import hear
from opnote.language.talk import Talk, understand
from opnote.record.build import build
from opnote.transcript import read
from tests.corpora import DICTATIONS, SAMPLES, transcript_of
from tests.links import Link, fails, links
from tests.score import score
from tests.stance import tools

FACTORS = (0.5, 2.0)


@dataclass(frozen=True, slots=True)
class Tally:
    """What all dictations come to: values right and wrong, traps sprung, phrases that fail."""

    right: int
    wrong: int
    traps: int
    phrases: int

    def against(self, other: Tally) -> str:
        """The change against another tally."""
        pairs = zip(("right", "wrong", "traps", "phrases"), self._figures(), other._figures(), strict=True)
        return "  ".join(f"{name} {mine - theirs:+4d}" for name, mine, theirs in pairs)

    def _figures(self) -> tuple[int, ...]:
        return (self.right, self.wrong, self.traps, self.phrases)


def understood() -> list[tuple[Talk, dict[str, Any]]]:
    """Every dictation as language leaves it, with its gold: no weight bears on that."""
    lexicon, book = tools()
    cases = (*SAMPLES, *DICTATIONS)
    talks = (understand(hear(read(str(transcript_of(case))), lexicon), lexicon, book) for case in cases)
    return [(talk, json.loads((case / "gold.json").read_text(encoding="utf-8"))) for talk, case in zip(talks, cases, strict=True)]


def tally(talks: Iterable[tuple[Talk, dict[str, Any]]], phrases: Iterable[Link], weights: Weights) -> Tally:
    """What the dictations and the phrases come to under some weights."""
    lexicon, _ = tools()
    told = ((build([(talk, extract(talk, lexicon, weights=weights))], lexicon, version="benchmark"), gold) for talk, gold in talks)
    scores = [score(record, gold) for record, gold in told]
    return Tally(
        sum(len(one.right) for one in scores),
        sum(len(one.wrong) for one in scores),
        sum(len(one.traps) for one in scores),
        sum(fails(phrase, weights=weights) for phrase in phrases),
    )


def main(arguments: Sequence[str] | None = None) -> None:
    """Print a row a weight."""
    talks, phrases = understood(), [link for link in links() if not link.reason]
    as_set = Weights()
    base = tally(talks, phrases, as_set)
    print(f"as set: right {base.right}, wrong {base.wrong}, traps {base.traps}, phrases failing {base.phrases} of {len(phrases)}")
    for name in arguments or [field.name for field in fields(Weights)]:
        value = getattr(as_set, name)
        moved = [tally(talks, phrases, replace(as_set, **{name: factor * value})).against(base) for factor in FACTORS]
        print(f"{name:18} {value:6.2f}   halved: {moved[0]}   doubled: {moved[1]}", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
