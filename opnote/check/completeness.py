"""Completeness: required elements that were not said, asked for by the profiles in force."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import groupby

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.profiles import RANK, Unsaid, unsaid
from opnote.check.reading import case_of, own_evidence
from opnote.check.wording import listed, thing, when
from opnote.record.model import About, Entity, Record

_Wanted = Callable[[str], bool]
DEVICES = ("implant", "graft")
FIXATION = ("tensioning",)


@check(
    "GAP01",
    "required-element-unsaid",
    severity="ask",
    kind="missing",
    source="the rows of lexicons/profiles/ (42 CFR 482.51(b)(6); Joint Commission RC.02.01.03; what a revision surgeon needs)",
)
def required_element_unsaid(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """An element that every report needs was not said.

    Why: a report that lacks it is not complete for the profiles that ask for it; "none" is an answer, silence is not.

    Silent when: anything was said of it, also two things that clash; no profile in force asks for it.
    """
    return _gaps(record, known, lambda of: of not in (*DEVICES, *FIXATION))


@check(
    "GAP02",
    "graft-or-implant-not-identified",
    severity="ask",
    kind="missing",
    source="Joint Commission tissue and implant tracking, CMS-10 (devices and grafts implanted); common practice",
)
def device_not_identified(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft lacks its tissue or source, or a device left in the patient its lot or serial number.

    Why: a recall finds the patient by the lot, and a revision surgeon needs to know what was put in.

    Silent when: the device was opened and not used, or taken out again; a lot or a serial number was said.
    """
    return _gaps(record, known, lambda of: of in DEVICES)


@check(
    "GAP03",
    "fixation-angle-unsaid",
    severity="ask",
    kind="missing",
    source="common practice: the flexion angle at fixation belongs to every reconstruction's report",
)
def fixation_angle_unsaid(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A ligament was reconstructed and the angle at which its graft was fixed was not said.

    Why: the angle sets the tension of the graft; a revision surgeon and a study look for it first.

    Silent when: an angle was said for a fixation that serves the ligament, also as a range or in two ways; the ligament was repaired.
    """
    return _gaps(record, known, lambda of: of in FIXATION)


def _gaps(record: Record, known: Knowledge, wanted: _Wanted) -> Iterator[Doubt]:
    """One doubt for each question and severity, naming everything it asks for and who asks."""
    gaps = [gap for element, rows in known.profiles.required() if wanted(element.of) for gap in unsaid(record, element, rows)]

    def question(gap: Unsaid) -> tuple[int, str]:
        return RANK[gap.element.severity], gap.element.question

    for (_, id), group in groupby(sorted(gaps, key=question), key=question):
        missing = tuple(group)
        things = listed(dict.fromkeys(_thing(gap) for gap in missing))
        rows = ", ".join(dict.fromkeys(row for gap in missing for row in gap.rows))
        yield Doubt(
            f"{known.profiles.questions[id].text.replace('{things}', things)} [{rows}]",
            tuple(_about(record, gap) for gap in missing),
            tuple(words for gap in missing if gap.entity and gap.entity.type != "case" for words in own_evidence(gap.entity)),
            severity=missing[0].element.severity,
        )


def _thing(gap: Unsaid) -> str:
    if gap.value:
        return gap.value
    if gap.entity is None or gap.entity.type == "case":
        return gap.element.label
    return f"{thing(gap.entity)} ({_when(gap.entity)})"


def _when(entity: Entity) -> str:
    return when(min(own_evidence(entity), key=lambda words: words.chars))


def _about(record: Record, gap: Unsaid) -> About:
    entity = gap.entity or (case_of(record) if gap.element.of == "case" else None) or _served_by(record, gap)
    return About(entity=entity.id if entity else None, type=gap.element.of, attribute=gap.element.about)


def _served_by(record: Record, gap: Unsaid) -> Entity | None:
    """The one entity that serves the value for which the element is missing."""
    if not gap.value or gap.element.per is None:
        return None
    name = gap.element.per.same
    found = [e for e in record.of(gap.element.of) if e.attributes.get(name) and e.attributes[name].value == gap.value]
    return found[0] if len(found) == 1 else None
