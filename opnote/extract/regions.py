"""The part of the knee that the talk is in: a ligament elsewhere is not the topic ("the lateral epicondyle" is no place of the ACL)."""

from __future__ import annotations

from itertools import pairwise

from opnote.extract.scene import Scene
from opnote.language.terms import Mention

REGIONS = {  # word sets: the ligaments of each part of the knee, and the words that tell that the talk is there
    "medial-ligaments": "medial-places",
    "lateral-ligaments": "lateral-places",
    "central-ligaments": "central-places",
}
SIGNS = ("landmark", "bone", "tissue")  # vocabularies of which some values tell a region


def topic_structure(scene: Scene, structures: frozenset[str]) -> Mention | None:
    """The ligament under discussion: the one last named of ``structures``, unless the statement is in another part of the knee.

    There the only ligament worked on is the topic; of several none is, rather than a guess.
    """
    last = scene.focus.structure if scene.focus.structure is not None and scene.focus.structure.value in structures else None
    here = structures & _near(scene)
    if not here or (last is not None and last.value in here):
        return last
    return scene.focus.named.get(next(iter(here))) if len(here) == 1 else None


def _near(scene: Scene) -> frozenset[str]:
    """The ligaments of the one part of the knee of which the statement names places; none where it names no place, or several."""
    named = {m.value for m in scene.of(*SIGNS)} | {" ".join(pair) for pair in pairwise(scene.words)}
    told = [ligaments for ligaments, places in REGIONS.items() if not scene.words_of(places).isdisjoint(named)]
    return scene.words_of(told[0]) if len(told) == 1 else frozenset()
