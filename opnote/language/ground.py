"""A statement as the reaches of its cues need it: its clauses, its things, what in it is said to be done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from opnote.language.clauses import MARKS, Clause, has_verb
from opnote.language.grammar import Grammar
from opnote.language.statements import Statement

UNMARKED = 14  # words to a mark from which on a statement is taken to have none


@dataclass(frozen=True)
class Ground:
    """A statement as reaches need it: its clauses, the spans of its things, and tokens at which a cue's words are said to be done."""

    words: Sequence[str]
    statement: Statement
    clauses: Sequence[Clause]
    grammar: Grammar
    things: Sequence[tuple[int, int]] = ()
    done: Sequence[int] = field(default=())

    @cached_property
    def unmarked(self) -> bool:
        """Whether the statement is long and without marks."""
        inside = self.words[self.statement.start : self.statement.end]
        return len(inside) > UNMARKED * (1 + sum(word in MARKS for word in inside))

    def verbal(self, start: int, end: int) -> bool:
        """Whether a stretch has a verb."""
        return has_verb(self.words, start, end, self.grammar.clauses.verbs)

    def asserted(self, clause: Clause) -> bool:
        """Whether a clause says of itself that it was done."""
        return any(clause.start <= place < clause.end for place in self.done)

    @cached_property
    def reported(self) -> bool:
        """Whether the statement begins with a deed and how it was done ("Tensioned at ninety, ...")."""
        known, end = self.grammar.reach, self.statement.end
        place = self.statement.start + self.statement.heading
        while place < end - 1 and self.words[place] in self.grammar.free:
            place += 1
        return place + 1 < end and self.words[place] in known.deeds and self.words[place + 1] in known.how

    def holds(self, start: int, end: int) -> bool:
        """Whether a stretch names a thing or a figure."""
        return any(start <= first < end for first, _ in self.things) or any(
            word in self.grammar.questions.figures or word[:1].isdigit() for word in self.words[start:end]
        )
