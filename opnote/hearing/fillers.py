"""Words without content ("um", "you know") are left out, with the commas that set them off."""

from __future__ import annotations

from collections.abc import Sequence

from opnote.hearing.edits import Change
from opnote.hearing.phrases import Hit, Phrases, company, guarded
from opnote.hearing.protected import word_set
from opnote.hearing.words import Word
from opnote.lexicon.models import Filler

_ENDS = ".?!"
_RUNS_ON = word_set("a an and at but by for from in is it of on or so that the then to was we were with")
"""After these no comma stands in a sentence, so both commas belong to the filler."""


def fillers(text: str, words: Sequence[Word], table: Phrases[tuple[Filler, str]]) -> list[Change]:
    """The changes that leave out each filler; the table's payload is the entry with its phrase as written there.

    A phrase written with commas around it (", like,") is a filler only where the text sets it off in the same way.
    """
    return [_left_out(text, words, hit) for hit in table.each(words, lambda hit: _empty(text, words, hit))]


def _empty(text: str, words: Sequence[Word], hit: Hit[tuple[Filler, str]]) -> bool:
    entry, phrase = hit.entry
    first, last = words[hit.first], words[hit.last - 1]
    if not first.apart or text[last.end : last.end + 1] == "-" or text[last.end : last.end + 1].isalnum():
        return False
    if phrase.islower() and len(phrase) == 2 and text[first.start : last.end].isupper() and not text.isupper():
        return False  # "ER" among small letters is an abbreviation
    if phrase.startswith(",") and not (first.gap.strip() == "," and text[last.end : last.end + 1] == ","):
        return False
    return not guarded(company(words, hit.first, hit.last), not_before=entry.not_before, not_after=entry.not_after)


def _left_out(text: str, words: Sequence[Word], hit: Hit[tuple[Filler, str]]) -> Change:
    """The filler with the marks that belong to it alone; one comma stays, for it may part two numbers ("eight, um, seven")."""
    start, end = words[hit.first].start, words[hit.last - 1].end
    before, after = words[hit.first].gap.strip(), text[end : end + 1]
    opening = not before or before[-1] in _ENDS
    if after == "," and before == "," and hit.first and words[hit.first - 1].low in _RUNS_ON:
        start, end = words[hit.first - 1].end, end + 1  # "and, um, the pin"
    elif after == "," and (before == "," or (opening and (before or hit.first == 0))):
        end += 1  # "so it is, um, we think", "Um, we"
    elif after and after in _ENDS and before == "," and hit.first:
        start = words[hit.first - 1].end  # "seven, um."
    elif after and after in _ENDS and opening and (before or hit.first == 0):
        end += 1  # "Um."
    return Change(start, end, "", "filler", hit.entry[0].id)
