"""Implants, grafts and counts: what must never be passed over in silence."""

from __future__ import annotations

import re
from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.reading import about, case_of, evidence, exact, in_place, word
from opnote.check.wording import cited, thing
from opnote.record.model import Entity, Record

DOSE = re.compile(r"(\d+(?:\.\d+)?) (g|mg)")
DATE = re.compile(r"\d{4}-\d\d(-\d\d)?")


@check(
    "IMPL01",
    "expired-on-the-day",
    severity="stop",
    kind="implausible",
    source="common practice: no device or tissue is used after its expiry date; the date is read out with the sticker",
)
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
            yield Doubt(
                f"The {thing(entity)} expired {expiry} ({cited(entity, 'expiry')}), before the operation of {surgery} "
                f"({cited(case, 'date_of_surgery')}). Is the date right?",
                about(entity, "expiry"),
                evidence(entity, "expiry") + evidence(case, "date_of_surgery"),
            )


@check(
    "IMPL02",
    "incorrect-count",
    severity="ask",
    kind="unclear",
    source="WHO Surgical Safety Checklist (2009), sign out: counts correct or not applicable",
)
def incorrect_count(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The counts were said to be incorrect.

    Why: an incorrect count is never left standing: what was done (search, radiograph) belongs in the note.

    Silent when: the counts were correct, not said, or said in two ways (SAID01).
    """
    case = case_of(record)
    if case and word(case, "counts") == "incorrect":
        yield Doubt(
            f"The counts were said to be incorrect ({cited(case, 'counts')}). What was done about it?",
            about(case, "counts"),
            evidence(case, "counts"),
        )


@check(
    "IMPL03",
    "one-lot-for-two-devices",
    severity="ask",
    kind="conflict",
    source="common practice: a lot is one kind and one size; identifiers are read out from stickers one after the other",
)
def one_lot_for_two_devices(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """Two devices of different kind or size carry the same lot or serial number.

    Why: one sticker was read twice, or credited to the wrong device; a recall would miss one of them.

    Silent when: the devices agree in kind and size, or one of them lacks a size; a number is not settled.
    """
    for name in ("lot", "serial"):
        seen: dict[str, Entity] = {}
        for device in record.of("implant"):
            number = word(device, name)
            if number is None:
                continue
            first = seen.setdefault(number, device)
            if _differ(first, device):
                yield Doubt(
                    f"{known.label('implant', name).capitalize()} {number} was said for the {thing(first)} ({cited(first, name)}) and "
                    f"for the {thing(device)} ({cited(device, name)}). Which device is it?",
                    (*about(first, name), *about(device, name)),
                    evidence(first, name) + evidence(device, name),
                )


def _differ(one: Entity, other: Entity) -> bool:
    """Whether two devices were said with a different kind, or a different size in a dimension that both have."""
    kinds = {word(one, "kind"), word(other, "kind")} - {None}
    sizes = (({exact(one, size), exact(other, size)} - {None}) for size in ("diameter_mm", "length_mm"))
    return len(kinds) > 1 or any(len(held) > 1 for held in sizes)


@check(
    "IMPL04",
    "dose-outside-what-is-given",
    severity="ask",
    kind="implausible",
    source="cefazolin 2 g, 3 g above 120 kg; vancomycin 15 mg/kg: pharmacy teaching page and hospital guideline notes",
)
def dose_outside(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The dose of the antibiotic is far from what is given of it.

    Why: "milligrams" and "grams", and a lost decimal point, change the dose a thousandfold or tenfold.

    Silent when: no dose is known for the drug (limits ``dose-g-DRUG``); drug or dose is not settled, or two drugs were said.
    """
    case = case_of(record)
    drug, dose = (word(case, "antibiotic"), DOSE.fullmatch(word(case, "antibiotic_dose") or "")) if case else (None, None)
    limit = known.limits.get(f"dose-g-{drug}")
    if case is None or dose is None or limit is None:
        return
    grams = float(dose[1]) / (1000 if dose[2] == "mg" else 1)
    if not limit.low <= grams <= limit.high:
        yield Doubt(
            f"The dose of {drug} was said as {dose[0]} ({cited(case, 'antibiotic_dose')}). Is that right?",
            about(case, "antibiotic_dose"),
            evidence(case, "antibiotic", "antibiotic_dose"),
        )
