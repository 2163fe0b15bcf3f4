"""Findings: examinations against one another and against what was done."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.profiles import texts
from opnote.check.reading import about, evidence, spread, structures, word
from opnote.check.wording import amount, cited, measure, number
from opnote.record.model import Entity, Record


@check("FIND01", "intact-yet-reconstructed", severity="stop", kind="conflict", source="common practice")
def intact_yet_reconstructed(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A ligament was found intact and was reconstructed.

    Why: the indication for the operation rests on the finding.

    Silent when: it was said after the graft or tunnel of that ligament first appears (then it is the graft that is intact); the
    finding names several structures, or a part of one.
    """
    rebuilt = {name for p in record.of("procedure") if word(p, "action") == "reconstruction" for name in structures(p)}
    for finding in record.of("finding"):
        name = word(finding, "structure")
        if name not in rebuilt or word(finding, "exam") != "ligament" or word(finding, "result") != "intact":
            continue
        built = [
            w.chars for type in ("graft", "tunnel", "tensioning") for e in record.of(type) if name in structures(e) for w in evidence(e)
        ]
        if built and min(w.chars for w in evidence(finding)) > min(built):
            continue
        yield Doubt(
            f"The {name} was found intact ({cited(finding, 'result')}) and yet reconstructed. Which is right?",
            about(finding, "result"),
            evidence(finding, "result", "structure"),
        )


@check(
    "FIND02",
    "looser-after-than-before",
    severity="stop",
    kind="conflict",
    source="common practice; expected change: LaPrade 2018 AJSM (2.4 before, 0.2 after)",
)
def looser_after(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The opening after the reconstruction is no smaller than before it.

    Why: the two figures, or the words "before" and "after", may be swapped.

    Silent when: nothing was reconstructed or repaired on the tested side; the knee was stable before; the two were not measured at
    the same flexion, more than once, or as ranges that overlap.
    """
    for exam in ("valgus stress", "varus stress"):
        if not _treated(record, known, exam):
            continue
        for flexion, before in _openings(record, exam, "before").items():
            after = _openings(record, exam, "after").get(flexion)
            if before is None or after is None:
                continue
            was, now = spread(before, "opening_mm"), spread(after, "opening_mm")
            if was and now and was.low >= known.limits["opening-that-counts"].low and now.low >= was.high:
                yield Doubt(
                    f"Under {exam} the knee opened {amount(before, 'opening_mm')} before ({cited(before, 'opening_mm')}) and "
                    f"{amount(after, 'opening_mm')} after the reconstruction ({cited(after, 'opening_mm')}). Are they swapped?",
                    (*about(before, "opening_mm"), *about(after, "opening_mm")),
                    evidence(before, "opening_mm") + evidence(after, "opening_mm"),
                )


def _treated(record: Record, known: Knowledge, exam: str) -> bool:
    """Whether a structure that the examination tests was reconstructed or repaired."""
    treated = {n for p in record.of("procedure") if texts(p, "action") & {"reconstruction", "repair"} for n in structures(p)}
    return any(known.structures[name].exam == exam for name in treated if name in known.structures)


def _openings(record: Record, exam: str, phase: str) -> dict[tuple[float, float] | None, Entity | None]:
    """The one finding with an opening for each flexion angle at which an examination was made; None where there are several."""
    found: dict[tuple[float, float] | None, Entity | None] = {}
    for finding in record.of("finding"):
        if word(finding, "exam") == exam and word(finding, "phase") == phase and spread(finding, "opening_mm"):
            held = spread(finding, "flexion_deg")
            key = (held.low, held.high) if held else None
            found[key] = None if key in found else finding
    return found


@check(
    "FIND03",
    "grade-against-millimetres",
    severity="stop",
    kind="conflict",
    source="clinical grades I below 5, II 5 to 10, III above 10 mm: common practice (revision notes agree); JISAKOS table for the drawer",
)
def grade_against_millimetres(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A grade of laxity and the millimetres said with it do not belong together.

    Why: one of the two was misheard; the grade decides what is reconstructed.

    Silent when: only one of the two was said; the millimetres touch the band of the grade; the examination has no such bands; the
    grade is written another way.
    """
    for finding in record.of("finding"):
        if not texts(finding, "exam") & known.members("exams-graded-by-opening"):
            continue
        opening, grade = spread(finding, "opening_mm"), (word(finding, "grade") or "").removesuffix("+")
        band = known.limits.get(f"opening-grade-{grade}")
        if opening is None or band is None or not opening.outside((band.low, band.high)):
            continue
        bounds = f"{number(band.low)} to {measure(band.high, 'opening_mm')}" if band.high < float("inf") else f"above {number(band.low)} mm"
        yield Doubt(
            f"Grade {grade} ({cited(finding, 'grade')}) stands beside {amount(finding, 'opening_mm')} of opening "
            f"({cited(finding, 'opening_mm')}); that grade is {bounds}. Which is right?",
            about(finding, "grade", "opening_mm"),
            evidence(finding, "grade", "opening_mm"),
        )


@check(
    "FIND04",
    "lax-on-the-side-that-was-not-treated",
    severity="ask",
    kind="implausible",
    source="valgus stress tests the medial side, varus the lateral: common practice; openings: LaPrade 2010 AJSM",
)
def lax_on_the_untreated_side(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The knee opened widely on one side before the operation, and only the other side was treated.

    Why: "varus" and "valgus" are heard for one another in the examination too.

    Silent when: both sides, or neither, were treated; the treated side opened as well; the opening was small or not measured.
    """
    for exam, other in (("valgus stress", "varus stress"), ("varus stress", "valgus stress")):
        if _treated(record, known, exam) or not _treated(record, known, other):
            continue
        wide = [finding for finding in record.of("finding") if word(finding, "phase") == "before" and _wide(finding, known)]
        here = [finding for finding in wide if word(finding, "exam") == exam]
        if here and not any(word(finding, "exam") == other for finding in wide):
            side = "medial" if exam == "valgus stress" else "lateral"
            yield Doubt(
                f"Under {exam} ({cited(here[0], 'exam')}) the knee opened {amount(here[0], 'opening_mm')} "
                f"({cited(here[0], 'opening_mm')}), but nothing on the {side} side was treated. Was it {other}?",
                about(here[0], "exam", "opening_mm"),
                evidence(here[0], "exam", "opening_mm"),
            )


def _wide(finding: Entity, known: Knowledge) -> bool:
    opening = spread(finding, "opening_mm")
    return opening is not None and opening.low >= known.limits["wide-opening"].low


@check(
    "FIND05",
    "still-lax-at-the-end",
    severity="ask",
    kind="implausible",
    source="after fixation a grade of 0 or 1+ and at most 2 mm more than the other side are expected: common practice; LaPrade 2018 AJSM",
)
def still_lax(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The knee is still lax in the examination after the reconstruction.

    Why: it is either a slip, or something the next surgeon must find explained.

    Silent when: the grade is 0 or 1 and the opening small; the examination has no such grades; it was made before.
    """
    for finding in record.of("finding"):
        if word(finding, "phase") != "after" or not texts(finding, "exam") & known.members("exams-graded-by-opening"):
            continue
        grade, opening = (word(finding, "grade") or "").rstrip("+AB"), spread(finding, "opening_mm")
        name = "grade" if grade in ("2", "3") else "opening_mm"
        if name == "grade" or (opening and opening.low > known.limits["residual-opening"].high):
            what = f"grade {word(finding, 'grade')}" if name == "grade" else f"{amount(finding, 'opening_mm')} of opening"
            yield Doubt(
                f"After the reconstruction the {word(finding, 'exam')} examination still shows {what} ({cited(finding, name)}). "
                "Is that right?",
                about(finding, name),
                evidence(finding, name, "exam", "phase"),
            )
