"""The labelled statements of ``tests/corpus``, read and scored: ``python -m tests.stance`` prints the confusion matrix.

A file holds one table for each stance, each with ``said``, a list of texts. ``[thing]`` is a thing to judge, with the stance of its
table; ``[thing=stance]`` has its own. `` / `` is a change of speaker that the recording shows. ``[[known_failure]]`` tables name
the ``stance`` they should have and the ``reason`` why they do not have it yet.
"""

from __future__ import annotations

import argparse
import re
import tomllib
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from opnote.hearing import hear
from opnote.language.phrases import Phrasebook
from opnote.language.talk import Talk, understand
from opnote.lexicon import Lexicon, load
from opnote.transcript import read_bytes

CORPUS = Path(__file__).parent / "corpus"
STANCES = ("done", "planned", "option", "rule", "not done", "elsewhere", "question", "ghost")
MARKED = re.compile(r"\[([^\]=]+)(?:=([^\]]+))?\]")
TURN_S = 4


@dataclass(frozen=True, slots=True)
class Thing:
    """A thing in a text: the characters where it begins and ends, and the stance it should have."""

    start: int
    end: int
    stance: str


@dataclass(frozen=True, slots=True)
class Labelled:
    """A text without its marks (turns joined by " / "), and the things in it."""

    text: str
    things: tuple[Thing, ...]
    reason: str = ""


def labelled(pattern: str) -> Iterator[Labelled]:
    """Every text of the corpus files whose name matches ``pattern``."""
    for path in sorted(CORPUS.glob(pattern)):
        for table, entries in tomllib.loads(path.read_text(encoding="utf-8")).items():
            for entry in entries:
                stance, reason = entry.get("stance", table), entry.get("reason", "")
                if stance not in STANCES or (table == "known_failure") != bool(reason):
                    raise ValueError(f"{path.name}: [[{table}]] needs a stance, and a reason where it is a known failure")
                yield from (_parsed(said, stance, reason) for said in entry["said"])


def _parsed(said: str, stance: str, reason: str) -> Labelled:
    text, things, at = "", [], 0
    for found in MARKED.finditer(said):
        text += said[at : found.start()]
        things.append(Thing(len(text), len(text) + len(found[1]), found[2] or stance))
        text, at = text + found[1], found.end()
    return Labelled(text + said[at:], tuple(things), reason)


@cache
def tools() -> tuple[Lexicon, Phrasebook]:
    """The built-in lexicons with their phrase book, made once."""
    lexicon = load()
    return lexicon, Phrasebook(lexicon)


def talk_of(text: str) -> Talk:
    """What language makes of a text whose turns are parted by " / "."""
    lexicon, book = tools()
    turns = text.split(" / ")
    voices = [f"<v {'AB'[i % 2]}>{turn}" if len(turns) > 1 else turn for i, turn in enumerate(turns)]
    cues = "\n\n".join(f"{_clock(i)} --> {_clock(i + 1)}\n{voice}" for i, voice in enumerate(voices))
    return understand(hear(read_bytes(f"WEBVTT\n\n{cues}\n".encode(), name="said.vtt"), lexicon), lexicon, book)


def _clock(turn: int) -> str:
    minutes, seconds = divmod(turn * TURN_S, 60)
    return f"00:{minutes:02d}:{seconds:02d}.000"


def told(entry: Labelled) -> list[tuple[Thing, str]]:
    """Each thing of a text with the stance that the tool gives its first word."""
    talk = talk_of(entry.text)
    return [(thing, _stance_at(talk, place(entry.text, thing.start))) for thing in entry.things]


def place(text: str, start: int) -> int:
    """The character of the transcript, in which a turn's mark is no more than a space."""
    return start - 2 * text.count(" / ", 0, start)


def _stance_at(talk: Talk, char: int) -> str:
    token = next(t for t in talk.doc if talk.raw(t.i, t.i + 1).end > char)
    return talk.stance(token.i, token.i + 1).name


def confusion(entries: Iterable[Labelled]) -> Counter[tuple[str, str]]:
    """How often each stance (first) was taken for each (second)."""
    return Counter((thing.stance, found) for entry in entries for thing, found in told(entry))


def f1(matrix: Counter[tuple[str, str]], stance: str) -> float:
    """The F1 of one stance."""
    right = matrix[stance, stance]
    said = sum(n for (true, _), n in matrix.items() if true == stance)
    found = sum(n for (_, guess), n in matrix.items() if guess == stance)
    return 2 * right / (said + found) if said + found else 1.0


def macro_f1(matrix: Counter[tuple[str, str]]) -> float:
    """The mean F1 of the stances that occur."""
    return sum(f1(matrix, stance) for stance in STANCES) / len(STANCES)


def invented(matrix: Counter[tuple[str, str]]) -> int:
    """Things that would enter the record although they were not said to be done."""
    usable = ("done", "planned")
    return sum(n for (true, guess), n in matrix.items() if true not in usable and guess in usable)


def table(matrix: Counter[tuple[str, str]]) -> Iterator[str]:
    """The lines of a confusion matrix: true stances down, found ones across."""
    yield f"{'':10}" + "".join(f"{name:>10}" for name in STANCES) + f"{'F1':>8}"
    for true in STANCES:
        yield f"{true:10}" + "".join(f"{matrix[true, guess]:10}" for guess in STANCES) + f"{f1(matrix, true):8.3f}"
    right = sum(matrix[s, s] for s in STANCES)
    total = sum(matrix.values())
    yield f"right {right} of {total} ({right / total:.3f}), macro F1 {macro_f1(matrix):.3f}, invented {invented(matrix)}"


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the scores of the seen, the held and the sealed statements; ``--wrong`` also lists the seen ones that fail."""
    parser = argparse.ArgumentParser(prog="python -m tests.stance", description=main.__doc__)
    parser.add_argument("--wrong", action="store_true")
    wrong = parser.parse_args(arguments).wrong
    for name, pattern in (("seen", "stance_*.toml"), ("held", "held_stance*.toml"), ("sealed", "sealed_stance*.toml")):
        entries = list(labelled(pattern))
        print(f"\n{name}: {len(entries)} texts", *table(confusion(entries)), sep="\n")
        for entry in entries if wrong and name == "seen" else ():
            for thing, found in told(entry):
                if found != thing.stance:
                    print(f"  {thing.stance} taken for {found}: {entry.text[thing.start : thing.end]!r} in {entry.text!r}")


if __name__ == "__main__":
    main()
