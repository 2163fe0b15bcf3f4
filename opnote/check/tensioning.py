"""Tensioning: how a graft was fixed, against what closes the side it is to hold."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge, Structure
from opnote.check.model import Doubt, check
from opnote.check.plausibility import odd_values, unusual
from opnote.check.reading import about, evidence, exact, structures, word
from opnote.check.slips import TEENS
from opnote.check.wording import cited, listed, number, served
from opnote.record.model import Entity, Record

SET_AS_SUCH = 15  # the one teen that is a usual fixation angle


@check(
    "TENS01",
    "fixed-under-stress-that-opens-its-side",
    severity="stop",
    kind="implausible",
    source="common practice: fixation closes the injured side (medial graft: varus; lateral graft: valgus; PCL: anterior drawer)",
)
def stress_opens_the_side(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft is said to have been fixed under a stress that opens the side it is to hold.

    Why: "varus" and "valgus" are heard for one another. The word stays as it was said; only the author knows which it was.

    Silent when: it is an examination (valgus stress tests the medial side); the stress is not settled; the fixation serves
    structures of different sides; the structure is unknown.
    """
    for fixation in record.of("tensioning"):
        stress, ligaments = word(fixation, "stress"), _known(known, fixation)
        if stress is None or not ligaments or not all(stress in ligament.never_stress for ligament in ligaments):
            continue
        better = {ligament.stress for ligament in ligaments if ligament.stress}
        asked = f"Was it {better.pop()}?" if len(better) == 1 else "Which stress was it?"
        yield Doubt(
            f"The {served(fixation)} was fixed under {stress} stress ({cited(fixation, 'stress')}), which loads the graft's side "
            f"open instead of closing it. {asked}",
            about(fixation, "stress"),
            evidence(fixation, "stress", "structure"),
        )


@check(
    "TENS02",
    "fixed-in-rotation-that-slackens-the-graft",
    severity="ask",
    kind="implausible",
    source="common practice; neutral rotation for MCL, FCL, LET and ALL, not external for the posterolateral corner (from memory)",
)
def unusual_rotation(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft is said to have been fixed with the tibia rotated the way that is avoided for it.

    Why: "internal" and "external" are heard for one another, and the rotation sets how far the knee is held turned.

    Silent when: the rotation is neutral or not settled; the structure has no such rule; one of several structures fits.
    """
    found: dict[str, list[Entity]] = {}
    for fixation in record.of("tensioning"):
        rotation, ligaments = word(fixation, "rotation"), _known(known, fixation)
        if rotation and ligaments and all(rotation in ligament.never_rotation for ligament in ligaments):
            found.setdefault(rotation, []).append(fixation)
    for rotation, fixations in found.items():
        names = listed(served(fixation) for fixation in fixations)
        yield Doubt(
            f"Fixed in {rotation} rotation ({cited(fixations[0], 'rotation')}): {names}, which is unusual. Which rotation was it?",
            tuple(a for fixation in fixations for a in about(fixation, "rotation")),
            tuple(w for fixation in fixations for w in evidence(fixation, "rotation", "structure")),
        )


@check(
    "TENS03",
    "unusual-fixation-angle",
    severity="ask",
    kind="implausible",
    source="the literature ranges in lexicons/procedures/ (each with its source; several from memory)",
)
def unusual_angle(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft is said to have been fixed at an angle outside the range that is described for its ligament.

    Why: "fifteen" and "fifty" are heard for one another, and "at 20 degrees" as "28 degrees".

    Silent when: no range is known for the structure; the angle is a range that touches it, or not settled.
    """
    return odd_values(record, known, lambda type, name: (type, name) == ("tensioning", "flexion_deg"))


@check(
    "TENS04",
    "unusual-tension",
    severity="ask",
    kind="implausible",
    source="Jesani 2019 JBJS Essent Surg Tech (LET at most 20 N); ISAKOS 2025 review (MPFL at most 10 N); 200 N: common practice",
)
def unusual_force(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft is said to have been tensioned with a force outside what is described for its ligament.

    Why: newtons, pounds and kilograms are confused, and a MPFL or LET that is pulled hard over-constrains the knee.

    Silent when: the force is not settled, or within the range; no range is known.
    """
    return odd_values(record, known, lambda type, name: (type, name) == ("tensioning", "force_N"))


@check(
    "TENS05",
    "angle-that-sounds-like-a-ten",
    severity="ask",
    kind="implausible",
    source="13/30 ... 19/90 as typical slips: PA Patient Safety 2006, ISMP 2017; angles are set in steps of five: common practice",
)
def teen_angle(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft is said to have been fixed at thirteen, fourteen, or sixteen to nineteen degrees.

    Why: nobody sets such an angle; "thirty" and "ninety" are heard as "thirteen" and "nineteen".

    Silent when: the angle is fifteen, which is set; it is approximate, a range, or not settled; TENS03 or RANGE01 speaks.
    """
    for fixation in record.of("tensioning"):
        angle = exact(fixation, "flexion_deg")
        if angle is None or angle not in TEENS or angle == SET_AS_SUCH or unusual(known, fixation, "flexion_deg"):
            continue
        yield Doubt(
            f"The {served(fixation) or 'graft'} was fixed at {number(angle)}° ({cited(fixation, 'flexion_deg')}). "
            f"Was it {TEENS[int(angle)]}°?",
            about(fixation, "flexion_deg"),
            evidence(fixation, "flexion_deg"),
        )


def _known(known: Knowledge, fixation: Entity) -> tuple[Structure, ...]:
    """The structures a fixation serves; empty when one of them is not known."""
    names = sorted(structures(fixation))
    return tuple(known.structures[name] for name in names) if all(name in known.structures for name in names) else ()
