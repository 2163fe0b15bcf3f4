"""Where a segment's timed words stand in its text, also where only one of the two has capitals and punctuation."""

from __future__ import annotations

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
    [(0, 4), (5, 10)]
    """
    cursor = 0
    for word in words:
        place = _next_place(text, spoken_characters(word.text), cursor)
        cursor = place[1] if place else cursor
        yield place


def _next_place(text: str, spoken: str, cursor: int) -> tuple[int, int] | None:
    if not spoken:
        return None
    start = cursor + 1 if text.startswith(" ", cursor) else cursor
    end = start + len(spoken)
    if text.startswith(spoken, start) and not text[end : end + 1].isalnum():
        return start, end
    key = _key(spoken)
    for index, token in enumerate(_TOKEN.finditer(text, start, start + _WINDOW)):
        if index == _LOOK_AHEAD:
            return None
        if key and _key(token.group()) == key:
            return token.span()
    return None


def _key(word: str) -> str:
    return _NO_LETTER.sub("", word).casefold()
