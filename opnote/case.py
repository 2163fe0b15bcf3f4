"""One case, from its files to a checked record and a draft: what the commands and a program that imports ``opnote`` both call."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from opnote import check, lexicon, pipeline, transcript
from opnote.errors import TranscriptError
from opnote.lexicon import Lexicon
from opnote.pipeline import Run
from opnote.record import sheet as sheets
from opnote.record.model import Record
from opnote.transcript.model import Transcript

if TYPE_CHECKING:
    from opnote.note.model import Note, Worksheet

Step = Callable[[str], None]


#: What to do about a file that was cut off.
KEEP = "get the whole file, or draft from what is left: `opnote transcript {} --to json > rest.json`"


def _silent(step: str) -> None:
    """Tells nobody which step is being taken."""


@dataclass(frozen=True)
class Case:
    """A case that was read and checked: ``record`` holds its findings, ``run`` what the stages made on the way."""

    record: Record
    run: Run
    transcripts: tuple[Transcript, ...]
    lexicon: Lexicon

    def note(self, *, kind: str = "full") -> Note:
        """The drafted note. Raises ``TemplateError`` for a kind that does not exist."""
        from opnote import note

        return note.compose(self.record, kind=kind, lexicon=self.lexicon)

    def worksheet(self) -> Worksheet:
        """The surgeon's worksheet, with what the readers tolerated in the files."""
        from opnote import note

        mends = [mend for source in self.transcripts for mend in source.mends]
        return note.worksheet(self.record, mends=mends, lexicon=self.lexicon)


@dataclass(frozen=True)
class Draft:
    """The note for the record, the worksheet for the surgeon, and the record both were drawn from."""

    note: Note
    worksheet: Worksheet
    record: Record


def read_case(
    dictation: str | Sequence[str],
    *,
    addenda: Sequence[str] = (),
    sheet: str | None = None,
    lexicons: Sequence[Path] = (),
    profiles: Collection[str] = check.DEFAULT_PROFILES,
    step: Step = _silent,
) -> Case:
    """Read and check one case: a dictation, its addenda in the order they were spoken, and the case sheet.

    A dictation in several files is given as their paths in the order in which they were spoken. ``"-"`` is standard input, for one of
    the files. ``lexicons`` are folders laid over the built-in ones, ``profiles`` the standards whose elements are asked for; ``step`` is
    told what is being done. Raises ``OpnoteError`` for a file that cannot be used.
    """
    parts = [dictation] if isinstance(dictation, str) else list(dictation)
    files = [*parts, *addenda, *([sheet] if sheet else [])]
    if files.count("-") > 1:
        raise TranscriptError("standard input can be only one of the files", hint="give the others by their paths")
    step("reading")
    words = lexicon.load(folders=lexicons)
    scheduled = sheets.read(sheet, lexicon=words) if sheet else None
    spoken = transcript.joined([_whole(path, source="dictation", kind="dictation") for path in parts])
    later = (_whole(path, source=f"addendum-{number}", kind="addendum") for number, path in enumerate(addenda, start=1))
    transcripts = (spoken, *later)
    step("understanding")
    run = pipeline.run(*transcripts, lexicon=words, sheet=scheduled)
    step("checking")
    findings = check.run(run.record, profiles=profiles, knowledge=check.knowledge_of(words, folders=lexicons))
    return Case(run.record.model_copy(update={"findings": findings}), run, transcripts, words)


def _whole(path: str, *, source: str, kind: str) -> Transcript:
    """A transcript that was not cut off: half an operation makes no report."""
    read = transcript.read(path, source=source, kind=kind)
    cut = next((mend for mend in read.mends if mend.kind == "cut"), None)
    if cut is not None:
        raise TranscriptError(
            cut.what.partition(";")[0],
            where=transcript.place(path),
            line=cut.line,
            hint=KEEP.format("FILE" if path == "-" else shlex.quote(path)),
        )
    return read


def facts(
    dictation: str | Sequence[str], *, addenda: Sequence[str] = (), sheet: str | None = None, lexicons: Sequence[Path] = ()
) -> Record:
    """The record of a case, its findings included. Raises ``OpnoteError`` for a file that cannot be used."""
    return read_case(dictation, addenda=addenda, sheet=sheet, lexicons=lexicons).record


def draft(dictation: str | Sequence[str], *, addenda: Sequence[str] = (), sheet: str | None = None, lexicons: Sequence[Path] = ()) -> Draft:
    """The draft of a case: note, worksheet and record. Raises ``OpnoteError`` for a file that cannot be used."""
    case = read_case(dictation, addenda=addenda, sheet=sheet, lexicons=lexicons)
    return Draft(case.note(), case.worksheet(), case.record)
