"""Procedures: an action and what it was done to, as they are named ("open reconstruction of the superficial MCL")."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention
from opnote.language.terms import Mention

LIGAMENTS = frozenset({"sMCL", "dMCL", "POL", "ACL", "PCL", "FCL", "popliteus", "PFL", "MPFL", "ALL", "LET"})
NOT_HERE = frozenset({"preop diagnosis", "postop diagnosis", "indications", "plan"})
ALONE = frozenset({"diagnostic arthroscopy", "hardware removal", "chondroplasty"})  # done to the knee, not to one structure
TENDONS = frozenset({"popliteus", "PFL"})
VERBS = frozenset({"reconstructed", "reconstruct", "repaired", "augmented", "reconstructing", "repairs"})
EARLY = 0.2  # share of the talk in which the case is introduced
BEFORE, AFTER = 6, 9  # words between an action and its structure ("ACL reconstruction"; "reconstruction of the ... ligament")
OF = frozenset({"of", "to", "for"})


def procedures(scene: Scene) -> list[Frame]:
    """The procedures that a statement names as done."""
    early = scene.statement.start < EARLY * len(scene.talk.words)  # "the plan is an arthroscopy, then ..." announces what is done
    if scene.section in NOT_HERE and not (scene.section == "plan" and early):
        return []
    frames: list[Frame] = []
    actions = [m for m in scene.of("action") if _names(scene, m)]
    for index, action in enumerate(actions):
        previous = actions[index - 1].end if index else scene.statement.start
        following = actions[index + 1].start if index + 1 < len(actions) else scene.statement.end
        for structure in _objects(scene, action, previous, following):
            if structure is not None and structure.value in TENDONS and action.value != "reconstruction":
                continue  # a landmark of a meniscal repair
            frames.append(_frame(scene, action, structure, previous))
    frames += _tenodeses(scene)
    return frames


def _names(scene: Scene, action: Mention) -> bool:
    """A noun names a procedure; a verb does so only of a structure close by; an arthroscopy only as "diagnostic" or in the list."""
    word = scene.talk.words[action.start]
    if action.value == "diagnostic arthroscopy":
        return "diagnostic" in scene.between(action.start, action.end) or scene.section == "procedures"
    return (
        scene.section == "procedures"
        or word not in VERBS
        or scene.talk.words[max(0, action.start - 1)] in ("was", "were", "i", "we", "then", "and", "been")
    )


def _objects(scene: Scene, action: Mention, previous: int, following: int) -> list[Mention | None]:
    if action.value in ALONE:
        return [None]
    sided = _meniscus(scene, action)
    if sided is not None:
        return [sided]
    structures = scene.of("structure")
    after = [s for s in structures if action.end <= s.start < following and s.start - action.end <= AFTER]
    if after and set(scene.between(action.end, after[0].start)) & OF:
        return list(_chain(scene, after))
    before = [s for s in structures if previous <= s.start and s.end <= action.start and action.start - s.end <= BEFORE]
    if before and not {",", ":", "and"} & set(scene.between(before[-1].end, action.start)):
        return list(reversed(list(_chain(scene, before[::-1]))))
    return []


def _chain(scene: Scene, structures: Sequence[Mention]) -> Iterator[Mention]:
    """The first structure and those joined to it by "and" or a comma."""
    last: Mention | None = None
    for structure in structures:
        if last is not None:
            left, right = sorted(((last.start, last.end), (structure.start, structure.end)))
            gap = scene.between(left[1], right[0])
            if not set(gap) <= {"and", ",", "the", "plus", "with", "left", "right", "&"} or not gap:
                return
        yield structure
        last = structure


def _meniscus(scene: Scene, action: Mention) -> Mention | None:
    """ "medial meniscectomy", "lateral meniscal repair": the side word names the meniscus."""
    if action.value != "meniscectomy" and "meniscal" not in scene.between(action.start, action.end):
        return None
    for place in range(action.start, max(scene.statement.start, action.start - 3) - 1, -1):
        word = scene.talk.words[place]
        if word in ("medial", "lateral"):
            return Mention(place, place + 1, "structure", f"{word} meniscus", f"{word}-meniscectomy")
    return None


def _frame(scene: Scene, action: Mention, structure: Mention | None, previous: int) -> Frame:
    frame = Frame("procedure", scene.statement.index)
    frame.slots["action"] = from_mention("action", action)
    if structure is not None:
        frame.slots["structure"] = from_mention("structure", structure)
    approaches = [m for m in scene.of("approach") if previous <= m.start and m.end <= action.end + 1]
    if approaches:
        frame.slots["approach"] = from_mention("approach", approaches[-1])
    sides = scene.of("side")
    if sides:
        nearest = min(sides, key=lambda m: abs(m.start - action.start))
        frame.slots["side"] = from_mention("side", nearest)
    return frame


def _tenodeses(scene: Scene) -> list[Frame]:
    """A lateral extra-articular tenodesis is a procedure by its own name."""
    if scene.section != "procedures" and not {"procedure", "procedures", "operation"} & set(scene.words):
        return []
    frames = []
    for structure in scene.of("structure"):
        if structure.value != "LET":
            continue
        frame = Frame("procedure", scene.statement.index)
        frame.slots["structure"] = from_mention("structure", structure)
        frame.slots["action"] = Slot("action", structure.start, structure.end, "tenodesis", why=("a tenodesis by name",))
        frames.append(frame)
    return frames
