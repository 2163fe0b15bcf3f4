"""Aftercare: the plan against the operation and against itself."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.profiles import texts
from opnote.check.reading import about, evidence, exact, structures, word
from opnote.check.wording import cited, number, thing
from opnote.record.model import Record


@check(
    "CARE01",
    "weight-on-a-repaired-root",
    severity="stop",
    kind="conflict",
    source="clinic protocols: 6 weeks without weight after a root repair, 4 in one of them; common practice",
)
def weight_on_a_repaired_root(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The plan allows weight on a meniscus root in the weeks in which its repair must be spared.

    Why: early loading pulls the root out; the plan or the procedure is misheard.

    Silent when: no root was repaired; the weight bearing is restricted, not settled, or begins after the first weeks.
    """
    roots = sorted(
        name for p in record.of("procedure") if "repair" in texts(p, "action") for name in structures(p) if name.endswith("root")
    )
    if not roots:
        return
    for item in record.of("postop"):
        if word(item, "item") != "weight bearing" or not texts(item, "value") & known.members("full-loading"):
            continue
        start = exact(item, "from_weeks") if "from_weeks" in item.attributes else 0.0
        if start is None or start >= known.limits["root-spared-weeks"].high:
            continue
        yield Doubt(
            f"The {roots[0]} was repaired, and weight bearing is planned as {word(item, 'value')} from the start "
            f"({cited(item, 'value')}). Is that the plan?",
            about(item, "value"),
            evidence(item, "value", "from_weeks"),
        )


@check("CARE02", "weeks-run-backwards", severity="stop", kind="conflict", source="common practice")
def weeks_run_backwards(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A phase of the plan ends before it begins.

    Why: the patient and the therapist read the weeks literally.

    Silent when: one of the two was not said, or is a range, or not settled.
    """
    for item in record.of("postop"):
        start, end = exact(item, "from_weeks"), exact(item, "to_weeks")
        if start is not None and end is not None and end < start:
            yield Doubt(
                f"The plan for {thing(item)} runs from week {number(start)} ({cited(item, 'from_weeks')}) to week {number(end)} "
                f"({cited(item, 'to_weeks')}). Which weeks were meant?",
                about(item, "from_weeks", "to_weeks"),
                evidence(item, "from_weeks", "to_weeks"),
            )


@check(
    "CARE03",
    "deep-bending-too-early",
    severity="ask",
    kind="conflict",
    source="flexion to 90 degrees for 4 to 6 weeks after meniscus repair (BMJ Open SEM review, table 2) and PCL (clinic protocols)",
)
def deep_bending_too_early(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The plan lets the knee bend beyond 90 degrees in the weeks in which a repair must be spared.

    Why: deep flexion loads the posterior meniscus and the PCL; the angle or the weeks may be misheard.

    Silent when: no meniscus was repaired and no PCL reconstructed; no weeks were said, or later ones; the angle is not settled.
    """
    if not _spared_in_flexion(record):
        return
    for item in record.of("postop"):
        high, end = exact(item, "high_deg"), exact(item, "to_weeks")
        if high is None or end is None or high <= known.limits["early-flexion"].high or end > known.limits["flexion-spared-weeks"].high:
            continue
        yield Doubt(
            f"The plan bends the knee to {number(high)}° ({cited(item, 'high_deg')}) within {number(end)} weeks "
            f"({cited(item, 'to_weeks')}), after {_spared_in_flexion(record)}. Is that the plan?",
            about(item, "high_deg", "to_weeks"),
            evidence(item, "high_deg", "to_weeks"),
        )


def _spared_in_flexion(record: Record) -> str:
    """What of the operation wants the knee spared from deep bending; "" where nothing does."""
    for procedure in record.of("procedure"):
        if "PCL" in structures(procedure) and "reconstruction" in texts(procedure, "action"):
            return "a PCL reconstruction"
        if "repair" in texts(procedure, "action") and any("meniscus" in name for name in structures(procedure)):
            return "a meniscus repair"
    return ""
