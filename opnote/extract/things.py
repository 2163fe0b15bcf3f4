"""The kinds of thing that a statement may speak of, each with its rule; those that need little more than the tables stand here."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.dealing import Rule, dealt
from opnote.extract.frames import Frame, Slot
from opnote.extract.grafts import grafts
from opnote.extract.implants import implants
from opnote.extract.model import Choice
from opnote.extract.places import place
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention, mentioned, won
from opnote.extract.tunnels import distances, tunnels

FROM, FROM_WITHIN = "from", 6  # "from just above the epicondyle down to the pes" lies over no one bone
OVER_WITHIN = 4  # words between "over" and the bone that an incision lies over


def by_table(kind: str) -> Rule:
    """The rule of a kind that needs no more than the tables: what the linker ties to it, and the terms of its attributes."""

    def rule(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
        if scene.barred(kind):
            return []
        frames = dealt(scene, kind, [*won(scene, choices, kind), *_terms(scene, kind)])
        place(scene, frames, structures=structures)
        return frames

    return rule


def _terms(scene: Scene, kind: str) -> Iterator[Slot]:
    """The terms of a kind's attributes, but those that are lent to it; where a mode is its own, only in such a statement."""
    thing = scene.lexicon.things[kind]
    if thing.mode not in ("", scene.mode):
        return
    for entry in scene.lexicon.of(kind):
        if entry.terms is not None and entry.name not in thing.lent:
            yield from mentioned(scene, entry.name, entry.terms)


def incisions(scene: Scene, choices: Sequence[Choice], _: frozenset[str]) -> list[Frame]:
    """Skin incisions with their length: "a six centimetre incision over the medial femur"."""
    slots = won(scene, choices, "incision")
    if not slots:
        return []
    over = scene.words_of("lies-over")
    bones = [m for m in scene.of("bone") if FROM not in scene.lead(m.start, FROM_WITHIN)]
    slots += [from_mention("bone", m) for m in bones if not over.isdisjoint(scene.lead(m.start, OVER_WITHIN))]
    return dealt(scene, "incision", slots)


def augmentations(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """A proximal tibial attachment, a suture tape laid over a graft or a repair."""
    if scene.barred("augmentation"):
        return []
    slots = list(mentioned(scene, "kind", "augmentation kind"))
    if slots or "augmentation" in scene.focus.topics:
        lengths = [slot for kind in ("augmentation", "tunnel") for slot in won(scene, choices, kind) if slot.attribute == "landmark_mm"]
        slots += [*lengths, *distances(scene, lengths)]
    frames = dealt(scene, "augmentation", slots)
    place(scene, frames, structures=structures)
    return frames


RULES: dict[str, Rule] = {
    "graft": grafts,
    "tunnel": tunnels,
    "implant": implants,
    "tensioning": by_table("tensioning"),
    "isometry": by_table("isometry"),
    "incision": incisions,
    "augmentation": augmentations,
}
