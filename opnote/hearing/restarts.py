"""Words said and at once said again ("a a seven", "it was it was"): the first copy is left out.

Only words that carry no fact of their own: a repeated "the tunnel the tunnel" may be the end of one sentence and the start of the
next, a repeated number an identifier, a repeated "no" a stronger no.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from opnote.hearing.edits import Change
from opnote.hearing.protected import word_set
from opnote.hearing.words import Word

_ALONE = word_set(
    "a an the and or but so of at with from he she they we i was were is are has have be been then if as into my his our your its just "
    "we're it's i'm i've we've that's there's he's she's they're"
)
"""A word of these said twice is a restart. Not among them: "that", "had" (said twice with sense), "to", "for" (perhaps numbers), "in",
"on", "up" ("it went in in extension")."""
_MAY_END = word_set("it you this these those there her")
"""These too where a clause opens, but "we measured it it was six" is the end of one clause and the start of the next."""
_OPENERS = word_set("and but so then that because if when where while or well okay now")
_TOGETHER = _ALONE | _MAY_END | word_set("that to for in on by had do did when where what how now going will would can could")
_LONGEST = 4
_BREAK = re.compile(r"\s*(?:,|-+|\u2013|\u2014|\.{3}|\u2026)?\s*")
"""What may stand between the copies: a comma, a dash, an ellipsis, but no full stop ("that is what it was. It was torn")."""
_SPELLED_AFTER = word_set("lot number serial reference ref id identifier code dash grade type class zone stage")
_ELLIPTIC = word_set("if what whatever as that how where when whether")
"""After these a clause may end in its verb: "if it is it is"."""


def restarts(text: str, words: Sequence[Word]) -> list[Change]:
    """The changes that leave out the first copy of what is said twice; ``words`` are without fillers and layout words."""
    changes: list[Change] = []
    index = 0
    while index < len(words):
        size = _copied(text, words, index)
        if size:
            last = words[index + size - 1].end
            changes.append(Change(words[index].start, _past_marks(text, last), "", "restart", "said-twice"))
        index += size or 1
    return changes


def _copied(text: str, words: Sequence[Word], first: int) -> int:
    """How many words from ``first`` on are at once said again (the longest such row), or 0."""
    if words[first].low not in _TOGETHER:
        return 0
    for size in range(min(_LONGEST, (len(words) - first) // 2), 0, -1):
        one, two = words[first : first + size], words[first + size : first + 2 * size]
        if [word.low for word in one] == [word.low for word in two] and _restart(text, words, first, size):
            return size
    return 0


def _restart(text: str, words: Sequence[Word], first: int, size: int) -> bool:
    row = words[first : first + 2 * size]
    if any(word.gap.strip(" -\u2013\u2014") for word in (*row[1:size], *row[size + 1 :])) or not _BREAK.fullmatch(row[size].gap):
        return False
    before = _before(words, first)
    if size > 1:
        return before not in _ELLIPTIC and all(word.low in _TOGETHER for word in row)
    if row[0].low in _MAY_END:
        return not before or row[0].opens or before in _OPENERS
    return row[0].low in _ALONE and not (len(row[0].low) == 1 and _spelled(text, row[0], before))


def _before(words: Sequence[Word], first: int) -> str:
    """The word before ``first`` and before further copies of it, or ""."""
    at = first
    while at and words[at - 1].low == words[first].low:
        at -= 1
    return words[at - 1].low if at else ""


def _spelled(text: str, word: Word, before: str) -> bool:
    """A single letter said twice in an identifier or a grade is no restart: "lot a a seven", "grade I I"."""
    return before in _SPELLED_AFTER or len(before) == 1 or before.isdigit() or (text[word.start].isupper() and word.low != "i")


def _past_marks(text: str, end: int) -> int:
    while end < len(text) and text[end] in ",-\u2013\u2014\u2026.":
        end += 1
    return end
