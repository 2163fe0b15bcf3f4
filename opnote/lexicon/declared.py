"""What the lexicons declare for all their entries: vocabularies, parts of a dictation, opposites, spellings, the house."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from opnote.lexicon.models import Entry, Id, Name, Phrases


class Vocabulary(Entry):
    """A sort of terms: ``id`` is the ``kind`` they bear, ``value`` what they stand for (a word of the record, a type of thing ...)."""

    id: Name
    note: Annotated[str, Field(min_length=1)]
    value: Literal["word", "number", "thing", "none"] = "word"


class Part(Entry):
    """A part of a dictation, by its ``id``: headings open it (``[[section]]``), things keep out of it, the note has a place for it."""

    id: Name
    note: Annotated[str, Field(min_length=1)]


class Opposites(Entry):
    """Words of which one turns the meaning of another, the forms of one word together: no mis-hearing makes one word another one.

    ``asked`` says that a mis-hearing which gains or loses one of them is also asked about; not so where the printed words show
    all the same which one was meant ("allograph").
    """

    id: Id
    words: Annotated[tuple[Annotated[Phrases, Field(min_length=1)], ...], Field(min_length=1)]
    asked: bool = True


class House(Entry):
    """How a site wants its notes written; ``otherwise`` is the spelling where a dictation shows neither."""

    id: Literal["house"]
    spelling: Literal["as dictated", "British", "American"] = "as dictated"
    otherwise: Literal["British", "American"] = "British"


class Spelling(Entry):
    """Forms of a word in two spellings, in the same order."""

    id: Id
    british: Annotated[Phrases, Field(min_length=1)]
    american: Annotated[Phrases, Field(min_length=1)]

    @model_validator(mode="after")
    def _paired(self) -> Spelling:
        if len(self.british) != len(self.american):
            raise ValueError("american: must have a word for each of `british`, in the same order")
        return self
