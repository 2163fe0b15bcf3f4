"""Stretches of talk about something else: a story of another patient, a telephone call, a lesson, the next case on the list.

An opening cue puts its own statement elsewhere; the talk stays there over the statements that go on with it (past tense, third
person, questions about it) and comes back with what can only be said at the table: a return phrase, an instrument asked for, an
order, a time called. Without a sign of either sort it is held to stay for a few statements only.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from opnote.language.clauses import MARKS, has_verb
from opnote.language.grammar import AsideWords, Grammar
from opnote.language.signs import Signs
from opnote.language.statements import Statement

LONGEST = {"elsewhere": 450, "rule": 220, "option": 40}  # words after which talk about something else is over, by its stance
SILENT_STATEMENTS, SILENT_WORDS = 4, 40  # without a sign that it goes on
SILENT_CALL = 70  # the same words for a telephone call or a lesson, which has an end of its own
FORMAL_FOLLOWERS = 1  # statements that may go on with an aside in a formal dictation
BRIEF = 5  # words of a statement that may be a mere request for an instrument
TOLD_AFTER = (
    0.28  # share of statements in the past tense: 0.04 to 0.22 in live recordings of the corpora, 0.29 to 0.75 in formal dictations
)
CHATTY = 0.2  # share of short statements and questions below which a text is no conversation
FEW = 12  # statements below which a text is too short to tell
HEADING = 4  # words of a statement that only names another knee


@dataclass(frozen=True, slots=True)
class Opening:
    """A cue that opens talk about something else: its statement, and the tokens that end what it opened (none: any return)."""

    statement: int
    ends: frozenset[int] | None
    stance: str


@dataclass(frozen=True, slots=True)
class Aside:
    """Tokens of talk about something else, and the statement that opened it."""

    tokens: range
    statement: int


def asides(
    words: Sequence[str], statements: Sequence[Statement], openings: Mapping[int, Opening], signs: Signs, known: AsideWords
) -> Iterator[Aside]:
    """The stretches after each opening, in order. The opening statement itself has its stance from the cue."""
    formal = _is_formal(words, statements, known.past)
    index = 0
    while index < len(statements):
        opening = openings.get(index)
        if opening is None:
            index += 1
            continue
        last = _last(words, statements, opening, signs, known, formal=formal)
        for step in range(index + 1, last + 1):
            yield Aside(range(statements[step].start, statements[step].end), index)
        index = last + 1


def _is_formal(words: Sequence[str], statements: Sequence[Statement], past_verbs: frozenset[str]) -> bool:
    """Whether a text is dictated afterwards rather than talked at the table: told in the past, or in whole sentences alone."""
    if len(statements) < FEW:
        return False
    past = sum(any(word in past_verbs for word in words[s.start : s.end]) for s in statements)
    brief = sum(s.end - s.start <= 4 or words[s.end - 1] == "?" for s in statements)
    return past >= TOLD_AFTER * len(statements) or brief < CHATTY * len(statements)


def _last(words: Sequence[str], statements: Sequence[Statement], opening: Opening, signs: Signs, known: AsideWords, *, formal: bool) -> int:
    """The index of the last statement of an aside."""
    last, silent = opening.statement, 0
    start = statements[last].end
    limit = SILENT_WORDS if opening.ends is None else SILENT_CALL
    for statement in statements[last + 1 :]:
        if statement.end - start > LONGEST.get(opening.stance, 0) or (formal and statement.index - opening.statement > FORMAL_FOLLOWERS):
            break
        if _closes(words, statement, opening, signs, known):
            return _turned(words, statements, last, statement.index, signs)
        called = opening.ends is not None and _of_others(words, statement, known.persons)
        stays = called or opening.stance != "elsewhere" or _stays(words, statement, signs, known)
        silent = 0 if stays else silent + statement.end - statement.start
        if stays:
            last = statement.index
        elif formal or silent > limit or (opening.ends is None and statement.index - last > SILENT_STATEMENTS):
            break
    return last


def _turned(words: Sequence[str], statements: Sequence[Statement], last: int, closing: int, signs: Signs) -> int:
    """The last statement before the talk turned back: at a bare "okay" since the last sign of the other talk, else at the closing one."""
    for index in range(closing - 1, last, -1):
        statement = statements[index]
        if statement.end - statement.start <= 2 and signs.opens("returns", words, statement.start, statement.end) is not None:
            return index
    return closing - 1


def _of_others(words: Sequence[str], statement: Statement, persons: frozenset[str]) -> bool:
    """Whether a statement of a call is about somebody."""
    return any(word in persons for word in words[statement.start : statement.end])


def _closes(words: Sequence[str], statement: Statement, opening: Opening, signs: Signs, known: AsideWords) -> bool:
    """Whether a statement is back at the table."""
    inside = range(statement.start, statement.end)
    if opening.ends is not None and any(place in opening.ends for place in inside):
        return True
    if _stays(words, statement, signs, known):
        return False
    asks = words[statement.end - 1] == "?"
    brief = len(inside) <= BRIEF and not asks and signs.within("instruments", inside.start, inside.stop) is not None
    if brief or signs.within("stickers", inside.start, inside.stop) is not None:
        return True
    if opening.ends is not None:
        return False
    end = signs.opens("returns", words, inside.start, inside.stop)
    if end is not None and end < statement.end - 1:
        return True
    if asks:
        return False
    orders = signs.opens("orders", words, inside.start, inside.stop) is not None
    return orders or any(signs.within(says, inside.start, inside.stop) is not None for says in ("narrates", "please"))


def _stays(words: Sequence[str], statement: Statement, signs: Signs, known: AsideWords) -> bool:
    """Whether a statement goes on with a story: in the past, or of a third person."""
    inside = words[statement.start : statement.end]
    past = any(word in known.past for word in inside)
    person = any(word in known.persons for word in inside)
    return (
        (past and person)
        or signs.within("stays", statement.start, statement.end) is not None
        or (past and not _at_the_table(words, statement, signs))
    )


def _at_the_table(words: Sequence[str], statement: Statement, signs: Signs) -> bool:
    return any(signs.opens(says, words, statement.start, statement.end) is not None for says in ("returns", "orders", "narrates"))


def headed(words: Sequence[str], statements: Sequence[Statement], elsewhere: Mapping[int, range], grammar: Grammar) -> Iterator[Aside]:
    """The statement after one that only names another knee ("The other knee."); ``elsewhere`` has the tokens told to be so."""
    for index, tokens in elsewhere.items():
        statement = statements[index]
        said = [word for word in words[statement.start : statement.end] if word not in MARKS]
        limb = grammar.asides.limbs.intersection(said)
        alone = len(said) <= HEADING and tokens.start <= statement.start and limb and words[statement.end - 1] != "?"
        if alone and index + 1 < len(statements) and not has_verb(words, statement.start, statement.end, grammar.clauses.verbs):
            yield Aside(range(statements[index + 1].start, statements[index + 1].end), index)


def pointing_back(
    words: Sequence[str], statements: Sequence[Statement], elsewhere: Mapping[int, range], grammar: Grammar
) -> Iterator[Aside]:
    """Statements that only say what the one before was, if that is told of elsewhere to its end: "That was a grade two."."""
    for index, tokens in elsewhere.items():
        if tokens.stop < statements[index].end - 1:
            continue
        for following in statements[index + 1 :]:
            if not _points_back(words, following, grammar):
                break
            yield Aside(range(following.start, following.end), index)


def _points_back(words: Sequence[str], statement: Statement, grammar: Grammar) -> bool:
    """Whether a statement begins with "that was" or its like and goes on with a thing or a figure, not with what was done to it."""
    known, place = grammar.asides, statement.start
    while place < statement.end - 1 and words[place] in grammar.free:
        place += 1
    if place + 3 > statement.end or words[place] not in known.back:
        return False
    place += words[place + 1] in ("one", "ones")
    then = words[place + 2] if place + 2 < statement.end else ""
    nominal = then in known.nominal or then in grammar.questions.figures or then[:1].isdigit()
    return words[place + 1] in known.copulas and nominal and words[statement.end - 1] != "?"
