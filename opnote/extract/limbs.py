"""The limb a statement speaks of: what is said of the knee that is not operated on belongs to nothing of this case."""

from __future__ import annotations

from collections.abc import Iterable

from opnote.extract.frames import Slot
from opnote.extract.scene import Scene

BESIDE = 2  # words between a side and its limb ("right knee", "the knee on the right")


def operated_side(slots: Iterable[Slot]) -> str | None:
    """The side of the operation, or None where none or more than one was said."""
    sides = {str(slot.value) for slot in slots if slot.attribute == "side"}
    return sides.pop() if len(sides) == 1 else None


def other_limb(scene: Scene, operated: str | None) -> str | None:
    """ "knee" or "leg" where a statement names that of the side not operated on ("the right leg can take full weight"), else None.

    A statement that names the operated side too is of both and so of neither alone.
    """
    sides = [m for m in scene.of("side") if m.value in ("left", "right")]
    if operated not in ("left", "right") or not sides or any(m.value == operated for m in sides):
        return None
    for mention in sides:
        beside = scene.talk.words[max(scene.statement.start, mention.start - BESIDE) : mention.end + BESIDE]
        for limb in ("knee", "leg"):
            if limb in beside:
                return limb
    return None


def of_another_joint(scene: Scene) -> bool:
    """Whether a statement speaks of another joint than the knee: its ligaments and drawers are none of the knee's."""
    return scene.says("other-joints") and "knee" not in scene.words
