"""Findings: examinations of the knee with what they showed, and structures found intact, torn or worn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from opnote.extract.examinations import examined
from opnote.extract.frames import Frame, Slot
from opnote.extract.limbs import of_another_joint
from opnote.extract.model import Choice
from opnote.extract.scene import USABLE, Scene
from opnote.extract.seen import seen

LONGEST_TIME = 8  # words from "after" to what was done


def findings(scene: Scene, choices: Sequence[Choice]) -> list[Frame]:
    """All findings of a statement: "Lachman two B with a soft end point, lateral meniscus intact"."""
    if scene.barred("finding"):
        return []
    frames = [*examined(scene, choices), *seen(scene)]
    if of_another_joint(scene):
        frames = [frame for frame in frames if frame.get("exam") not in scene.words_of("examinations-of-stability")]
    for frame in frames:
        if frame.get("exam") in scene.words_of("examinations-of-stability"):
            frame.slots.setdefault("phase", _phase(scene, frame))
    return [copy for frame in frames for copy in _each(scene, frame)]


def _phase(scene: Scene, frame: Frame) -> Slot:
    """Whether an examination was done before or after the reconstruction: as said, else by its place in the operation."""
    said = scene.of("phase")
    if said:
        nearest = min(said, key=lambda m: abs(m.start - frame.start))
        return Slot("phase", nearest.start, nearest.end, nearest.value, why=("said",))
    if (told := _told_by_a_deed(scene)) is not None:
        return told
    exam = frame.slots["exam"]
    value = "after" if scene.focus.fixed else "before"
    return Slot("phase", exam.start, exam.end, value, inherited=True, why=("place in the operation",))


def _told_by_a_deed(scene: Scene) -> Slot | None:
    """ "After the PCL was fixed the drawer was negative", "nine before anything was done": the deed tells when."""
    start, words = scene.statement.start, scene.words
    named = {place - start for m in scene.spoken if m.kind == "structure" for place in range(m.start, m.end)}
    for place, word in enumerate(words):
        value = "before" if word == "before" else "after" if word in scene.words_of("after-a-deed") else None
        for end in range(place + 1, min(place + LONGEST_TIME, len(words))) if value is not None else ():
            if words[end] in scene.words_of("deeds-of-the-operation") and scene.talk.stances[start + end].name in USABLE:
                return Slot("phase", start + place, start + end + 1, value, why=("told by what was done then",))
            if end not in named and words[end] not in scene.words_of("before-a-deed"):
                break
    return None


def _each(scene: Scene, frame: Frame) -> Iterator[Frame]:
    """One finding for each of "both menisci", one for each of "varus and valgus"."""
    for name in ("structure", "exam"):
        slot = frame.slots.get(name)
        values = scene.lexicon.each.get(str(slot.value)) if slot is not None else None
        if slot is not None and values:
            for value in values:
                own = replace(slot, value=value, inherited=False)
                yield Frame(frame.type, frame.statement, {**frame.slots, name: own})
            return
    yield frame
