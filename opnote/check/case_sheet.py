"""The case sheet against the dictation."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.reading import about, case_of, evidence, structures, word
from opnote.check.said_twice import ELSEWHERE, said_as, spoken, wording
from opnote.check.wording import cited, listed, thing
from opnote.record.model import Entity, Record, Severity
from opnote.record.scheduled import named

SCHEDULED = "procedure_scheduled"


@check(
    "SHEET01",
    "case-sheet-says-otherwise",
    severity="stop",
    kind="conflict",
    source="42 CFR 482.24(c)(1): entries complete and accurate; time out against the schedule: WHO Surgical Safety Checklist (2009)",
)
def case_sheet_says_otherwise(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The dictation and the case sheet say different things of one case.

    Why: it is the wrong sheet, the wrong patient, a late change or a mis-heard word, and only the author knows which.

    It stops the note where the wrong value harms or is another patient's (lists ``harmful`` and ``identifying``), else it asks.

    Silent when: both say the same once titles, first names, blanks and dashes are left out; only one of them says it; it is the
    side (SIDE01).
    """
    case, grave = case_of(record), known.members("harmful") | known.members("identifying")
    for name, attribute in case.attributes.items() if case else ():
        said = spoken(attribute.candidates, record)
        written = [c for c in attribute.candidates if c not in said]
        if case and written and said and ("case", name) not in ELSEWHERE:
            on_paper = listed(wording(c, name) for c in written)
            ways, label = listed(said_as(c, name) for c in said), known.label("case", name)
            yield Doubt(
                f"The case sheet says otherwise of the {label}: {on_paper} there, {ways} in the dictation. Which is right?",
                about(case, name),
                tuple(words for c in (*said, *written) for words in c.evidence),
                severity="stop" if name in grave else "ask",
            )


@check(
    "SHEET02",
    "another-operation-was-scheduled",
    severity="stop",
    kind="conflict",
    source="time out against the schedule: WHO Surgical Safety Checklist (2009); 42 CFR 482.51(b)(6): name of the procedure performed",
)
def another_operation_was_scheduled(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The procedure on the case sheet is of another side, or of other structures, than what was done.

    Why: it is the sheet of another patient, or the plan was changed, which the note should say. Another side stops the note, another
    structure is asked about.

    Silent when: the sheet names neither side nor structure; one of its structures was operated on; nothing was said to be done.
    """
    case = case_of(record)
    scheduled = word(case, SCHEDULED) if case else None
    if case is None or scheduled is None:
        return
    planned, side = named(scheduled, "structure", known.lexicon), named(scheduled, "side", known.lexicon)
    if side and word(case, "side") and word(case, "side") not in side:
        yield _otherwise(case, scheduled, f"the side was said as {word(case, 'side')} ({cited(case, 'side')})", "side", severity="stop")
    done = [procedure for procedure in record.of("procedure") if structures(procedure)]
    operated = frozenset(structure for procedure in done for structure in structures(procedure))
    if planned and done and planned.isdisjoint(operated):
        what = listed(f"{thing(procedure)} ({cited(procedure, 'structure')})" for procedure in done)
        yield _otherwise(case, scheduled, f"what was said to be done is {what}", SCHEDULED, severity="ask")


def _otherwise(case: Entity, scheduled: str, said: str, name: str, *, severity: Severity) -> Doubt:
    message = f"“{scheduled}” stands on the case sheet, but {said}. Which is right?"
    return Doubt(message, about(case, *dict.fromkeys((SCHEDULED, name))), evidence(case, SCHEDULED), severity=severity)
