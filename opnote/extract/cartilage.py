"""What is said of the cartilage: each grade with the joint surface it lies on, damage without a grade, and its denial."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene, apart
from opnote.extract.slots import from_mention
from opnote.language.terms import Mention

CARTILAGE = "cartilage"
DENIAL = "no"
DAMAGED_WITHIN = 2  # words behind "cartilage" among which the damage is named ("cartilage had a large defect")


def worn(scene: Scene, measured: Sequence[Slot]) -> tuple[list[Frame], list[Slot]]:
    """The findings of cartilage in a statement, and the slots of ``measured`` that they take up.

    "Grade two on the medial condyle, grade three on the trochlea" is two findings.
    """
    graded = _graded(scene, [slot for slot in measured if slot.attribute == "grade"])
    frames = [_frame(scene, sign, [grade], surface) for grade, sign, surface in graded]
    frames += [_frame(scene, sign, [result], None) for sign, result in _denied(scene)]
    return frames or _damaged(scene), [grade for grade, _, _ in graded]


def _signs(scene: Scene) -> list[Mention]:
    """The words that speak of cartilage, and the joint surfaces."""
    return [m for m in scene.of("exam", "surface") if m.kind == "surface" or m.value == CARTILAGE]


def _graded(scene: Scene, grades: Sequence[Slot]) -> list[tuple[Slot, Mention, Mention | None]]:
    """The grades that are of cartilage, each with the word that tells so and with its surface."""
    signs, others = _signs(scene), [m for m in scene.of("exam") if m.value != CARTILAGE]
    if not signs:
        return []
    own = [g for g in grades if min(apart(g, s) for s in signs) < min((apart(g, o) for o in others), default=len(scene.words))]
    found = []
    for index, grade in enumerate(own):
        floor = own[index - 1].end if index else scene.statement.start
        limit = own[index + 1].start if index + 1 < len(own) else scene.statement.end
        surface = _surface(scene, grade, floor, limit)
        found.append((grade, surface or _nearest(signs, grade), surface))
    return found


def _nearest(signs: Sequence[Mention], grade: Slot) -> Mention:
    return min(signs, key=lambda sign: apart(grade, sign))


def _surface(scene: Scene, grade: Slot, floor: int, limit: int) -> Mention | None:
    """The surface that a grade is of: the first behind it in the same phrase, before the next grade, else the last before it."""
    surfaces = scene.of("surface")
    behind = [m for m in surfaces if grade.end <= m.start < limit]
    before = [m for m in surfaces if floor <= m.start < grade.start]
    if behind and (not before or scene.words_of("parts-surfaces").isdisjoint(scene.between(grade.end, behind[0].start))):
        return behind[0]
    return before[-1] if before else None


def _denied(scene: Scene) -> Iterator[tuple[Mention, Slot]]:
    """The damage that is told not to be there ("no evidence of chondromalacia"), as a result; not what a scan shows."""
    if scene.says("tells-of-a-scan"):
        return
    for result in scene.of("result"):
        if result.value in scene.words_of("denies-damage"):
            yield result, from_mention("result", result)
    mentions = scene.talk.mentions
    first, stop = (bisect_left(mentions, place, key=lambda m: m.start) for place in (scene.statement.start, scene.statement.end))
    for exam in mentions[first:stop]:
        if (exam.kind, exam.value) != ("exam", CARTILAGE):
            continue
        damage = _damage(scene, exam)
        place = exam.start - 1
        while place > scene.statement.start and scene.talk.words[place] in scene.words_of("of-a-denial"):
            place -= 1
        if damage is not None and scene.talk.words[place] in scene.words_of("denies"):
            value = f"{DENIAL} {damage.value}"
            yield exam, Slot("result", place, damage.end, value, why=("denied",))


def _damaged(scene: Scene) -> list[Frame]:
    """ "There was a defect of the cartilage": damage that is seen and not graded."""
    if any(q.kind == "grade" for q in scene.quantities) or not scene.says("shows-what-is-there"):
        return []
    for exam in scene.of("exam"):
        damage = _damage(scene, exam) if exam.value == CARTILAGE else None
        if damage is not None:
            return [_frame(scene, exam, [damage], next(iter(scene.of("surface")), None))]
    return []


def _damage(scene: Scene, exam: Mention) -> Slot | None:
    """The damage that a word for cartilage names itself ("chondromalacia") or that stands right behind it."""
    for place in range(exam.start, min(scene.statement.end, exam.end + DAMAGED_WITHIN)):
        if scene.talk.words[place] in scene.words_of("damage-of-cartilage"):
            return Slot("result", exam.start, place + 1, " ".join(scene.between(min(exam.start, place), place + 1)), why=("as worded",))
    return None


def _frame(scene: Scene, sign: Mention, said: Sequence[Slot], surface: Mention | None) -> Frame:
    exam = Slot("exam", sign.start, sign.end, CARTILAGE, why=(f"term {sign.term}", "cartilage, or a joint surface"))
    slots = {"exam": exam} | {slot.attribute: slot for slot in said}
    if surface is not None:
        slots["surface"] = from_mention("surface", surface)
    return Frame("finding", scene.statement.index, slots)


def settled(frames: Sequence[Frame]) -> Iterator[Frame]:
    """The frames of a talk, those of cartilage as the talk as a whole tells them.

    A grade said again without its surface is of the surface it was said of; damage without a grade is a finding of its own only where
    no grade was given for it.
    """
    graded = [frame for frame in frames if frame.get("exam") == CARTILAGE and "grade" in frame.slots]
    for frame in frames:
        if frame.type != "finding" or frame.get("exam") != CARTILAGE:
            yield frame
        elif "grade" in frame.slots:
            _lend_surface(frame, graded)
            if _is_damage(frame):
                del frame.slots["result"]
            yield frame
        elif not (_is_damage(frame) and any(_may_be_of(frame, other) for other in graded)):
            yield frame


def _is_damage(frame: Frame) -> bool:
    return "result" in frame.slots and frame.slots["result"].why == ("as worded",)


def _may_be_of(frame: Frame, graded: Frame) -> bool:
    """Whether damage may be that which was graded: on the same surface, or where either is not said."""
    return frame.get("surface") in (None, graded.get("surface")) or "surface" not in graded.slots


def _lend_surface(frame: Frame, graded: Sequence[Frame]) -> None:
    """A grade without a surface takes that of the one surface where cartilage of this grade was found."""
    if "surface" in frame.slots:
        return
    alike = [other.slots["surface"] for other in graded if "surface" in other.slots and other.slots["grade"].same(frame.slots["grade"])]
    if len({slot.value for slot in alike}) == 1:
        first = alike[0]
        frame.slots["surface"] = Slot("surface", first.start, first.end, first.value, inherited=True, why=("where this grade was found",))
