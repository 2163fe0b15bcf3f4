"""The shape of every entry in ``lexicons/``: closed to unknown keys, so that a slip of the pen is a fault and not a silence."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

ID, NAME, LETTERS = r"^[a-z0-9]+(-[a-z0-9]+)*$", r"^[a-z]+( [a-z]+)*$", r"^[a-z]+$"
PHRASE, PHRASE_OR_NONE = r"^\S(.*\S)?$", r"^(\S(.*\S)?)?$"
Id = Annotated[str, Field(pattern=ID)]
Name = Annotated[str, Field(pattern=NAME)]
Phrase = Annotated[str, Field(min_length=1, pattern=PHRASE)]
Phrases = tuple[Phrase, ...]
PhraseOrNone = Annotated[str, Field(pattern=PHRASE_OR_NONE)]
Bound = Annotated[float, Field(allow_inf_nan=False)]


class Entry(BaseModel):
    """Frozen, closed, and with a source (of its own or of its file)."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    source: Annotated[str, Field(min_length=1)]


class Term(Entry):
    """A word or phrase of the trade and what it stands for.

    ``kind`` names the vocabulary ("structure", "material", "opens" ...), ``value`` the word that the record uses for it.
    ``said`` are the ways of saying it; an abbreviation in capitals is also matched letter by letter ("a c l").
    ``each`` are the values of a term that names several at once ("both menisci").
    ``only_after`` and ``only_before`` list words one of which must stand next to it; without one of them the words mean
    something else. ``not_after`` and ``not_before`` list words that make it something else. ``near`` lists words of which one must
    stand within ``within`` words.
    """

    id: Id
    kind: Annotated[str, Field(min_length=1)]
    value: str = ""
    said: Annotated[Phrases, Field(min_length=1)]
    each: Phrases = ()
    only_after: Phrases = ()
    only_before: Phrases = ()
    not_after: Phrases = ()
    not_before: Phrases = ()
    near: Phrases = ()
    within: Annotated[int, Field(ge=1)] = 10


class AttributeEntry(Entry):
    """One attribute of the record: the single source for schema, linker, checks, labels and sheets.

    type, name     as in the record; ``label`` is what people read
    value          what fills it: a quantity, a term of ``terms``, an identifier, a date, a clock time, a name, words, or the second of
                   the recording at which the thing was said
    quantities     kinds of quantity that fit; ``bare`` says that a number without a unit fits too, when a cue stands by it
    before, after  words that announce it (they stand before the value) or follow it; ``near`` may stand on either side
    never          words beside which the value is something else
    same           nouns by which it is said to be that of the thing before ("same size")
    denied_as      names by which a talk says that there was none of it ("no tourniquet"); beside a case sheet it is then asked about
    unit_is_cue    where the thing itself is named, a value with its unit needs no cue word
    reach          words within which a `before` word speaks to a value
    needs_cue      without one of its cue words the attribute is not filled
    many           several values may be true at once (assistants; the ligaments that one tunnel serves)
    tells_apart    two things of a type that differ in it are two: when both say it, or always, so that one without it differs too
    enough         saying it speaks of a thing; where a type has such attributes, a thing of which none is said is none
    needs          attributes of the same thing without one of which a value of it says nothing (a distance, and from where)
    repeat         what a second, different value means: a conflict to ask about, or only another word for the first, or a later state of
                   the same thing (a tendon is cut to length, a tunnel reamed in steps)
    usual, hard    plausible range in ``unit``: outside usual is odd, outside hard is almost always a slip
    """

    type: str
    name: str
    label: str
    value: Literal["quantity", "term", "identifier", "date", "clock", "name", "words", "bool", "second"]
    unit: str | None = None
    terms: str | None = None
    quantities: tuple[str, ...] = ()
    bare: bool = False
    before: Phrases = ()
    after: Phrases = ()
    near: Phrases = ()
    never: Phrases = ()
    same: Phrases = ()
    denied_as: Phrases = ()
    needs_cue: bool = False
    unit_is_cue: bool = False
    reach: int = 7
    scored: bool = False
    many: bool = False
    tells_apart: Literal["", "when said", "always"] = ""
    enough: bool = False
    needs: Phrases = ()
    repeat: Literal["conflict", "first", "latest"] = "conflict"
    usual: tuple[Bound, Bound] | None = None
    hard: tuple[Bound, Bound] | None = None

    @cached_property
    def vocabularies(self) -> tuple[tuple[str, str], ...]:
        """The vocabularies whose every term is a cue word (``"@implant kind"``), each with its use: before, after or near."""
        return tuple((use, said[1:]) for use in ("before", "after", "near") for said in getattr(self, use) if said.startswith("@"))

    @model_validator(mode="after")
    def _consistent(self) -> AttributeEntry:
        if self.value == "term" and not self.terms:
            raise ValueError("terms: is needed where the value is a term: the vocabulary")
        if self.value == "quantity" and not self.quantities:
            raise ValueError("quantities: is needed where the value is a quantity: the kinds that fit")
        for name, bounds in (("usual", self.usual), ("hard", self.hard)):
            if bounds and bounds[0] > bounds[1]:
                raise ValueError(f"{name}: runs from low to high")
        if self.usual and self.hard and not (self.hard[0] <= self.usual[0] and self.usual[1] <= self.hard[1]):
            raise ValueError("usual: lies inside `hard`")
        return self


class Thing(Entry):
    """One type of thing in the record: how a talk speaks of it. ``id`` is its type.

    opened_by    vocabularies whose words bring it up in a statement (besides the terms of the kind "opens" that name it)
    in_a_test    of these, the ones that still bring it up where a ligament is tested
    mode         it is spoken of in statements that hold a fixation, or in those that test a ligament
    not_in       parts of a dictation in which no statement makes one
    hardly_in    parts in which the linker scores against it
    by_score     the linker ties quantities to it by their score; otherwise a module of its own does
    second       the attribute of the second number of a pair ("seven by twenty-three")
    lent         attributes that the words around or the topic of the talk lend to it
    needs        attributes without all of which a mention is none
    not_alone    attributes that by themselves make no mention
    lasts        statements over which a later mention may go on with it; absent: none goes on
    renamed_by   attributes that, said again in a later statement, name another one
    lingers      it stays under discussion, faintly, for some statements after the next
    """

    id: Id
    opened_by: Phrases = ()
    in_a_test: Phrases | None = None
    mode: Literal["", "holding", "testing"] = ""
    not_in: Phrases = ()
    hardly_in: Phrases = ()
    by_score: bool = True
    second: str = ""
    lent: Phrases = ()
    needs: Phrases = ()
    not_alone: Phrases = ()
    lasts: Annotated[int, Field(ge=0)] | None = None
    renamed_by: Phrases = ()
    lingers: bool = False


class StanceCue(Entry):
    """Words that tell whether something was done, with the reach of their word.

    stance     option, rule, not done, elsewhere, planned, question, ghost, done
    scope      statement: its clause and those around it, up to one that turns ("but") or that says of itself that it was done;
               ahead: as statement, but not before its own clause; clause: its own only;
               onward: as statement, and the statements after it while the talk stays there; before: its statement up to it and the one
                before;
               forward / backward: from the cue to the end of what it denies, or from the subject to it;
               next / previous: the nearest thing on that side, and those listed with it;
               said: what was said last that holds a thing or a figure, or what was told before of the thing its statement names
    until      words that end a forward scope (besides the common terminators), or all that ends an onward one
    example    a phrase in which the cue has its effect; counter_example: one in which the same words must not
    """

    id: Id
    stance: Literal["option", "rule", "not done", "elsewhere", "planned", "question", "ghost", "done"]
    said: Annotated[Phrases, Field(min_length=1)]
    scope: Literal["statement", "ahead", "clause", "onward", "before", "forward", "backward", "next", "previous", "said"]
    until: Phrases = ()
    unless: Phrases = ()
    example: Phrase
    counter_example: PhraseOrNone = ""


class Hint(Entry):
    """Words that alone tell little of whether a thing was done, but add up: see ``opnote/language/hints.py``.

    stance     what they speak for; "done" speaks against all others
    weight     1 weak, 2 middling, 3 enough on its own where nothing speaks against it, 4 where little does
    said       phrases, with word classes and gaps as in cues; or
    shape      the name of a build of sentences that ``opnote/language/shapes.py`` knows
    first      they count only where they begin their clause
    example    a phrase in which the hint counts; counter_example: one in which it must not
    """

    id: Id
    stance: Literal["option", "rule", "not done", "elsewhere", "planned", "done"]
    weight: Annotated[int, Field(ge=1, le=4)]
    said: Phrases = ()
    shape: str = ""
    first: bool = False
    unless: Phrases = ()
    example: str
    counter_example: str = ""


class WordClass(Entry):
    """Words that may stand for each other in phrases of the stance lexicons: "the last <person>" means one phrase for each of them."""

    id: Annotated[str, Field(pattern=LETTERS)]
    words: Annotated[Phrases, Field(min_length=1)]


class Words(Entry):
    """A set of words that a rule of the program looks for; ``id`` is how the rule asks for it, ``note`` says what it does with them.

    ``of`` says what the words are where they are not just words: values of the terms of these vocabularies, "part" (parts of a
    dictation), "attribute" or "thing".
    """

    id: Id
    note: Annotated[str, Field(min_length=1)]
    of: Phrases = ()
    words: Annotated[Phrases, Field(min_length=1)]


class Mishearing(Entry):
    """A word that recognisers print for another one, and where it may be read as meant.

    ``otherwise`` says what to do where neither ``only_near`` nor ``never_near`` decides: replace it, ask, or leave it alone.
    """

    id: Id
    heard: Annotated[Phrases, Field(min_length=1)]
    meant: Phrase
    only_near: Phrases = ()
    never_near: Phrases = ()
    otherwise: Literal["replace", "ask", "leave"] = "leave"
    flip: bool = False
    example: Phrase
    counter_example: PhraseOrNone = ""


class Layout(Entry):
    """A spoken layout word and the mark it stands for ("" for a word that is only left out)."""

    id: Id
    said: Annotated[Phrases, Field(min_length=1)]
    mark: str
    not_before: Phrases = ()
    not_after: Phrases = ()


class Filler(Entry):
    """Words without content; ``not_before`` and ``not_after`` guard the places in which they mean something."""

    id: Id
    said: Annotated[Phrases, Field(min_length=1)]
    not_before: Phrases = ()
    not_after: Phrases = ()


class Section(Entry):
    """A heading of a dictation and the part of the note it opens. One with a colon, or said as a sentence of its own, holds on.

    brief        it is over with its statement all the same
    anywhere     its words are a heading also in the middle of a sentence
    while_named  it holds on only while each statement names a term of this kind
    closing      said late in the talk, it holds to the end
    listing      what stands below it, a line each, are the items of a list
    """

    id: Id
    section: Annotated[str, Field(min_length=1)]
    said: Annotated[Phrases, Field(min_length=1)]
    brief: bool = False
    anywhere: bool = False
    while_named: str = ""
    closing: bool = False
    listing: bool = False


class Correction(Entry):
    """Words by which a speaker takes back what was just said.

    ``plain`` words correct over some distance, ``slight`` ones ("no") only where a like value stands right behind them.
    ``example`` holds a correction, ``counter_example`` the words without one.
    """

    id: Id
    said: Annotated[Phrases, Field(min_length=1)]
    strength: Literal["plain", "slight"] = "plain"
    example: Phrase
    counter_example: PhraseOrNone = ""


class Sign(Entry):
    """Words that tell where the talk goes.

    says   returns: back to the operation, said at the start of a statement; orders: an order or request that only the table hears;
           instruments: a thing asked for by its bare name; narrates: what is going on now; stickers: what only implants have; please;
           stays: a story goes on; yes: a question is confirmed; requests: a question that asks for a thing, not whether it is so
    """

    id: Id
    says: Literal["returns", "orders", "instruments", "narrates", "stays", "stickers", "please", "yes", "requests"]
    said: Annotated[Phrases, Field(min_length=1)]


class Opener(Entry):
    """Words that begin a new statement where nobody speaks or writes punctuation ("and then", "okay")."""

    id: Id
    said: Annotated[Phrases, Field(min_length=1)]
