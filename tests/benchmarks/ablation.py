"""What each part of the understanding is worth: ``python -m tests.benchmarks.ablation [FOLDER ...]``.

The dictations below the folders (of the repository, where none is named) are read six times: as they are, then with one part taken out.
A row each: precision, recall, F1, harm and traps sprung, over all dictations. Harm is the values of sizes, sides, implants, grafts and
tunnels that are wrong. For every live case over half an hour the last lines give the inventions to the hour of talk: wrong
values and traps sprung.

stance        everything is taken as said of this operation, and as done
focus         nothing carries on from one statement to the next: no topic, no bone, no examination
corrections   "nine, no, ten" are two values
speakers      the words are one speaker's
clock         the recording's seconds are unknown
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any
from unittest.mock import patch

from opnote.extract.scene import Focus
from opnote.language.stance import Stance
from opnote.pipeline import run
from opnote.transcript import read
from opnote.transcript.model import Transcript
from tests.corpora import DICTATIONS, SAMPLES, transcript_of
from tests.score import Score, lexicon, score

HARMFUL = ("implant.", "graft.", "tunnel.", "case.side", "procedure.side")
LONG_S, HOUR_S = 1800, 3600


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the understanding, and how to do without it: a patch, and what becomes of the transcript."""

    name: str
    without: Callable[[], AbstractContextManager[Any]] = nullcontext
    transcript: Callable[[Transcript], Transcript] = lambda whole: whole


def _no_stance(words: Sequence[str], *_: object, **__: object) -> tuple[Stance, ...]:
    return tuple(Stance() for _ in words)


def _no_focus(*_: object) -> Focus:
    return Focus()


def _no_corrections(*_: object, **__: object) -> tuple[()]:
    return ()


def _one_speaker(whole: Transcript) -> Transcript:
    return replace(whole, segments=tuple(replace(one, speaker=None, paragraph=False) for one in whole.segments))


def _untimed(whole: Transcript) -> Transcript:
    return replace(whole, segments=tuple(replace(one, start_s=None, end_s=None) for one in whole.segments), words=())


PARTS = (
    Part("nothing"),
    Part("stance", lambda: patch("opnote.language.talk.stances", _no_stance)),
    Part("focus", lambda: patch("opnote.extract.focus.moved", _no_focus)),
    Part("corrections", lambda: patch("opnote.language.talk.corrections", _no_corrections)),
    Part("speakers", transcript=_one_speaker),
    Part("clock", transcript=_untimed),
)


def scores(cases: Sequence[Path], part: Part) -> Mapping[Path, Score]:
    """The score of each case without a part."""
    with part.without():
        return {case: _score(case, part) for case in cases}


def _score(case: Path, part: Part) -> Score:
    gold = json.loads((case / "gold.json").read_text(encoding="utf-8"))
    return score(run(part.transcript(read(str(transcript_of(case)))), lexicon=lexicon()).record, gold)


def row(name: str, told: Sequence[Score]) -> str:
    """One line of the table."""
    right, wrong, missed, traps = (sum(len(getattr(one, field)) for one in told) for field in ("right", "wrong", "missed", "traps"))
    harm = sum(value.startswith(HARMFUL) for one in told for value in one.wrong)
    precision, recall = right / max(1, right + wrong), right / max(1, right + missed)
    f1 = 2 * precision * recall / max(1e-9, precision + recall)
    return f"{name:14} precision {precision:.4f}  recall {recall:.4f}  F1 {f1:.4f}  harm {harm:4}  traps {traps:4}"


def inventions(told: Mapping[Path, Score]) -> Iterator[str]:
    """For each long recording: what was invented to the hour of talk."""
    for case, one in told.items():
        seconds = read(str(transcript_of(case))).duration_s
        if seconds and seconds >= LONG_S:
            invented = len(one.wrong) + len(one.traps)
            yield f"{case.name:44} {seconds / HOUR_S:.2f} h  invented {invented:3}  to the hour {invented * HOUR_S / seconds:.1f}"


def main(folders: Sequence[str]) -> None:
    """Print the table, then the inventions to the hour."""
    named = [gold.parent for folder in folders for gold in sorted(Path(folder).rglob("gold.json"))]
    cases = named or [*SAMPLES, *DICTATIONS]
    whole = scores(cases, PARTS[0])
    print(f"{len(cases)} dictations; without ...")
    print(row("nothing", list(whole.values())), flush=True)
    for part in PARTS[1:]:
        print(row(part.name, list(scores(cases, part).values())), flush=True)
    print(*inventions(whole), sep="\n")


if __name__ == "__main__":
    main(sys.argv[1:])
