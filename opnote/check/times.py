"""Times: the tourniquet, the antibiotic and the order of events, by the clock."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.profiles import RANK, texts
from opnote.check.reading import HALF_DAY, about, case_of, clocks, elapsed, evidence, spread, word
from opnote.check.wording import amount, cite, cited
from opnote.record.model import Entity, Record


@check(
    "TIME01",
    "tourniquet-minutes-against-the-clock",
    severity="stop",
    kind="conflict",
    source="common practice; pressure and duration are recorded: BOAST tourniquet standard, October 2021",
)
def tourniquet_minutes(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The tourniquet minutes do not agree with the times it went up and down.

    Why: one of the three figures is wrong, and the longer of the two periods is the patient's risk.

    Silent when: they agree within the time it takes to say so; one of the three was not said or is not settled; the periods
    cannot be paired (an inflation without its release).
    """
    case, ups, downs = case_of(record), clocks(record, "tourniquet up"), clocks(record, "tourniquet down")
    said = spread(case, "tourniquet_min") if case else None
    if case is None or said is None or not ups or len(ups) != len(downs):
        return
    counted = sum(elapsed(up, down) for (up, _), (down, _) in zip(ups, downs, strict=True))
    slack = known.limits["tourniquet-about" if case.attributes["tourniquet_min"].approximate else "tourniquet-minutes"].high
    if said.low - slack <= counted <= said.high + slack:
        return
    events = [entity for pair in zip(ups, downs, strict=True) for _, entity in pair]
    times = ", ".join(
        f"{'up' if (word(e, 'name') or '').endswith('up') else 'down'} {word(e, 'clock')} {cite(evidence(e, 'clock'))}" for e in events
    )
    yield Doubt(
        f"The tourniquet time was said as {amount(case, 'tourniquet_min')} ({cited(case, 'tourniquet_min')}), but the clock makes "
        f"it {counted} min ({times}). Which is right?",
        about(case, "tourniquet_min"),
        evidence(case, "tourniquet_min") + tuple(words for e in events for words in evidence(e, "clock")),
    )


@check(
    "TIME02",
    "antibiotic-outside-its-window",
    severity="ask",
    kind="implausible",
    source="WHO Surgical Safety Checklist (2009), time out: prophylaxis within the last 60 minutes; slow drugs 120: hospital guidelines",
)
def antibiotic_window(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The antibiotic was given too long before the incision.

    Why: protection has faded by then, or one of the times is a slip.

    Silent when: a second dose was said; a time is missing; the drug is one that runs in slowly, or unknown, and within two
    hours; it came after the incision (TIME03 asks then).
    """
    case, given = case_of(record), clocks(record, "antibiotic given")
    cut = clocks(record, "incision") or clocks(record, "tourniquet up")
    if len(given) != 1 or len(cut) != 1:
        return
    drugs = texts(case, "antibiotic") if case else frozenset()
    slow = not drugs or bool(drugs & known.members("slow-antibiotics"))
    before = elapsed(given[0][0], cut[0][0])
    window = known.limits["slow-antibiotic-before-incision" if slow else "antibiotic-before-incision"]
    if before <= window.high or before >= HALF_DAY - known.limits["backwards"].high:
        return
    (_, drug), (_, start) = given[0], cut[0]
    yield Doubt(
        f"The antibiotic was given at {word(drug, 'clock')} ({cited(drug, 'clock')}), {before} minutes before the "
        f"{word(start, 'name')} at {word(start, 'clock')} ({cited(start, 'clock')}). Are both times right?",
        (*about(drug, "clock"), *about(start, "clock")),
        evidence(drug, "clock") + evidence(start, "clock"),
    )


@check(
    "TIME03",
    "events-out-of-order",
    severity="stop",
    kind="conflict",
    source="common practice; the order of lexicons/procedures/, each pair with its source",
)
def events_out_of_order(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """Two events of the case have clock times in the wrong order.

    Why: the times are part of the legal record; one of them is a slip.

    Silent when: a time is missing, or the event happened more than once; the order holds over midnight or on a 12-hour clock; the
    event already stands in another question of this check.
    """
    asked: set[str] = set()
    for order in sorted(known.orders, key=lambda order: RANK[order.severity]):
        first, then = clocks(record, order.first), clocks(record, order.then)
        if len(first) != 1 or len(then) != 1 or order.first in asked:
            continue
        if not 0 < elapsed(then[0][0], first[0][0]) <= known.limits["backwards"].high:
            continue
        asked.add(order.first)
        (_, one), (_, other) = first[0], then[0]
        yield Doubt(
            f"{_clock(one)} comes after {_clock(other, lower=True)}. Which time is right?",
            (*about(one, "clock"), *about(other, "clock")),
            evidence(one, "clock") + evidence(other, "clock"),
            severity=order.severity,
        )


def _clock(event: Entity, *, lower: bool = False) -> str:
    name = word(event, "name") or ""
    return f"{name if lower else name.capitalize()} at {word(event, 'clock')} ({cited(event, 'clock')})"
