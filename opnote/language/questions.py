"""Questions, whether they were confirmed, and answers that say no more than their question asked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from opnote.language.clauses import Clause, clauses, has_verb
from opnote.language.phrases import Hit
from opnote.language.signs import Signs
from opnote.language.statements import Statement
from opnote.lexicon import StanceCue

AUXILIARY = frozenset("do does did is are am was were have has had will would shall should can could may d'you 'd'you".split())
ASKING = frozenset("what which how where when who whose why whereabouts".split())
LEADS = frozenset("and so but or now then okay ok right well , if".split())
LONGEST = 16  # words of a question in speech without marks
SHORT, SHORTEST = 20, 6  # words of an answer: the first statement, one more after it


@dataclass(frozen=True, slots=True)
class Question:
    """Tokens that only ask; ``confirmed`` when the next statement says yes. ``statement`` is the index of the one that ends it."""

    tokens: range
    statement: int
    confirmed: bool


@dataclass(frozen=True, slots=True)
class Answer:
    """Tokens that answer a question, and a token of the question."""

    tokens: range
    source: int


def questions(words: Sequence[str], statements: Sequence[Statement], hits: Sequence[Hit], signs: Signs) -> tuple[Question, ...]:
    """Every question of a text; a request ("can I have the seven") is none."""
    marked = "?" in words
    cues = {h.start: h.end for h in hits if h.use == "cue" and isinstance(h.entry, StanceCue) and h.entry.stance == "question"}
    found: list[Question] = []
    for statement in statements:
        tokens = _marked(words, statement) if _ends_asking(words, statement) else _unmarked(words, statement, cues, marked=marked)
        if tokens and signs.within("requests", tokens.start, tokens.stop) is None:
            found.append(Question(tokens, statement.index, _confirmed(words, statements, statement, tokens, signs)))
    return tuple(found)


def _ends_asking(words: Sequence[str], statement: Statement) -> bool:
    return words[statement.end - 1] == "?"


def _marked(words: Sequence[str], statement: Statement) -> range:
    """The asking part of a statement that ends with a question mark."""
    parts = clauses(words, statement)
    first = next((i for i, part in enumerate(parts) if _asks(words, part)), 0)
    while first > 0 and not has_verb(words, parts[first - 1].start, parts[first - 1].end):
        first -= 1
    return range(parts[first].start, statement.end)


def _asks(words: Sequence[str], clause: Clause) -> bool:
    """Whether a clause begins as questions do."""
    place = clause.start
    while place < clause.end - 1 and words[place] in LEADS:
        place += 1
    return words[place] in AUXILIARY or words[place] in ASKING


def _unmarked(words: Sequence[str], statement: Statement, cues: dict[int, int], *, marked: bool) -> range | None:
    """A question without its mark: where a statement (in speech without any mark, a clause) begins with words that ask."""
    starts = [statement.start] if marked else [clause.start for clause in clauses(words, statement)]
    for start in starts:
        place = start
        while place < statement.end - 1 and words[place] in LEADS:
            place += 1
        if place in cues:
            return range(place, statement.end if marked else min(statement.end, place + LONGEST))
    return None


def _confirmed(words: Sequence[str], statements: Sequence[Statement], statement: Statement, tokens: range, signs: Signs) -> bool:
    """Whether a yes follows, in the next statement or, in speech without marks, right behind the question."""
    if tokens.stop < statement.end:
        return False
    if statement.index + 1 >= len(statements):
        return False
    following = statements[statement.index + 1]
    return signs.opens("yes", words, following.start, following.end) is not None


def answers(words: Sequence[str], statements: Sequence[Statement], asked: Sequence[Question], signs: Signs) -> Iterator[Answer]:
    """The short statements after each question, up to one that turns back to the operation or asks in its turn."""
    asking = {question.statement for question in asked}
    for question in asked:
        for offset, longest in ((1, SHORT), (2, SHORTEST)):
            index = question.statement + offset
            if index >= len(statements) or index in asking:
                break
            answer = statements[index]
            if (
                sum(w.isalnum() for w in words[answer.start : answer.end]) > longest
                or signs.opens("returns", words, answer.start, answer.end) is not None
            ):
                break
            yield Answer(range(answer.start, answer.end), question.tokens.start)
