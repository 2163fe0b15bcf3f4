"""How the slots that a statement offers to a kind of thing become its frames."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from opnote.extract.frames import Frame, Slot, arrange
from opnote.extract.model import Choice
from opnote.extract.scene import Scene

Rule = Callable[[Scene, Sequence[Choice], frozenset[str]], list[Frame]]
"""From a statement, the linker's choices in it and the ligaments of the operation to the frames of one kind of thing."""


def dealt(scene: Scene, kind: str, slots: Iterable[Slot]) -> list[Frame]:
    """Frames of one kind from the slots of a statement, without those that its table says are none ("the femur" is no tunnel)."""
    thing = scene.lexicon.things[kind]
    frames = arrange(kind, scene.statement.index, slots, words=scene.talk.words)
    return [frame for frame in frames if frame.slots.keys() >= {*thing.needs} and frame.slots.keys() - {*thing.not_alone}]
