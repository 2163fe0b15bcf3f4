"""Examinations named in a statement, or going on in it, each with its grade, opening, flexion, result and end point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from opnote.extract.cartilage import CARTILAGE, worn
from opnote.extract.dealing import dealt
from opnote.extract.frames import Frame, Slot
from opnote.extract.model import Choice
from opnote.extract.readings import fitting
from opnote.extract.scene import Scene, overlaps
from opnote.extract.seen import results_of_structures
from opnote.extract.slots import as_said, from_mention, from_quantity, mentioned, won
from opnote.language.terms import Mention

GLIDE = "patellar glide"
AT_AN_ANGLE = 3  # words between an opening and the angle that it was measured at
POINTER = 4  # words of a statement among which "that" means the examination before it


def examined(scene: Scene, choices: Sequence[Choice]) -> list[Frame]:
    """The examinations of a statement: "valgus at thirty degrees opened ten millimetres"."""
    quadrants = list(_quadrants(scene))
    measured = [slot for slot in won(scene, choices, "finding") if not any(overlaps(slot, quadrant) for quadrant in quadrants)]
    frames, taken = worn(scene, measured)
    exams = [m for m in _exams(scene) if m.value != CARTILAGE or not frames]
    measured = [slot for slot in measured if slot not in taken]
    measured += quadrants if _may_glide(scene, exams) else []
    if frames and not exams:
        return frames
    return [*frames, *_examined(scene, choices, measured, exams)]


def _quadrants(scene: Scene) -> Iterator[Slot]:
    """ "Patellar glide three quadrants": the grade of a glide is told in quarters of the patella."""
    for quantity in scene.quantities:
        unit = " ".join(scene.between(quantity.end, quantity.end + 1))
        if unit in scene.words_of("quarters-of-the-patella") and isinstance(quantity.value, float):
            yield Slot("grade", quantity.start, quantity.end + 1, f"{quantity.value:g} {unit}", why=quantity.why)


def _may_glide(scene: Scene, exams: Sequence[Mention]) -> bool:
    """Whether quarters of the patella can be told of a glide: one is named, or goes on."""
    return any(exam.value == GLIDE for exam in exams or [e for e in (scene.focus.exam,) if e is not None])


def _examined(scene: Scene, choices: Sequence[Choice], measured: Sequence[Slot], exams: Sequence[Mention]) -> list[Frame]:
    """The examinations other than those of graded cartilage."""
    measured = _openings_at_angles(scene, measured)
    measured += _unclaimed_openings(scene, choices, measured, exams)
    if not exams and (scene.focus.exam is None or not (measured or scene.of("end point", "result"))):
        return []
    slots = [from_mention("exam", m) for m in exams] + measured
    led = [(result, exam) for result in scene.of("result") for exam in exams if _describes(scene, result, exam)]
    described = {exam.start: as_said(scene, result) for result, exam in led}
    ends = {result.end for result, _ in led}
    slots += [*mentioned(scene, "end_point", "end point"), *(r for r in _results(scene, exams) if r.end not in ends)]
    lead = _leading(scene, slots, exams)
    frames = [Frame("finding", scene.statement.index, {slot.attribute: slot for slot in lead})] if lead else []
    frames += dealt(scene, "finding", [slot for slot in slots if slot not in lead])
    for frame in frames:
        exam = frame.slots.get("exam")
        if exam is not None and exam.start in described:
            frame.slots.setdefault("result", described[exam.start])
    return list(_going_on(scene, frames))


def _describes(scene: Scene, result: Mention, exam: Mention) -> bool:
    """Whether a result stands right before its examination ("a positive Lachman with a positive pivot shift", "stable to varus stress")."""
    if result.value not in _may_have(scene, exam):
        return False
    if result.end == exam.start:
        return exam.value == CARTILAGE or scene.led_by(result.start, "before-an-attribute")
    return exam.start - result.end == 1 and scene.talk.words[result.end] in scene.words_of("shows-to")


def _exams(scene: Scene) -> list[Mention]:
    """The examinations named; "valgus" in a statement that holds a fixation is a load and none."""
    loads = scene.words_of("examined-or-held") if scene.mode == "holding" else frozenset()
    return [m for m in scene.of("exam") if m.value not in loads]


def _openings_at_angles(scene: Scene, slots: Sequence[Slot]) -> list[Slot]:
    """ "zero at full extension": the number before "at" an angle is the opening there, not an angle."""
    angles = [slot for slot in slots if slot.attribute == "flexion_deg"]
    return [_as_opening(slot) if _leads_an_angle(scene, slot, angles) else slot for slot in slots]


def _leads_an_angle(scene: Scene, slot: Slot, angles: Sequence[Slot]) -> bool:
    if slot.attribute != "flexion_deg" or slot.unit is not None or scene.lead(slot.start, 1) in (("at",), ("in",)):
        return False
    ahead = [angle for angle in angles if 0 < angle.start - slot.end <= AT_AN_ANGLE]
    return any({"at", "in"} & {*scene.between(slot.end, angle.start)} for angle in ahead)


def _as_opening(slot: Slot) -> Slot:
    return replace(slot, attribute="opening_mm", unit="mm", why=(*slot.why, "said at an angle"))


def _unclaimed_openings(scene: Scene, choices: Sequence[Choice], slots: Sequence[Slot], exams: Sequence[Mention]) -> list[Slot]:
    """Lengths that nothing else claims, beside an examination whose angle is said ("at zero, three millimetres")."""
    exam = exams[0] if exams else scene.focus.exam
    if exam is None or exam.value not in scene.words_of("examinations-of-opening"):
        return []
    if not any(slot.attribute == "flexion_deg" for slot in slots):
        return []
    opening = scene.lexicon.attributes["finding", "opening_mm"]
    lost = [choice.quantity for choice in choices if choice.won is None and choice.quantity.kind == "length"]
    free = [fitting(quantity, opening, scene.lexicon) for quantity in lost]
    why = ("beside the angle of the examination",)
    return [slot for quantity in free for slot in from_quantity("finding", "opening_mm", quantity, why=why)]


def _results(scene: Scene, exams: Sequence[Mention]) -> list[Slot]:
    """The results that are said of an examination, and not of a structure."""
    of_structures = {result.start for result, _ in results_of_structures(scene)}
    others = [m for m in scene.of("result") if m.start not in of_structures]
    return [as_said(scene, m) for m in others if m.value in _may_have(scene, _exam_of(scene, m, exams))]


def _exam_of(scene: Scene, result: Mention, exams: Sequence[Mention]) -> Mention | None:
    """The examination that a result is of: the last one named before it, else the first, else the one going on."""
    before = [exam for exam in exams if exam.start <= result.start]
    return before[-1] if before else exams[0] if exams else scene.focus.exam


def _may_have(scene: Scene, exam: Mention | None) -> frozenset[str]:
    """The results that an examination may have: cartilage is not torn, a pivot shift is not intact."""
    cartilage = exam is not None and exam.value == CARTILAGE
    return scene.words_of("results-of-cartilage" if cartilage else "results-of-examinations")


def _leading(scene: Scene, slots: Sequence[Slot], exams: Sequence[Mention]) -> list[Slot]:
    """What a statement first says of the examination before it ("that's a grade three, and in extension it opens four")."""
    if scene.focus.exam is None or "that" not in scene.words[:POINTER]:
        return []
    begins = [s.start for s in slots if s.attribute in ("flexion_deg", "opening_mm")] + [m.start for m in exams]
    lead = [s for s in slots if s.attribute in ("grade", "end_point") and begins and s.end <= min(begins)]
    return lead if len(lead) < len(slots) else []


def _going_on(scene: Scene, frames: Sequence[Frame]) -> Iterator[Frame]:
    """The frames, those without an examination of their own going on with the one before ("and at zero, four")."""
    exam = from_mention("exam", scene.focus.exam) if scene.focus.exam is not None else None
    for before, frame in zip([None, *frames], frames, strict=False):
        if "exam" in frame.slots:
            exam = frame.slots["exam"]
        elif exam is not None:
            frame.slots["exam"] = Slot("exam", exam.start, exam.end, exam.value, inherited=True, why=("goes on",))
        _shares_the_result(scene, before, frame)
        if exam is not None and exam.value not in scene.words_of("examinations-of-stability"):
            frame.slots.pop("opening_mm", None)  # the length of a tear, the depth of a drill
            frame.slots.pop("flexion_deg", None)
        if exam is None or len(frame.slots) > 1:
            yield frame


def _shares_the_result(scene: Scene, before: Frame | None, frame: Frame) -> None:
    """ "Dial symmetrical at thirty and at ninety": the second angle has the result of the first."""
    if before is None or not {*frame.slots} <= {"exam", "flexion_deg"} or not {"result", "flexion_deg"} <= before.slots.keys():
        return
    angles = (before.slots["flexion_deg"], frame.slots.get("flexion_deg"))
    if angles[1] is None or before.get("exam") != frame.get("exam") or before.slots["flexion_deg"].end > angles[1].start:
        return
    result = before.slots["result"]
    repeated = {place for m in scene.of("result") if m.value == result.value for place in range(m.start, m.end)}
    between = [scene.talk.words[place] for place in range(angles[0].end, angles[1].start) if place not in repeated]
    goes_on = any(word.isalpha() and word not in ("degrees", "the") for word in scene.between(angles[1].end, angles[1].end + 1))
    if "and" in between and not goes_on and scene.words_of("joins-angles").issuperset(between):
        frame.slots["result"] = replace(result, why=(*result.why, "of the angle before it too"))
