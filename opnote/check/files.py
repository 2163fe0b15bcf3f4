"""Files: what their readers tolerated and a reader of the note should know."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.wording import listed
from opnote.record.model import About, Record, SourceMend


@check(
    "FILE01",
    "seconds-that-cannot-be-true",
    severity="info",
    kind="unclear",
    source="common practice: seconds order the steps and lead back to the words",
)
def seconds_that_cannot_be_true(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The seconds in a file cannot all be true: they run backwards, end before they begin, are no numbers or lie beyond a day.

    Why: each value is shown with the second at which it was said, and a moment that is wrong leads to the wrong words; the words
    themselves, and their order in the file, are kept as they stand.

    Silent when: the file has no seconds, or only writes them otherwise than its format asks.
    """
    for source in record.sources:
        wrong: dict[str, list[SourceMend]] = {}
        for mend in source.mends:
            if mend.kind == "time":
                wrong.setdefault(mend.what.partition(";")[0], []).append(mend)
        if wrong:
            told = listed(f"{what} ({_where(*mends)})" for what, mends in wrong.items())
            message = f"Seconds in {source.name} cannot be true: {told}. The seconds shown with its words may be wrong."
            yield Doubt(message, (About(type=source.kind),))


@check(
    "FILE02",
    "file-that-may-be-cut",
    severity="info",
    kind="unclear",
    source="W3C WebVTT, 4.1: a file may end without a line end, and one that was cut off looks the same",
)
def file_that_may_be_cut(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A file of cues ends without a line end.

    Why: many tools write none, but a file that was cut off between two words looks the same, and then the end of the operation is
    missing without a trace. A file that is plainly cut is not drafted at all.

    Silent when: the file ends with a line end, or is of a kind that shows where it ends.
    """
    for source in record.sources:
        for mend in source.mends:
            if mend.kind == "end":
                yield Doubt(
                    f"{source.name} ends without a line end ({_where(mend)}). Is that where the dictation ended?",
                    (About(type=source.kind),),
                )


def _where(first: SourceMend, *others: SourceMend) -> str:
    """The first place, and how many more there are."""
    place = f"line {first.line}" if first.line is not None else "the whole file"
    return f"{place} and {len(others)} more" if others else place
