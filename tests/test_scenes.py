"""The scenes as they stand: what each misses and springs is a line of a snapshot, read at each change; of the sealed ones only the sum."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from opnote.pipeline import run
from opnote.transcript import read_bytes
from tests.scenes import Played, holds, played, scenes
from tests.score import lexicon as _lexicon

SEEN, SEALED = "scenes.toml", "sealed_scenes.toml"
MOST_SPRUNG = 0.04  # share of the seen scenes' traps; a floor that may only fall


def test_what_the_scenes_give_and_spring(snapshot: Callable[[str, str], None]) -> None:
    """A trap that is sprung by a change shows in the difference of this snapshot."""
    seen, sealed = ([played(scene) for scene in scenes(file)] for file in (SEEN, SEALED))
    rows = "".join(f"{result.scene.said}\n{_lines(result)}" for result in seen if result.missed or result.sprung)
    snapshot("scenes.txt", f"{rows}\n{_sum('seen', seen)}{_sum('sealed', sealed)}")
    assert sum(len(result.sprung) for result in seen) <= MOST_SPRUNG * sum(len(result.scene.lacks) for result in seen)


def _lines(result: Played) -> str:
    return "".join([*(f"  + {thing}\n" for thing in result.missed), *(f"  ! {thing}\n" for thing in result.sprung)])


def _sum(name: str, results: list[Played]) -> str:
    gives, lacks = sum(len(r.scene.gives) for r in results), sum(len(r.scene.lacks) for r in results)
    missed, sprung = sum(len(r.missed) for r in results), sum(len(r.sprung) for r in results)
    return f"{len(results)} {name}: given {gives - missed} of {gives}, sprung {sprung} of {lacks}\n"


@pytest.mark.parametrize(
    ("thing", "held"),
    [
        ("tunnel: bone=femur; diameter_mm=9", True),
        ("tunnel: diameter_mm=9.0", True),
        ("tunnel: bone=tibia; diameter_mm=9", False),
        ("implant: kind=staple", False),
    ],
)
def test_a_record_holds_a_thing_or_not(thing: str, held: bool) -> None:
    said = b"Left knee, ACL reconstruction. The femoral tunnel was nine millimetres wide."
    assert holds(run(read_bytes(said, name="said.txt"), lexicon=_lexicon()).record, thing) == held
