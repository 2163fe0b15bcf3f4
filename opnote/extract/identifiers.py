"""Lots, serial and reference numbers, tissue numbers and expiry dates: which attribute of which thing they are."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.extract.frames import Slot
from opnote.extract.scene import Scene
from opnote.extract.slots import from_quantity
from opnote.language.model import Quantity
from opnote.language.phrases import Hit
from opnote.lexicon import AttributeEntry

REACH = 6  # words between a cue and what it announces
TISSUES = frozenset({"tissue", "source"})  # vocabularies that speak of a graft


def identifiers(scene: Scene, kind: str) -> Iterator[Slot]:
    """The identifiers and dates of a statement that belong to one kind of thing."""
    for quantity in scene.quantities:
        name = announced(scene, quantity, kind) if quantity.kind in ("identifier", "date") else None
        if name is not None and _owner(scene, quantity, name) == kind:
            yield from from_quantity(kind, name, quantity)


def announced(scene: Scene, quantity: Quantity, kind: str) -> str | None:
    """The attribute of a kind of thing whose cue stands nearest before an identifier or a date ("lot number K four one")."""
    cues = [
        (hit, hit.entry)
        for hit in scene.hits
        if isinstance(hit.entry, AttributeEntry) and hit.use == "before" and 0 <= quantity.start - hit.end <= REACH
    ]
    outer = [
        (hit, entry) for hit, entry in cues if not any(_lies_inside(hit, other) for other, _ in cues)
    ]  # "u h i d number" is no "i d number"
    fitting = [(hit, entry) for hit, entry in outer if entry.value == quantity.kind and entry.type == kind]
    if not fitting:
        return None
    return max(fitting, key=lambda cue: (cue[0].end, cue[0].end - cue[0].start))[1].name


def _lies_inside(hit: Hit, other: Hit) -> bool:
    """Whether a cue is the end of a longer one."""
    return other.start < hit.start and hit.end == other.end


def _owner(scene: Scene, quantity: Quantity, name: str) -> str:
    """Whether an identifier is the graft's or an implant's: as only one of them has such a one, or by what was spoken of last."""
    only = [kind for kind in ("graft", "implant") if (kind, name) in scene.lexicon.attributes]
    if len(only) == 1:
        return only[0]
    spoken = [(end, kind) for end, kind in _spoken_of(scene) if end <= quantity.start]
    if spoken:
        return max(spoken)[1]
    topics = scene.focus.topics
    return "graft" if (TISSUES | {"graft"}) & topics and "implant kind" not in topics else "implant"


def _spoken_of(scene: Scene) -> Iterator[tuple[int, str]]:
    """Where a statement speaks of a graft or an implant."""
    for mention in scene.of(*TISSUES, "implant kind"):
        yield mention.end, "graft" if mention.kind in TISSUES else "implant"
    yield from ((hit.end, "graft") for hit in scene.hits if _announces_tissue(hit))


def _announces_tissue(hit: Hit) -> bool:
    """Whether a hit is a cue of several words for a tissue number ("tissue number")."""
    entry = hit.entry
    return hit.use == "before" and isinstance(entry, AttributeEntry) and entry.name == "tissue_id" and hit.end - hit.start > 1
