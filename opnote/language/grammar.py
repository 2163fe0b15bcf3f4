"""The words of ``lexicons/words/grammar.toml``, looked up once a talk and handed to the rules that need them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

WordSets = Mapping[str, frozenset[str]]


@dataclass(frozen=True, slots=True)
class ClauseWords:
    """What makes and joins clauses."""

    joining: frozenset[str]
    contrast: frozenset[str]
    behind_marks: frozenset[str]  # those that join only behind a mark or "and"
    subordinate: frozenset[str]
    verbs: frozenset[str]
    subjects: frozenset[str]

    @classmethod
    def of(cls, words: WordSets) -> ClauseWords:
        """Those among the word sets of a lexicon."""
        return cls(
            joining=words["joins-clauses"],
            contrast=words["turns-away"],
            behind_marks=words["turns-away-behind-a-mark"],
            subordinate=words["subordinates"],
            verbs=words["finite-verbs"],
            subjects=words["begins-a-subject"],
        )


@dataclass(frozen=True, slots=True)
class ReachWords:
    """What bounds the reach of a cue."""

    conditions: frozenset[str]
    stops: frozenset[str]
    second_verbs: frozenset[str]
    subjects: frozenset[str]
    listed: frozenset[str]
    deeds: frozenset[str]
    how: frozenset[str]  # behind one of the deeds
    modals: frozenset[str]
    persons: frozenset[str]  # the subject of what a condition is for

    @classmethod
    def of(cls, words: WordSets) -> ReachWords:
        """Those among the word sets of a lexicon."""
        return cls(
            conditions=words["conditions"],
            stops=words["stops-a-denial"],
            second_verbs=words["second-verbs"],
            subjects=words["begins-a-subject"],
            listed=words["joins-a-list"],
            deeds=words["deeds"],
            how=words["tells-how"],
            modals=words["modal-verbs"],
            persons=words["speaks-of-persons"],
        )


@dataclass(frozen=True, slots=True)
class GeneralWords:
    """What tells that any thing of its kind is spoken of, or this one."""

    leads: frozenset[str]
    any_kind: frozenset[str]
    timeless: frozenset[str]
    told: frozenset[str]
    not_general: frozenset[str]
    titles: frozenset[str]
    habits: frozenset[str]
    parted: frozenset[str]

    @classmethod
    def of(cls, words: WordSets) -> GeneralWords:
        """Those among the word sets of a lexicon."""
        return cls(
            leads=words["before-a-rule"],
            any_kind=words["any-of-a-kind"],
            timeless=words["timeless-verbs"],
            told=words["of-this-knee"],
            not_general=words["tells-of-one-thing"],
            titles=words["titles-of-persons"],
            habits=words["habits"],
            parted=words["parts-of-one"],
        )


@dataclass(frozen=True, slots=True)
class ShapeWords:
    """What builds of sentences are made of that speak in general."""

    leads: frozenset[str]
    bare: frozenset[str]
    no_plurals: frozenset[str]
    go: frozenset[str]
    ways: frozenset[str]
    no_first: frozenset[str]  # before a plural they make it no bare one
    some: frozenset[str]
    singular: frozenset[str]
    some_does: frozenset[str]  # verbs behind "some" and "one"
    some_do: frozenset[str]  # verbs behind "some" alone
    before_you: frozenset[str]
    passed: frozenset[str]  # between "you" and its verb
    you_do: frozenset[str]  # verbs behind "you"
    own: frozenset[str]
    own_do: frozenset[str]  # verbs behind them
    any_of: frozenset[str]
    this_one: frozenset[str]  # where one stands, no habit is told of

    @classmethod
    def of(cls, words: WordSets) -> ShapeWords:
        """Those among the word sets of a lexicon."""
        bare = words["bare-verbs"]
        return cls(
            leads=words["before-a-shape"],
            bare=bare,
            no_plurals=words["ends-in-s"],
            go=words["go-a-way"],
            ways=words["ways"],
            no_first=bare | words["determines-a-plural"],
            some=words["some-people"],
            singular=words["said-of-one"],
            some_does=words["modal-verbs"] | words["third-person-verbs"],
            some_do=bare - words["seldom-verbs"] | {"who"},
            before_you=words["before-you"],
            passed=words["between-you-and-verb"],
            you_do=bare - words["orders-you"] - words["speaks-to-the-table"],
            own=words["own-persons"],
            own_do=bare - words["seldom-verbs"] - words["orders-of-mind"],
            any_of=words["any-of-them"],
            this_one=words["of-this-knee-alone"],
        )


@dataclass(frozen=True, slots=True)
class QuestionWords:
    """What asks, and what an answer begins with."""

    leads: frozenset[str]
    asking: frozenset[str]
    negative: frozenset[str]
    no_choice: frozenset[str]  # behind "or" they ask of one thing
    no_topic: frozenset[str]  # a question that begins so names no topic
    figures: frozenset[str]

    @classmethod
    def of(cls, words: WordSets) -> QuestionWords:
        """Those among the word sets of a lexicon."""
        return cls(
            leads=words["before-a-question"],
            asking=words["auxiliary-verbs"] | words["question-words"],
            negative=words["answers-no"],
            no_choice=words["or-of-one-thing"],
            no_topic=words["answers-no"] | words["begins-no-topic"],
            figures=words["figures-asked"],
        )


@dataclass(frozen=True, slots=True)
class AsideWords:
    """What goes on with talk about something else."""

    limbs: frozenset[str]
    persons: frozenset[str]
    past: frozenset[str]
    back: frozenset[str]
    copulas: frozenset[str]
    nominal: frozenset[str]  # begins what something was, no deed

    @classmethod
    def of(cls, words: WordSets) -> AsideWords:
        """Those among the word sets of a lexicon."""
        return cls(
            limbs=words["limbs"],
            persons=words["third-persons"],
            past=words["past-verbs"],
            back=words["says-what-it-was"],
            copulas=words["past-copulas"],
            nominal=words["begins-a-noun"],
        )


@dataclass(frozen=True, slots=True)
class CorrectionWords:
    """What may stand around a value that is taken back."""

    small: frozenset[str]
    no_head: frozenset[str]  # behind a number they do not name what it counts
    between_letters: frozenset[str]
    it_was: frozenset[str]  # between a value that is denied and the one that holds
    is_right: frozenset[tuple[str, ...]]  # behind the one of two values that holds
    concedes: frozenset[tuple[str, ...]]  # what somebody says who takes the other's value for right

    @classmethod
    def of(cls, words: WordSets) -> CorrectionWords:
        """Those among the word sets of a lexicon."""
        return cls(
            small=words["before-the-new-value"],
            no_head=words["before-the-new-value"] | words["names-no-measure"],
            between_letters=words["between-letters"],
            it_was=words["between-denied-and-new"],
            is_right=frozenset(tuple(phrase.split()) for phrase in words["behind-the-one-that-holds"]),
            concedes=frozenset(tuple(phrase.split()) for phrase in words["concedes"]),
        )


@dataclass(frozen=True, slots=True)
class Grammar:
    """All of them; ``free`` words may stand before what begins a statement, ``figures`` may be read aloud over and over."""

    clauses: ClauseWords
    reach: ReachWords
    general: GeneralWords
    shapes: ShapeWords
    questions: QuestionWords
    asides: AsideWords
    corrections: CorrectionWords
    free: frozenset[str]
    figures: frozenset[str]

    @classmethod
    def of(cls, words: WordSets) -> Grammar:
        """Those among the word sets of a lexicon."""
        return cls(
            clauses=ClauseWords.of(words),
            reach=ReachWords.of(words),
            general=GeneralWords.of(words),
            shapes=ShapeWords.of(words),
            questions=QuestionWords.of(words),
            asides=AsideWords.of(words),
            corrections=CorrectionWords.of(words),
            free=words["before-a-beginning"],
            figures=words["read-aloud"],
        )
