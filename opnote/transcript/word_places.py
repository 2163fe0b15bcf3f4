"""Where a segment's timed words stand in its text, also where only one of the two has capitals and punctuation."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence

from opnote.transcript.characters import spoken_characters
from opnote.transcript.reading import SpokenWord

#: Words of the text that may be passed over to find the next timed word, and the letters in which they are looked for.
_LOOK_AHEAD, _WINDOW = 8, 200
_TOKEN = re.compile(r"\S+")
_NO_LETTER = re.compile(r"[\W_]+")


def word_places(text: str, words: Sequence[SpokenWord]) -> Iterator[tuple[int, int] | None]:
    """For each of ``words``, in the order spoken, its characters in ``text``, or None where it does not stand there.

    >>> list(word_places("Left knee.", [SpokenWord("left", 0, 1), SpokenWord("knee", 1, 2)]))
    [(0, 4), (5, 9)]
    """
    cursor = 0
    for word in words:
        place = _next_place(text, spoken_characters(word.text), cursor)
        cursor = place[1] if place else cursor
        yield place


def _next_place(text: str, spoken: str, cursor: int) -> tuple[int, int] | None:
    """The place at the cursor, where a recogniser's word may be the rest of one ("-line"), or of one of the next whole words."""
    if not spoken:
        return None
    if _stands(text, spoken, cursor):
        return cursor, cursor + len(spoken)
    key = _key(spoken)
    for token in itertools.islice(_TOKEN.finditer(text, cursor, cursor + len(spoken) + _WINDOW), _LOOK_AHEAD):
        if _stands(text, spoken, token.start()):
            return token.start(), token.start() + len(spoken)
        if key and _key(token.group()) == key:
            return token.span()
    return None


def _stands(text: str, spoken: str, at: int) -> bool:
    """Whether ``spoken`` stands at ``at`` and no letter or digit follows it."""
    return text.startswith(spoken, at) and not text[at + len(spoken) : at + len(spoken) + 1].isalnum()


def _key(word: str) -> str:
    return _NO_LETTER.sub("", word).casefold()
