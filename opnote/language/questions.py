"""Questions, whether they were confirmed, and answers that say no more than their question asked."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from opnote.language.clauses import MARKS, Clause, clauses, has_verb
from opnote.language.grammar import Grammar, QuestionWords
from opnote.language.phrases import Hit
from opnote.language.signs import Signs
from opnote.language.statements import Statement
from opnote.lexicon import StanceCue

TOPIC = 3  # words of a question that only names what is to be told
LONGEST = 16  # words of a question in speech without marks
SHORT, SHORTEST = 20, 6  # words of an answer: the first statement and those that go on with "and", one more after it
MOST = 5  # statements of an answer


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


def questions(
    words: Sequence[str], statements: Sequence[Statement], hits: Sequence[Hit], signs: Signs, doubted: Collection[int], grammar: Grammar
) -> tuple[Question, ...]:
    """Every question of a text; a request ("can I have the seven") is none. ``doubted`` are tokens that some cue keeps from being done."""
    marked = "?" in words
    asking_cues = [h for h in hits if isinstance(h.entry, StanceCue) and h.entry.stance == "question"]
    excused = {place for h in asking_cues if h.use == "cue-unless" for place in range(h.start, h.end)}
    cues = {h.start: h.end for h in asking_cues if h.use == "cue" and h.start not in excused}
    found: list[Question] = []
    for statement in statements:
        asking = _ends_asking(words, statement)
        tokens = _marked(words, statement, grammar) if asking else _unmarked(words, statement, cues, grammar, marked=marked)
        if tokens and signs.within("requests", tokens.start, tokens.stop) is None:
            following = statements[statement.index + 1] if statement.index + 1 < len(statements) else None
            doubt = any(s.start in doubted or s.end - 1 in doubted for s in statements[max(0, statement.index - 2) : statement.index])
            whole = tokens.stop == statement.end
            confirmed = following is not None and whole and _confirms(words, tokens, following, signs, doubted, grammar, bare=not doubt)
            found.append(Question(tokens, statement.index, confirmed))
    return tuple(found)


def _confirms(
    words: Sequence[str],
    tokens: range,
    following: Statement,
    signs: Signs,
    doubted: Collection[int],
    grammar: Grammar,
    *,
    bare: bool,
) -> bool:
    """Whether a statement says yes to a question: with such a word, with the question's own words, or by going on about its bare topic."""
    if signs.opens("yes", words, following.start, following.end) is not None:
        return True
    known = grammar.questions
    answer = [word for word in words[following.start : following.end] if word not in MARKS]
    asked = [word for word in words[tokens.start : tokens.stop] if word not in MARKS]
    if "or" in asked[1:-1] and asked[asked.index("or") + 1] not in known.no_choice:  # "the one or the other?": the answer alone tells
        return False
    if not answer or answer[0] in known.negative or words[following.end - 1] == "?" or following.start in doubted:
        return answer[:1] != ["no"] and bool(answer) and _echoes(answer, asked)
    bare = (
        bare
        and bool(asked)
        and len(asked) <= TOPIC
        and asked[0] not in known.no_topic
        and not has_verb(words, tokens.start, tokens.stop, grammar.clauses.verbs)
    )
    return _echoes(answer, asked) or (bare and not any(word in known.figures or word.isdigit() for word in asked))


def _echoes(answer: Sequence[str], asked: Sequence[str]) -> bool:
    """Whether an answer only says the question's words again ("three hundred?" "Three hundred.")."""
    return bool(answer) and all(word in asked for word in answer)


def _ends_asking(words: Sequence[str], statement: Statement) -> bool:
    return words[statement.end - 1] == "?"


def _marked(words: Sequence[str], statement: Statement, grammar: Grammar) -> range:
    """The asking part of a statement that ends with a question mark."""
    parts = clauses(words, statement, grammar.clauses)
    first = next((i for i, part in enumerate(parts) if _asks(words, part, grammar.questions)), 0)
    while first > 0 and not has_verb(words, parts[first - 1].start, parts[first - 1].end, grammar.clauses.verbs):
        first -= 1
    return range(parts[first].start, statement.end)


def _asks(words: Sequence[str], clause: Clause, known: QuestionWords) -> bool:
    """Whether a clause begins as questions do."""
    place = clause.start
    while place < clause.end - 1 and words[place] in known.leads:
        place += 1
    return words[place] in known.asking


def _unmarked(words: Sequence[str], statement: Statement, cues: dict[int, int], grammar: Grammar, *, marked: bool) -> range | None:
    """A question without its mark: where a statement (in speech without any mark, a clause) begins with words that ask."""
    starts = [statement.start] if marked else [clause.start for clause in clauses(words, statement, grammar.clauses)]
    for start in starts:
        place = start
        while place < statement.end - 1 and words[place] in grammar.questions.leads:
            place += 1
        if place in cues:
            return range(place, statement.end if marked else min(statement.end, place + LONGEST))
    return None


def answers(words: Sequence[str], statements: Sequence[Statement], asked: Sequence[Question], signs: Signs) -> Iterator[Answer]:
    """The short statements after each question, up to one that turns back to the operation or asks in its turn."""
    asking = {question.statement for question in asked}
    for question in asked:
        for offset in range(1, MOST + 1):
            index = question.statement + offset
            if index >= len(statements) or index in asking:
                break
            answer = statements[index]
            goes_on = offset == 1 or words[answer.start] in ("and", "then", "or")
            length = sum(word.isalnum() for word in words[answer.start : answer.end])
            if length > (SHORT if goes_on else SHORTEST) or (offset > 2 and not goes_on):
                break
            if signs.opens("returns", words, answer.start, answer.end) is not None:
                break
            yield Answer(range(answer.start, answer.end), question.tokens.start)
