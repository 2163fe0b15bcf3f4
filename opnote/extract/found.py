"""Implants that are found in the knee: one that is left there is none of today's, one that is taken out is called by its name before.

"There was a staple on the tibia. / It was left alone." - "The screw stood proud. / With the extractor it came out."
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.frames import FOUND, NAMED_ONLY, ONE_MORE, PLACE, SPOKEN_OF_AGAIN, WERE, Frame
from opnote.extract.scene import Scene

FOUND_WITHIN = 8  # words between "there was a" and the implant
LEFT_WITHIN = 5  # statements between an implant that is found and the words that leave it
TAKEN_WITHIN = 4  # statements between an implant that is only named and its coming out
LEAVES = "leaves"
ANOTHER = "another"
REMOVED, SCREW = "removed", "screw"
SIZES = frozenset({"diameter_mm", "length_mm"})


def mark_found(scene: Scene, frames: Sequence[Frame]) -> None:
    """Marks the kinds of implant that are told as being there ("there's a bioabsorbable screw deeper in the femur"), and "the screw"."""
    for frame in frames:
        kind = frame.slots.get("kind")
        if kind is None:
            continue
        lead = scene.lead(kind.start, 2)
        if len(lead) == 2 and lead[0] in WERE and lead[1] == ANOTHER:
            frame.slots["kind"] = kind = replace(kind, why=(*kind.why, ONE_MORE))
        if _is_found(scene, kind.start):
            frame.slots["kind"] = replace(kind, why=(*kind.why, FOUND))
        elif not scene.words_of("speaks-of-again").isdisjoint(scene.lead(kind.start, 1)):
            frame.slots["kind"] = replace(kind, why=(*kind.why, SPOKEN_OF_AGAIN))


def _is_found(scene: Scene, place: int) -> bool:
    lead = " ".join(scene.lead(place, FOUND_WITHIN))
    if scene.says("being-put-in"):
        return False
    return any(f" {said} " in f" {lead} " for said in scene.words_of("found-there"))


def without_left(frames: Sequence[Frame], scenes: Sequence[Scene]) -> list[Frame]:
    """The frames of a talk, in order, without the implants that were found and are told to be left as they are."""
    left = [scene.statement.index for scene in scenes if scene.of(LEAVES)]
    return [frame for frame in frames if not _is_left(frame, frames, left)]


def _is_left(frame: Frame, frames: Sequence[Frame], left: Sequence[int]) -> bool:
    """Whether an implant was found, nothing became of it, and the words that leave it come before the next implant is named."""
    kind = frame.slots.get("kind")
    if frame.type != "implant" or kind is None or FOUND not in kind.why or "disposition" in frame.slots:
        return False
    later = [other.statement for other in frames if other.type == frame.type and "kind" in other.slots and other.start > frame.start]
    until = min([*later, frame.statement + LEFT_WITHIN + 1])
    return any(at == frame.statement or frame.statement < at < until for at in left)


def is_fate_of(previous: Frame, frame: Frame, screws: frozenset[str]) -> bool:
    """Whether a frame tells no more than that the implant before it came out, and calls it "the screw" or by its kind."""
    kind = frame.slots.get("kind")
    own = {name for name, slot in frame.slots.items() if not slot.inherited}
    if own != {"kind", "disposition"} or kind is None or SPOKEN_OF_AGAIN not in kind.why or "disposition" in previous.slots:
        return False
    return previous.get("kind") == kind.value or (
        kind.value == SCREW and (previous.get("kind") in screws or previous.slots.keys() >= SIZES)
    )


def named_by_fate(frames: Sequence[Frame]) -> list[Frame]:
    """The frames of a talk without those that only name an implant; what comes out next is the one named last."""
    kept: list[Frame] = []
    named: Frame | None = None
    for frame in frames:
        if frame.type != "implant":
            kept.append(frame)
            continue
        if _is_only_named(frame):
            named = frame
            continue
        if named is not None and _is_its_fate(frame, named):
            for name, slot in named.slots.items():
                if name not in frame.slots or frame.slots[name].inherited:
                    frame.slots[name] = slot
        named = None
        kept.append(frame)
    return kept


def _is_only_named(frame: Frame) -> bool:
    return frame.slots.keys() - PLACE == {"kind"} and NAMED_ONLY in frame.slots["kind"].why


def _is_its_fate(frame: Frame, named: Frame) -> bool:
    """Whether a frame tells no more than that something came out, soon after an implant was named."""
    told = frame.slots.keys() - PLACE == {"disposition"} and frame.get("disposition") == REMOVED
    return told and frame.statement - named.statement <= TAKEN_WITHIN
