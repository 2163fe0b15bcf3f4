"""Tunnels and sockets: sizes, cortices and the landmark that their pin was measured from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from opnote.extract.dealing import dealt
from opnote.extract.frames import Frame, Slot
from opnote.extract.model import Choice
from opnote.extract.places import place
from opnote.extract.scene import Scene, apart, holds
from opnote.extract.slots import from_mention, near, won
from opnote.language.terms import Mention

CUT_WITHIN = 8  # words between a landmark and the incision that is measured from it
MEASURED_WITHIN = 8  # words between a distance and the landmark that it is measured from
ON = {"femur": "on-the-femur", "tibia": "on-the-tibia", "fibula": "on-the-fibula"}  # bones and the word sets of their landmarks


def tunnels(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """The tunnels of a statement: "the femoral tunnel was reamed to ten, twenty five deep"."""
    if scene.barred("tunnel") or (scene.of("augmentation kind") and not scene.anchors["tunnel"]):
        return []
    slots = _stepped(scene, won(scene, choices, "tunnel"))
    measured = list(distances(scene, slots))
    if scene.anchors["tunnel"]:
        slots += [from_mention("cortices", m) for m in scene.of("cortices") if not _of_a_screw(scene, m)]
    if scene.says("pins-and-sockets") or any(slot.attribute == "landmark_mm" for slot in slots):
        slots += _landmarks(scene, measured)
    if not slots:
        return []
    slots += [from_mention("bone", m) for m in scene.of("bone") if not any(holds(slot, m) for slot in slots)]
    frames = dealt(scene, "tunnel", slots)
    place(scene, frames, structures=structures)
    return frames


def _stepped(scene: Scene, slots: Sequence[Slot]) -> list[Slot]:
    """Reaming in steps ("to nine and then to ten"): the last diameter stands, the steps before it are kept as replaced."""
    out: list[Slot] = []
    for slot in slots:
        last = next((s for s in reversed(out) if s.attribute == "diameter_mm"), None)
        if slot.attribute == "diameter_mm" and last is not None and _goes_up(scene, last, slot):
            out.remove(last)
            slot = replace(slot, superseded=(*last.superseded, last, *slot.superseded))
        out.append(slot)
    return out


def _goes_up(scene: Scene, last: Slot, slot: Slot) -> bool:
    """Whether a diameter is the next step of the one before, and not that of another bone or tunnel."""
    renamed = any(last.end <= m.start < slot.start for m in scene.of("bone", "opens"))
    gap = set(scene.between(last.end, slot.start))
    return ("to" in gap or gap <= scene.words_of("between-steps")) and not renamed


def distances(scene: Scene, slots: Sequence[Slot]) -> Iterator[Slot]:
    """The landmark that each distance is measured from, placed just before its distance so that the two stay together."""
    for slot in slots:
        if slot.attribute != "landmark_mm":
            continue
        mark = next((m for m in _telling_landmarks(scene) if 0 <= m.start - slot.end <= MEASURED_WITHIN), None)
        if mark is not None:
            yield Slot("landmark", slot.start, mark.end, mark.value, why=(f"term {mark.term}", "measured from it"))


def _telling_landmarks(scene: Scene) -> list[Mention]:
    return [m for m in scene.of("landmark") if m.value not in scene.words_of("landmarks-of-either-side")]


def _landmarks(scene: Scene, measured: Sequence[Slot]) -> list[Slot]:
    """The landmarks of pins, those that a distance is measured from, and the bones that they stand on."""
    bound = {slot.end for slot in measured}
    named = [m for m in _telling_landmarks(scene) if m.end not in bound and not _of_a_cut(scene, m)]
    marks = [*(from_mention("landmark", m) for m in named), *measured]
    return [*marks, *(bone for mark in marks for bone in _bone_under(scene, mark))]


def _bone_under(scene: Scene, mark: Slot) -> Iterator[Slot]:
    for bone, name in ON.items():
        if mark.value in scene.words_of(name):
            yield Slot("bone", mark.start, mark.end, bone, inherited=True, why=("where the landmark is",))


def _of_a_screw(scene: Scene, cortices: Mention) -> bool:
    """Whether "both cortices" is said of a screw."""
    screw = near(scene, "implant", cortices)
    own = min((apart(cortices, anchor) for anchor in scene.anchors["tunnel"] if anchor != cortices), default=None)
    return screw is not None and (own is None or screw < own)


def _of_a_cut(scene: Scene, landmark: Mention) -> bool:
    """Whether a landmark is where the skin is cut."""
    incision = near(scene, "incision", landmark)
    return incision is not None and incision <= CUT_WITHIN
