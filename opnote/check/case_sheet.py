"""The case sheet against the dictation."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.reading import about, case_of
from opnote.check.said_twice import ELSEWHERE, spoken, wording
from opnote.check.wording import cite, listed
from opnote.record.model import Record


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

    Silent when: both say the same once titles, first names, blanks and dashes are left out; only one of them says it; it is the
    side (SIDE01).
    """
    case = case_of(record)
    for name, attribute in case.attributes.items() if case else ():
        said = spoken(attribute.candidates, record)
        written = [c for c in attribute.candidates if c not in said]
        if case and written and said and ("case", name) not in ELSEWHERE:
            on_paper = listed(wording(c, name) for c in written)
            ways = listed((f"{wording(c, name)} {cite(c.evidence)}" for c in said), last="and as")
            yield Doubt(
                f"The {known.label('case', name)} is {on_paper} on the case sheet and was said as {ways}. Which is right?",
                about(case, name),
                tuple(words for c in (*said, *written) for words in c.evidence),
            )
