"""The account: every word of a dictation in exactly one row, with what became of it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Container, Iterable, Iterator

from opnote.extract.model import Extraction
from opnote.hearing.model import Heard
from opnote.language.talk import Talk
from opnote.record.fates import Fate, fates
from opnote.record.model import AccountRow
from opnote.spans import RawSpan
from opnote.transcript.model import Segment

NAME = "the speaker's name"


def account(talk: Talk, extraction: Extraction, surgical: frozenset[str] = frozenset()) -> Iterator[AccountRow]:
    """The rows of one source: they tile its words in order, and each holds words of one statement with the same fate.

    ``surgical`` are words by which a statement without any term speaks of the operation all the same ("closed in layers").

    Of "We, um, reamed to nine" the rows are "We," (narrative), "um," (filler), "reamed to" (narrative) and "nine" (used).
    A name that stands in the file before the words ("Nurse:") gets a row of no width before theirs.
    """
    transcript = talk.heard.transcript
    named = {segment.start: segment for segment in transcript.segments if segment.named and segment.speaker}
    for words in runs(fates(talk, extraction, surgical), named):
        section = talk.statements[words[0].statement].section if talk.statements else ""
        if words[0].start in named:
            yield _label(named[words[0].start], transcript.source, words[0], section)
        yield _row(talk, words, section)


def runs(words: Iterable[Fate], breaks: Container[int]) -> Iterator[tuple[Fate, ...]]:
    """Neighbouring words of one statement with the same fate; at the characters ``breaks`` a new run begins."""
    run: list[Fate] = []
    for word in words:
        if run and (word.start in breaks or (word.statement, word.status, word.reason) != (run[0].statement, run[0].status, run[0].reason)):
            yield tuple(run)
            run = []
        run.append(word)
    if run:
        yield tuple(run)


def _row(talk: Talk, words: tuple[Fate, ...], section: str) -> AccountRow:
    transcript, first = talk.heard.transcript, words[0]
    span = RawSpan(first.start, words[-1].end)
    start_s, end_s = transcript.seconds(span)
    return AccountRow(
        status=first.status, reason=first.reason, source=transcript.source, start_s=start_s, end_s=end_s, chars=(span.start, span.end),
        quote=transcript.quote(span), read=read(talk.heard, span), statement=first.statement, section=section,
    )  # fmt: skip


def _label(segment: Segment, source: str, word: Fate, section: str) -> AccountRow:
    """A speaker's name in the file: nobody said it."""
    return AccountRow(
        status="set aside", reason=NAME, source=source, start_s=segment.start_s, end_s=segment.start_s,
        chars=(segment.start, segment.start), quote=f"{segment.speaker}:", statement=word.statement, section=section,
    )  # fmt: skip


def read(heard: Heard, span: RawSpan) -> str:
    """A dictated stretch as it is read after hearing's edits; an edit belongs to the stretch in which its first word begins.

    Of "cycled comma and" the stretch "comma" is read as ",", though the edit took the space before it away as well.
    """
    text = heard.transcript.text
    pieces: list[str] = []
    at = span.start
    for edit in heard.edits[bisect_right(heard.edits, span.start, key=lambda edit: edit.raw.end) :]:
        if edit.raw.start >= span.end:
            break
        begins = edit.raw.end - len(heard.transcript.quote(edit.raw).lstrip())
        pieces += [text[at : max(at, edit.raw.start)], edit.read_as if span.start <= begins < span.end else ""]
        at = max(at, min(edit.raw.end, span.end))
    return "".join([*pieces, text[at : span.end]]).strip(" ")
