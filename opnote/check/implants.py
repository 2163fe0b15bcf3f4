"""Implants, grafts and counts: what must never be passed over in silence."""

from __future__ import annotations

import re
from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.reading import about, case_of, evidence, in_place, word
from opnote.check.wording import cited, thing
from opnote.record.model import Record

DATE = re.compile(r"\d{4}-\d\d(-\d\d)?")


@check("IMPL01", "expired-on-the-day", severity="stop", kind="implausible",
       source="common practice: no device or tissue is used after its expiry date; the date is read out with the sticker")  # fmt: skip
def expired(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """An implant or graft was past its expiry date on the day of surgery.

    Why: either the date was misheard, or an expired device is in the patient; both must be known before signing.

    Silent when: either date was not said or is not settled; the month is the same and no day was said; the device did not stay
    in the patient.
    """
    case = case_of(record)
    surgery = word(case, "date_of_surgery") if case else None
    if case is None or surgery is None or not DATE.fullmatch(surgery):
        return
    for entity in filter(in_place, (*record.of("implant"), *record.of("graft"))):
        expiry = word(entity, "expiry")
        if expiry is None or not DATE.fullmatch(expiry):
            continue
        known_to = min(len(expiry), len(surgery))
        if expiry[:known_to] < surgery[:known_to]:
            yield Doubt(f"The {thing(entity)} expired {expiry} ({cited(entity, 'expiry')}), before the operation of {surgery} "
                        f"({cited(case, 'date_of_surgery')}). Is the date right?",
                        about(entity, "expiry"), evidence(entity, "expiry") + evidence(case, "date_of_surgery"))  # fmt: skip


@check("IMPL02", "incorrect-count", severity="ask", kind="unclear",
       source="WHO Surgical Safety Checklist (2009), sign out: counts correct or not applicable")  # fmt: skip
def incorrect_count(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The counts were said to be incorrect.

    Why: an incorrect count is never left standing: what was done (search, radiograph) belongs in the note.

    Silent when: the counts were correct, not said, or said in two ways (SAID01).
    """
    case = case_of(record)
    if case and word(case, "counts") == "incorrect":
        yield Doubt(f"The counts were said to be incorrect ({cited(case, 'counts')}). What was done about it?",
                    about(case, "counts"), evidence(case, "counts"))  # fmt: skip
