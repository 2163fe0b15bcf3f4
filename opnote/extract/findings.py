"""Findings: examinations of the knee with what they showed, and structures found intact, torn or worn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from opnote.extract.frames import Frame, Slot, arrange
from opnote.extract.model import Choice
from opnote.extract.scene import Scene
from opnote.extract.slots import EXPAND, as_said, from_mention, from_quantity, won
from opnote.language.terms import Mention

NOT_HERE = frozenset({"preop diagnosis", "postop diagnosis", "indications", "plan", "procedures", "header"})
MENISCI = frozenset({"medial meniscus", "lateral meniscus", "medial meniscus root", "lateral meniscus root", "both menisci"})
STABILITY = frozenset(
    {
        "valgus stress",
        "varus stress",
        "varus and valgus",
        "Lachman",
        "pivot shift",
        "anterior drawer",
        "posterior drawer",
        "dial",
        "patellar glide",
    }
)
OF_STRUCTURES = frozenset(
    {
        "intact",
        "normal",
        "torn",
        "completely torn",
        "partially torn",
        "avulsed",
        "attenuated",
        "complex tear",
        "radial tear",
        "radial fray",
        "fraying",
        "bucket handle tear",
        "horizontal tear",
        "longitudinal tear",
        "flap tear",
        "degenerative tear",
        "root tear",
        "ramp lesion",
        "scarred",
        "gone",
        "stable",
    }
)
PLAIN = frozenset(
    "a an the had has have was were is are with of showed shows show revealed demonstrated and or that this there some his her one"
    " no in to it found seen noted got".split()
)
CARTILAGE = frozenset({"normal", "intact", "fraying"})
NOUNS = frozenset({"tear", "rupture", "avulsion"})
STRETCH = 9  # words between a structure and what is said of it


def findings(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """All findings of a statement; ``structures`` is not used, the signature is that of the other kinds."""
    if scene.section in NOT_HERE:
        return []
    frames = [*_examined(scene, choices), *_seen(scene)]
    for frame in frames:
        if frame.get("exam") in STABILITY:
            frame.slots.setdefault("phase", _phase(scene, frame))
    return [copy for frame in frames for copy in _expanded(frame)]


def _examined(scene: Scene, choices: Sequence[Choice]) -> list[Frame]:
    """Examinations named in the statement, each with its grade, opening, flexion, result and end point."""
    exams = [
        m
        for m in scene.of("exam")
        if not (scene.mode == "holding" and m.value in ("varus stress", "valgus stress", "posterior drawer", "anterior drawer"))
    ]
    quantities = list(won(choices, "finding", scene.talk.corrected))
    surfaces = scene.of("surface")
    if not exams and surfaces and any(s.attribute == "grade" for s in quantities):
        return [_cartilage(scene, surfaces[0], next(s for s in quantities if s.attribute == "grade"))]
    quantities = _at_an_angle(scene, quantities)
    quantities += _openings(scene, choices, quantities, exams)
    if not exams and (scene.exam is None or not (quantities or scene.of("end point", "result"))):
        return []
    seen = {m.start for m, _ in _pairs(scene)}
    slots = [from_mention("exam", m) for m in exams] + quantities + [from_mention("end_point", m) for m in scene.of("end point")]
    slots += [as_said(scene.talk, m) for m in scene.of("result") if m.start not in seen and not _of_another(scene, m, exams)]
    lead = _leading(scene, slots, exams)
    frames = arrange("finding", scene.statement.index, [s for s in slots if s not in lead], words=scene.talk.words)
    added = [Frame("finding", scene.statement.index, {s.attribute: s for s in lead})] if lead else []
    return list(_with_exam([*added, *frames], scene))


def _leading(scene: Scene, slots: Sequence[Slot], exams: Sequence[Mention]) -> list[Slot]:
    """What a statement first says of the examination before it ("that's a grade three, and in extension it opens four")."""
    if scene.exam is None:
        return []
    angles = [s.start for s in slots if s.attribute in ("flexion_deg", "opening_mm")] + [m.start for m in exams]
    first = min(angles, default=None)
    lead = [s for s in slots if s.attribute in ("grade", "end_point") and first is not None and s.end <= first]
    return lead if first is not None and len(lead) < len(slots) and "that" in scene.words[:3] + scene.words[3:4] else []


def _cartilage(scene: Scene, surface: Mention, grade: Slot) -> Frame:
    """A grade said of a joint surface ("grade two on the medial condyle") grades its cartilage."""
    exam = Slot("exam", surface.start, surface.end, "cartilage", why=(f"term {surface.term}", "a grade of a joint surface"))
    return Frame("finding", scene.statement.index, {"exam": exam, "grade": grade})


def _at_an_angle(scene: Scene, slots: Sequence[Slot]) -> list[Slot]:
    """ "zero at full extension": the number before "at" an angle is the opening there, not an angle."""
    angles = [s for s in slots if s.attribute == "flexion_deg"]
    out = []
    for slot in slots:
        ahead = [
            a for a in angles if a.start > slot.end and a.start - slot.end <= 3 and {"at", "in"} & set(scene.between(slot.end, a.start))
        ]
        bare = slot.attribute == "flexion_deg" and slot.unit is None and ahead
        out.append(replace(slot, attribute="opening_mm", unit="mm", why=(*slot.why, "said at an angle")) if bare else slot)
    return out


def _of_another(scene: Scene, result: Mention, exams: Sequence[Mention]) -> bool:
    """Whether a result cannot be that of the examination before it (cartilage is not torn, a pivot shift is not intact)."""
    before = [e for e in exams if e.start <= result.start]
    exam = before[-1].value if before else exams[0].value if exams else (scene.exam.value if scene.exam else "")
    if exam == "cartilage":
        return result.value not in CARTILAGE
    return result.value not in ("negative", "positive", "stable", "symmetric", "not symmetric", "normal")


def _openings(scene: Scene, choices: Sequence[Choice], taken: Sequence[Slot], exams: Sequence[Mention]) -> list[Slot]:
    """Lengths that nothing else claims, beside an examination whose angle is said ("at zero, three millimetres")."""
    exam = exams[0] if exams else scene.exam
    if exam is None or exam.value not in ("valgus stress", "varus stress") or not any(s.attribute == "flexion_deg" for s in taken):
        return []
    free = [
        c.quantity for c in choices if c.won is None and c.quantity.kind == "length" and (c.quantity.value or c.quantity.low or 0) != ""
    ]
    return [s for q in free for s in from_quantity("opening_mm", q, why=("beside the angle of the examination",))]


def _with_exam(frames: Sequence[Frame], scene: Scene) -> Iterator[Frame]:
    """A frame without an exam of its own goes on with the one before it ("and at zero, four")."""
    exam = from_mention("exam", scene.exam) if scene.exam is not None else None
    for frame in frames:
        if "exam" in frame.slots:
            exam = frame.slots["exam"]
        elif exam is not None:
            frame.slots["exam"] = Slot("exam", exam.start, exam.end, exam.value, inherited=True, why=("goes on",))
        if exam is None or len(frame.slots) > 1:
            yield frame


def _phase(scene: Scene, frame: Frame) -> Slot:
    said = scene.of("phase")
    if said:
        m = min(said, key=lambda m: abs(m.start - frame.start))
        return Slot("phase", m.start, m.end, m.value, why=("said",))
    anchor = frame.slots["exam"]
    value = "before" if scene.section == "findings" or not scene.after_fixation else "after"
    return Slot("phase", anchor.start, anchor.end, value, inherited=True, why=("place in the operation",))


def _seen(scene: Scene) -> list[Frame]:
    """Structures with what was seen of them ("lateral meniscus intact", "the ACL was torn")."""
    frames: list[Frame] = []
    for result, named in _pairs(scene):
        for structure in named:
            frame = Frame("finding", scene.statement.index)
            exam = "meniscus" if structure.value in MENISCI else "ligament"
            frame.slots["exam"] = Slot("exam", structure.start, structure.end, exam, why=("what kind of structure it is",))
            frame.slots["structure"] = from_mention("structure", structure)
            frame.slots["result"] = _worded(scene, result)
            frames.append(frame)
    return frames


def _worded(scene: Scene, result: Mention) -> Slot:
    """A tear in the speaker's words ("small radial tear"); other results by their term."""
    if scene.talk.words[result.end - 1] not in NOUNS:
        return as_said(scene.talk, result)
    start = result.start
    while start > scene.statement.start and result.start - start < 3 and _describes(scene, start - 1):
        start -= 1
    return Slot("result", start, result.end, " ".join(scene.between(start, result.end)), why=("as worded",))


def _describes(scene: Scene, place: int) -> bool:
    word = scene.talk.words[place]
    return word.isalpha() and word not in PLAIN and not any(m.start <= place < m.end for m in scene.of("structure", "exam"))


def _pairs(scene: Scene) -> list[tuple[Mention, list[Mention]]]:
    """Each result of a structure with the structures it speaks of: those listed before it, else the one it is "of"."""
    structures, results = scene.of("structure"), [m for m in scene.of("result") if m.value in OF_STRUCTURES]
    exams = scene.of("exam")
    out: list[tuple[Mention, list[Mention]]] = []
    for index, result in enumerate(results):
        floor = max([r.end for r in results[:index]] + [e.end for e in exams if e.end <= result.start], default=scene.statement.start)
        before = [s for s in structures if floor <= s.start and s.end <= result.start]
        if before and result.start - before[-1].end <= STRETCH and not _noun_before(scene, result, before[-1]):
            out.append((result, _listed(scene, before)))
            continue
        after = [
            s
            for s in structures
            if s.start >= result.end and s.start - result.end <= 7 and not any(result.end <= r.start < s.start for r in results)
        ]
        if after and set(scene.between(result.end, after[0].start)) & {"of", "in"}:
            out.append((result, after[:1]))
    return out


def _noun_before(scene: Scene, result: Mention, structure: Mention) -> bool:
    """ "ACL tear" names a diagnosis; what was seen is said with a verb or of a meniscus."""
    noun = scene.talk.words[result.end - 1] in NOUNS
    verbless = not set(scene.between(structure.end, result.start)) & {
        "was",
        "is",
        "were",
        "had",
        "has",
        "showed",
        "with",
        "a",
        "demonstrated",
        "revealed",
    }
    return noun and verbless and structure.value not in MENISCI and scene.section != "findings"


def _listed(scene: Scene, before: Sequence[Mention]) -> list[Mention]:
    """The last structure and those joined to it by commas and "and"."""
    named = [before[-1]]
    for structure in reversed(before[:-1]):
        gap = scene.between(structure.end, named[0].start)
        if not gap or len(gap) > 3 or not set(gap) <= {",", "and", "the", "both", "also"}:
            break
        named.insert(0, structure)
    return named


def _expanded(frame: Frame) -> Iterator[Frame]:
    """One finding for each of "both menisci", one for each of "varus and valgus"."""
    for name in ("structure", "exam"):
        slot = frame.slots.get(name)
        if slot is not None and slot.value in EXPAND:
            for value in EXPAND[str(slot.value)]:
                copy = Frame(frame.type, frame.statement, dict(frame.slots))
                copy.slots[name] = Slot(name, slot.start, slot.end, value, why=slot.why)
                yield copy
            return
    yield frame
