"""Procedures: an action and what it was done to, as they are named ("open reconstruction of the superficial MCL")."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from opnote.extract.approaches import approach, told_ahead, told_of_all
from opnote.extract.frames import Frame, Slot
from opnote.extract.limbs import of_another_joint
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention
from opnote.language.terms import Mention

BEFORE, AFTER = 6, 9  # words between an action and its structure ("ACL reconstruction"; "reconstruction of the ... ligament")
SIDED_WITHIN = 3  # words between "medial" and "meniscectomy"
DIAGNOSTIC, MENISCECTOMY, RECONSTRUCTION, TENODESIS = "diagnostic arthroscopy", "meniscectomy", "reconstruction", "tenodesis"
LATERAL_TENODESIS = "LET"
BREAKS = frozenset({",", ":", "and"})


def procedures(scene: Scene) -> list[Frame]:
    """The procedures that a statement names as done."""
    if scene.barred("procedure") and not scene.announces:
        return []
    actions = [m for m in scene.of("action") if _names(scene, m)]
    bounds = [scene.statement.start, *(m.end for m in actions)]
    limits = [*(m.start for m in actions[1:]), scene.statement.end]
    frames: list[Frame] = []
    for action, left, right in zip(actions, bounds, limits, strict=False):
        named = [s for s in _objects(scene, action, left, right) if not _is_landmark(scene, action, s)]
        frames += [_frame(scene, action, s, left, right) for s in named]
    return frames + _tenodeses(scene)


def all_procedures(scenes: Iterable[Scene]) -> list[Frame]:
    """The procedures of a talk; an approach that is told of them all is that of each."""
    frames: list[Frame] = []
    headed: Slot | None = None  # the approach that stands over the list: "Procedures, all arthroscopic."
    for scene in scenes:
        named = procedures(scene)
        headed = told_ahead(scene) or (headed if named else None)
        for frame in named:
            if headed is not None and frame.get("action") != DIAGNOSTIC:
                frame.slots.setdefault("approach", headed)
        frames += named
        told_of_all(scene, frames)
    return frames


def _names(scene: Scene, action: Mention) -> bool:
    """A noun names a procedure; a verb does so only of a structure close by; an arthroscopy only as "diagnostic" or in the list."""
    if scene.section == "procedures":
        return True
    if action.value == DIAGNOSTIC:
        return "diagnostic" in scene.between(action.start, action.end)
    before = scene.talk.words[max(0, action.start - 1)]
    verb = scene.talk.words[action.start] in scene.words_of("procedure-verbs")
    return not verb or before in scene.words_of("before-procedure-verbs")


def _objects(scene: Scene, action: Mention, left: int, right: int) -> Sequence[Mention | None]:
    """What an action was done to: the structures named behind it or before it; None for the knee as a whole."""
    if action.value in scene.words_of("done-to-the-knee"):
        return [None]
    meniscus = _meniscus(scene, action)
    if meniscus is not None:
        return [meniscus]
    if of_another_joint(scene):
        return [None] if scene.section == "procedures" and action.value in scene.words_of("done-to-other-structures") else []
    if scene.between(action.end, action.end + 2) == ("of", "it"):
        return [s for s in scene.of("structure") if s.end <= action.start][-1:]
    after = [s for s in scene.of("structure") if action.end <= s.start < right and s.start - action.end <= AFTER]
    if after and not scene.words_of("done-to").isdisjoint(scene.between(action.end, after[0].start)):
        return [*_joined(scene, after)]
    before = [s for s in scene.of("structure") if left <= s.start and s.end <= action.start and action.start - s.end <= BEFORE]
    if before and BREAKS.isdisjoint(scene.between(before[-1].end, action.start)):
        return [*_joined(scene, before[::-1])][::-1]
    return [None] if _is_of_another_structure(scene, action, left, right) else []


def _is_of_another_structure(scene: Scene, action: Mention, left: int, right: int) -> bool:
    """Whether a list of procedures names, for this action, a structure that the record has no word for ("rotator cuff repair")."""
    others = [m for m in scene.of("other structure", "tissue") if left <= m.start < right]
    near = [m for m in others if -BEFORE <= m.start - action.end <= AFTER and (m.kind != "tissue" or m.start >= action.end)]
    return scene.section == "procedures" and bool(near) and action.value in scene.words_of("done-to-other-structures")


def _joined(scene: Scene, structures: Sequence[Mention]) -> Iterator[Mention]:
    """The first structure and those joined to it by "and" or a comma, forwards or backwards."""
    yield from structures[:1]
    for last, structure in pairwise(structures):
        first, second = sorted((last, structure), key=lambda m: m.start)
        gap = scene.between(first.end, second.start)
        if not gap or not scene.words_of("joins-procedures").issuperset(gap):
            return
        yield structure


def _is_landmark(scene: Scene, action: Mention, structure: Mention | None) -> bool:
    """Whether a tendon is only named as a landmark of a meniscal repair."""
    return structure is not None and structure.value in scene.words_of("landmark-tendons") and action.value != RECONSTRUCTION


def _meniscus(scene: Scene, action: Mention) -> Mention | None:
    """ "medial meniscectomy", "lateral meniscal repair": the side word names the meniscus."""
    meniscal = not scene.words_of("meniscal").isdisjoint(scene.between(action.start, action.end))
    if action.value != MENISCECTOMY and not meniscal:
        return None
    for place in range(action.start, max(scene.statement.start, action.start - SIDED_WITHIN) - 1, -1):
        word = scene.talk.words[place]
        if word in scene.words_of("sides-of-the-knee"):
            return Mention(place, place + 1, "structure", f"{word} meniscus", f"{word}-meniscectomy")
    return None


def _frame(scene: Scene, action: Mention, structure: Mention | None, left: int, right: int) -> Frame:
    """A procedure with its structure, the approach said for it and the side nearest to it."""
    said_for = approach(scene, action, left, right) if action.value != DIAGNOSTIC else None
    side = min(scene.of("side"), key=lambda m: abs(m.start - action.start), default=None)
    said = {"action": action, "structure": structure, "approach": said_for, "side": side}
    slots = {name: from_mention(name, mention) for name, mention in said.items() if mention is not None}
    return Frame("procedure", scene.statement.index, slots)


def _tenodeses(scene: Scene) -> list[Frame]:
    """A lateral extra-articular tenodesis is a procedure by its own name; its short form is one only where procedures are named."""
    titled = scene.section == "procedures" or scene.says("titles-of-procedures")
    named = [m for m in scene.of("structure") if m.value == LATERAL_TENODESIS]
    tells = (_is_named_in_full, _is_led_by_approach, _is_joined_to_an_action)
    return [_tenodesis(scene, m) for m in named if titled or any(told(scene, m) for told in tells)]


def _is_named_in_full(scene: Scene, named: Mention) -> bool:
    return TENODESIS in scene.between(named.start, named.end)


def _is_led_by_approach(scene: Scene, named: Mention) -> bool:
    """ "Open lateral extra-articular tenodesis" at the start of a statement names a procedure."""
    return any(m.start == scene.statement.start and m.end == named.start for m in scene.of("approach"))


def _is_joined_to_an_action(scene: Scene, named: Mention) -> bool:
    """ "ACL reconstruction with hamstring and LET": it closes what was begun by another procedure."""
    done = [action for action in scene.of("action") if 0 < named.start - action.end <= AFTER and _names(scene, action)]
    joined = bool(scene.words_of("joins-a-tenodesis").intersection(scene.lead(named.start, 1)))
    ends = scene.between(named.end, min(named.end + 1, scene.statement.end))
    return bool(done) and joined and scene.words_of("behind-a-tenodesis").issuperset(ends)


def _tenodesis(scene: Scene, named: Mention) -> Frame:
    action = Slot("action", named.start, named.end, TENODESIS, why=("a tenodesis by name",))
    slots = {"structure": from_mention("structure", named), "action": action}
    left = max([m.end for m in scene.of("action") if m.end <= named.start], default=scene.statement.start)
    right = min([m.start for m in scene.of("action") if m.start >= named.end], default=scene.statement.end)
    said = approach(scene, named, left, right)
    if said is not None:
        slots["approach"] = from_mention("approach", said)
    return Frame("procedure", scene.statement.index, slots)
