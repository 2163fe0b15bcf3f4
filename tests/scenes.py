"""Short scenes in which a value that was used stands beside one that was not: ``python -m tests.scenes``.

``tests/corpus/scenes.toml`` and ``sealed_scenes.toml`` hold tables ``[[scene]]``: ``said`` (turns parted by `` / ``), ``gives`` (things of
the record, each ``TYPE: NAME=VALUE; NAME=VALUE`` as in ``tests/links.py``) and ``lacks``, what must not be in it. Scenes whose SHA-256
divides by three are sealed: nobody reads them while lexicons and mechanism are written.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from opnote.pipeline import run
from opnote.record.model import Attribute, Entity, Record
from opnote.transcript import read_bytes
from tests.score import lexicon, same

CORPUS = Path(__file__).parent / "corpus"


@dataclass(frozen=True, slots=True)
class Scene:
    """What is said, the things it gives and those it lacks."""

    said: str
    gives: tuple[str, ...]
    lacks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Played:
    """What of a scene's ``gives`` its record has not, and what of its ``lacks`` it has."""

    scene: Scene
    missed: tuple[str, ...]
    sprung: tuple[str, ...]


def scenes(file: str) -> Iterator[Scene]:
    """The scenes of a corpus file."""
    for entry in tomllib.loads((CORPUS / file).read_text(encoding="utf-8"))["scene"]:
        yield Scene(entry["said"], tuple(entry["gives"]), tuple(entry["lacks"]))


def played(scene: Scene) -> Played:
    """A scene, read as a dictation."""
    turns = "\n\n".join(turn.strip() for turn in scene.said.split(" / "))
    record = run(read_bytes(turns.encode(), name="scene.txt"), lexicon=lexicon()).record
    missed = tuple(thing for thing in scene.gives if not holds(record, thing))
    return Played(scene, missed, tuple(thing for thing in scene.lacks if holds(record, thing)))


def holds(record: Record, thing: str) -> bool:
    """Whether one entity of a record has all values of a thing."""
    kind, _, pairs = thing.partition(":")
    wanted = [pair.strip().partition("=")[::2] for pair in pairs.split(";")]
    return any(all(_has(entity, name, value) for name, value in wanted) for entity in record.of(kind.strip()))


def _has(entity: Entity, name: str, wanted: str) -> bool:
    held = entity.attributes.get(name)
    return held is not None and (not wanted or any(_same(value, wanted) for value in _values(held)))


def _values(held: Attribute) -> Iterator[Any]:
    if held.candidates:
        yield from (candidate.value for candidate in held.candidates)
    elif held.value is not None:
        yield from held.value if isinstance(held.value, tuple) else (held.value,)


def _same(value: Any, wanted: str) -> bool:
    try:
        return same(float(value), float(wanted))
    except (TypeError, ValueError):
        return same(str(value), wanted)


def main() -> None:
    """Print what the seen scenes miss and spring, and the sums of both files."""
    for file in ("scenes.toml", "sealed_scenes.toml"):
        results = [played(scene) for scene in scenes(file)]
        if file == "scenes.toml" and "--wrong" in sys.argv[1:]:
            for result in results:
                lines = [*(f"    missed  {thing}" for thing in result.missed), *(f"    SPRUNG  {thing}" for thing in result.sprung)]
                print(*([result.scene.said, *lines] if lines else ()), sep="\n")
        gives, lacks = sum(len(r.scene.gives) for r in results), sum(len(r.scene.lacks) for r in results)
        missed, sprung = sum(len(r.missed) for r in results), sum(len(r.sprung) for r in results)
        print(f"{file}: {len(results)} scenes, given {gives - missed} of {gives}, sprung {sprung} of {lacks}")


if __name__ == "__main__":
    main()
