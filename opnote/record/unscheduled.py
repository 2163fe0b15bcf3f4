"""What a dictation says of the case sheet's fields without giving them a value: that there was none, or another patient's name.

Such words are no values of the record by themselves. Beside a sheet that says otherwise they make a question, so that what
was scheduled never stands in the note against what was said.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.language.talk import Talk
from opnote.lexicon import AttributeEntry, Lexicon
from opnote.record.attributes import evidence_at
from opnote.record.model import Evidence, Scalar

NONE = "none"
ARTICLES = frozenset(("a", "an"))
PATIENT = "patient_name"
WITHIN = 6  # words between a denial and the last field that it denies
LEAST, MOST = 2, 3  # names that make a patient's name
SAID = frozenset(("done", "not done"))  # stances in which something is said of this operation

Otherwise = tuple[Scalar, Evidence]


def said_otherwise(entry: AttributeEntry, talks: Sequence[Talk], lexicon: Lexicon) -> Otherwise | None:
    """What was said of a field of which no value was said, with its words; of several the first."""
    for talk in talks:
        for start, end, value in (*_denied(entry, talk, lexicon), *(_patient(entry, talk, lexicon) if entry.name == PATIENT else ())):
            words = evidence_at(talk.heard.transcript, talk.raw(start, end))
            return (words.quote if value is None else value), words
    return None


def _denied(entry: AttributeEntry, talk: Talk, lexicon: Lexicon) -> Iterator[tuple[int, int, Scalar | None]]:
    """Where a field is denied: "no tourniquet", "assistants: none", "the tourniquet was not used"."""
    for start, end in _places(talk.words, entry.denied_as):
        if talk.stances[start].name in SAID:
            front, behind = _in_front(talk, start, lexicon), _behind(talk, end, lexicon)
            if front is not None or behind is not None:
                yield (start if front is None else front), (end if behind is None else behind), NONE


def _places(words: Sequence[str], phrases: Sequence[str]) -> Iterator[tuple[int, int]]:
    wanted = [tuple(phrase.lower().split()) for phrase in phrases]
    for start in range(len(words)):
        ends = [start + len(parts) for parts in wanted if tuple(words[start : start + len(parts)]) == parts]
        if ends:
            yield start, max(ends)


def _in_front(talk: Talk, start: int, lexicon: Lexicon) -> int | None:
    deny, passed = lexicon.words["absent"] | lexicon.words["without"], lexicon.words["between-denial-and-field"] | ARTICLES
    for place in range(start - 1, max(_statement(talk, start)[0], start - WITHIN) - 1, -1):
        if talk.words[place] in deny:
            return place if talk.stances[max(place - 1, _statement(talk, place)[0])].name in SAID else None
        if talk.words[place] not in passed:
            return None
    return None


def _behind(talk: Talk, end: int, lexicon: Lexicon) -> int | None:
    limit, place = _statement(talk, end - 1)[1], end
    while place < limit and talk.words[place] in lexicon.words["field-is"]:
        place += 1
    if place < limit and talk.words[place] in lexicon.words["absent"]:
        return place + 1
    refused = place + 1 < limit and talk.words[place] == "not" and talk.words[place + 1] in lexicon.words["refused"]
    return place + 2 if refused else None


def _statement(talk: Talk, place: int) -> tuple[int, int]:
    return next(((s.start, s.end) for s in talk.statements if s.start <= place < s.end), (place, place + 1))


def _patient(entry: AttributeEntry, talk: Talk, lexicon: Lexicon) -> Iterator[tuple[int, int, Scalar | None]]:
    """A name in capitals right behind the words that announce the patient."""
    for _, end in _places(talk.words, entry.before):
        place = end
        while place < len(talk.words) and talk.words[place] in lexicon.words["between-role-and-name"] | lexicon.words["titles"]:
            place += 1
        last = place
        while last < len(talk.words) and last - place < MOST and _is_name(talk, last, lexicon):
            last += 1
        if last - place >= LEAST and last <= _statement(talk, end - 1)[1]:
            yield place, last, None


def _is_name(talk: Talk, place: int, lexicon: Lexicon) -> bool:
    word = talk.doc[place].text
    return word[:1].isupper() and word.replace("'", "").replace("-", "").isalpha() and word.lower() not in lexicon.vocabulary
