"""The whole of hearing on one screen: what each rule proposes, settled into edits that replay."""

from __future__ import annotations

from collections.abc import Iterable

from opnote.hearing.doubts import unsure
from opnote.hearing.edits import Change, heard_with, settled
from opnote.hearing.fillers import fillers
from opnote.hearing.layout import layout
from opnote.hearing.longterms import long_terms, longterms
from opnote.hearing.mishearings import mishearings
from opnote.hearing.model import Heard
from opnote.hearing.phrases import Phrases
from opnote.hearing.restarts import restarts
from opnote.hearing.words import Word, masked, words_of
from opnote.lexicon import Lexicon
from opnote.transcript.model import Transcript


def hear(transcript: Transcript, lexicon: Lexicon) -> Heard:
    """What the words of ``transcript`` may be: sure repairs as edits that replay, doubtful ones as readings.

    Spoken layout words are read as marks, fillers and restarts are left out, then mis-hearings are looked for in what remains.
    The text read stays single-spaced and stripped where the dictated text is.
    """
    text = transcript.text
    words = words_of(text)
    marks = layout(text, words, Phrases((said, entry) for entry in lexicon.layouts for said in entry.said))
    empty = fillers(text, words, Phrases((said, (entry, said)) for entry in lexicon.fillers for said in entry.said))
    changes = settled([*marks, *empty], length=len(text))
    changes = settled([*changes, *restarts(text, _rest(text, changes))], length=len(text))
    table = Phrases((heard, entry) for entry in lexicon.mishearings for heard in entry.heard)
    rest = _rest(text, changes)
    repairs, doubts = mishearings(text, rest, table)
    long_repairs = longterms(text, rest, long_terms(lexicon))
    edits = settled([*changes, *repairs, *long_repairs], length=len(text))
    return heard_with(transcript, edits, [*doubts, *unsure(transcript, lexicon.guarded)])


def _rest(text: str, changes: Iterable[Change]) -> tuple[Word, ...]:
    """The words that ``changes`` (settled) leave, in their places."""
    return words_of(masked(text, ((change.start, change.end, change.read_as) for change in changes)))
