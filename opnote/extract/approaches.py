"""Whether a procedure was done open or arthroscopically: the approach said before it, behind it, or for the whole list."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention
from opnote.language.terms import Mention

ARTHROSCOPY = "diagnostic arthroscopy"
LIST_LASTS = 6  # statements after a procedure in which the approach of the whole list may be told
WITH_WITHIN = 6  # words between an arthroscopy and the "with" that leads to what was done through it


def approach(scene: Scene, named: Mention, left: int, right: int) -> Mention | None:
    """The approach said for a procedure: before its name, behind it at the end of a phrase, or by the arthroscopy it is done "with".

    ``left`` and ``right`` are where the names beside it end and begin.
    """
    said = scene.of("approach")
    before = [m for m in said if left <= m.start and m.end <= named.end + 1]
    behind = [m for m in said if named.end <= m.start < right and _ends_a_phrase(scene, m)]
    return before[-1] if before else behind[0] if behind else _through_the_scope(scene, named)


def _ends_a_phrase(scene: Scene, said: Mention) -> bool:
    """Whether an approach stands for itself ("reconstruction, open, using ...") and belongs to nothing behind it ("open repair")."""
    return said.end >= scene.statement.end or scene.talk.words[said.end] in scene.words_of("behind-an-approach")


def _through_the_scope(scene: Scene, named: Mention) -> Mention | None:
    """ "Left knee arthroscopy with chondroplasty": the arthroscopy, where no open step stands in between."""
    scopes = [m for m in scene.of("action") if m.value == ARTHROSCOPY and m.end <= named.start]
    if not scopes or scene.of("approach"):
        return None
    scope = scopes[-1]
    if "with" not in scene.between(scope.end, min(scope.end + WITH_WITHIN, named.start)):
        return None
    return Mention(scope.start, scope.end, "approach", "arthroscopic", scope.term)


def told_of_all(scene: Scene, frames: Iterable[Frame]) -> None:
    """ "All were performed arthroscopically", "both open", "it was an open procedure": gives it to the procedures that have none."""
    said = [m for m in scene.of("approach") if _is_of_all(scene, m)]
    if not said:
        return
    own = scene.of("action")
    for frame in frames:
        late = scene.statement.index - frame.statement > (0 if own else LIST_LASTS)
        if frame.get("action") != ARTHROSCOPY and not late:
            frame.slots.setdefault("approach", from_mention("approach", said[0]))


def told_ahead(scene: Scene) -> Slot | None:
    """The approach in the heading of a list of procedures: "Procedures, all right knee, all arthroscopic."."""
    if scene.section != "procedures" or scene.of("action", "structure"):
        return None
    said = [m for m in scene.of("approach") if scene.lead(m.start, 1) == ("all",) and _ends_a_phrase(scene, m)]
    return from_mention("approach", said[0]) if len(said) == 1 else None


def _is_of_all(scene: Scene, said: Mention) -> bool:
    words: Sequence[str] = scene.between(scene.statement.start, said.start)
    whole = scene.between(said.end, said.end + 1)
    if scene.words_of("whole-operation").intersection(whole) and not scene.of("action"):
        return not {"an", "all"}.isdisjoint(words)
    return _ends_a_phrase(scene, said) and not scene.words_of("all-of-them").isdisjoint(words)
