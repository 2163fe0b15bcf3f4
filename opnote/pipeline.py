"""The whole flow on one screen: a call per stage, no logic."""

from __future__ import annotations

from dataclasses import dataclass

from opnote import __version__
from opnote.extract.extract import extract
from opnote.extract.model import Extraction
from opnote.hearing import hear
from opnote.language.phrases import phrasebook
from opnote.language.talk import Talk, understand
from opnote.lexicon import Lexicon
from opnote.record.build import build
from opnote.record.model import Record
from opnote.record.sheet import Sheet
from opnote.transcript.model import Transcript


@dataclass(frozen=True)
class Run:
    """A record with what each stage made on the way (for ``opnote trace``)."""

    record: Record
    talks: tuple[tuple[Talk, Extraction], ...]


def run(*transcripts: Transcript, lexicon: Lexicon, sheet: Sheet | None = None) -> Run:
    """From a dictation, its addenda and its case sheet to the record, unchecked."""
    book = phrasebook(lexicon)
    talks = []
    for transcript in transcripts:
        heard = hear(transcript, lexicon)
        talk = understand(heard, lexicon, book)
        talks.append((talk, extract(talk, lexicon)))
    return Run(build(talks, lexicon, version=__version__, sheet=sheet), tuple(talks))
