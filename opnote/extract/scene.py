"""One statement as the linker sees it: what may be used in it, and what the talk is about when it begins."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Protocol

from opnote.extract.weights import Weights
from opnote.language.model import Quantity
from opnote.language.phrases import Hit
from opnote.language.statements import Statement
from opnote.language.talk import Talk
from opnote.language.terms import Mention
from opnote.lexicon import AttributeEntry, Lexicon

USABLE = frozenset({"done", "planned"})  # stances of what enters the record
EARLY = 0.2  # share of the talk in which a plan is that of the operation
ANNOUNCED = ("graft",)  # what such a plan tells of ("a reconstruction with her own semitendinosus")
SPOKEN_OF = USABLE | {"question"}  # stances of what the talk is about
MOVES_WITHIN = 2  # words behind a bone within which a verb tells that the bone itself moves
VOTES = 2  # of a sign that hardly stands in both kinds of statement, against one of a word; see `Scene.mode`


class Stretch(Protocol):
    """Anything that stands on the tokens ``start`` (included) to ``end`` (excluded)."""

    @property
    def start(self) -> int:
        """The first token."""

    @property
    def end(self) -> int:
        """The token behind the last."""


@dataclass(frozen=True, slots=True)
class Bench:
    """A graft in hand, last spoken of in statement ``at``; ``unit`` is that of its length as called out, "" before it is."""

    at: int
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Focus:
    """What the talk is about when a statement begins.

    bone, structure    the bone and the ligament last named; a bone that nobody names again is forgotten after a while (``bone_age``)
    named              each ligament's last mention
    exam               the examination last spoken of, while the talk is still about it
    compartment        the part of the joint that was last looked into
    asked              an implant asked for in a question (of statement ``asked_at``) whose answer is still expected
    fixed              whether a graft has been fixed: what is examined now is examined after the reconstruction
    step               the size of a first step of reaming (of statement ``step_at``) whose next is still expected
    topics             what the statement before spoke of: kinds of term and types of thing
    heard              what the last few statements spoke of, each with the last of them
    cues               the cue words of the statement before, by their attribute, for those that stand at its end
    """

    bone: Mention | None = None
    bone_age: int = 0
    structure: Mention | None = None
    named: Mapping[str, Mention] = field(default_factory=dict)
    exam: Mention | None = None
    compartment: Mention | None = None
    asked: Mention | None = None
    asked_at: int = 0
    fixed: bool = False
    bench: Bench | None = None
    step: float | None = None
    step_at: int = 0
    topics: frozenset[str] = frozenset()
    heard: Mapping[str, int] = field(default_factory=dict)
    cues: Mapping[tuple[str, str], Sequence[Hit]] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Scene:
    """A statement with its usable mentions and quantities, in order.

    Usable is what was done or is planned, and was not taken back; ``spoken`` has all mentions, those in questions too.
    """

    talk: Talk
    statement: Statement
    lexicon: Lexicon = field(repr=False)
    weights: Weights = field(repr=False)
    focus: Focus
    mentions: tuple[Mention, ...]
    spoken: tuple[Mention, ...]
    quantities: tuple[Quantity, ...]
    hits: tuple[Hit, ...] = field(repr=False)
    coming: frozenset[str] = frozenset()
    """For a statement that brings up nothing itself: what the next ones of its speaker speak of, as in ``Focus.topics``."""

    @property
    def section(self) -> str:
        """The part of the dictation that the statement stands in."""
        return self.statement.section

    @cached_property
    def words(self) -> tuple[str, ...]:
        """The words of the statement, in lower case."""
        return self.talk.words[self.statement.start : self.statement.end]

    def of(self, *kinds: str) -> list[Mention]:
        """The mentions of some vocabularies."""
        return [m for m in self.mentions if m.kind in kinds]

    def words_of(self, name: str) -> frozenset[str]:
        """A word set of the lexicon, by its id in ``lexicons/words``."""
        return self.lexicon.words[name]

    def says(self, name: str) -> bool:
        """Whether a word of a word set stands in the statement."""
        return not self.words_of(name).isdisjoint(self.words)

    def between(self, left: int, right: int) -> tuple[str, ...]:
        """The words between two places."""
        return self.talk.words[left:right]

    def lead(self, place: int, count: int) -> tuple[str, ...]:
        """The words of the statement before a place, ``count`` of them or fewer."""
        return self.talk.words[max(self.statement.start, place - count) : place]

    def led_by(self, place: int, name: str) -> bool:
        """Whether a phrase of a word set stands right before a place."""
        return any(self.lead(place, len(said)) == said for said in (tuple(phrase.split()) for phrase in self.words_of(name)))

    def is_in(self, place: int, *kinds: str) -> bool:
        """Whether a token stands in a mention of some vocabularies."""
        return any(m.start <= place < m.end for m in self.of(*kinds))

    def stands(self, said: Stretch) -> bool:
        """Whether words are said of what was done, is planned or is asked; not of what was denied, or of others."""
        return self.talk.stances[said.start].name in SPOKEN_OF

    def hits_of(self, entry: AttributeEntry) -> Sequence[Hit]:
        """The cue words of an attribute, of whatever use."""
        return self.cues.get((entry.type, entry.name), ())

    def hits_before(self, entry: AttributeEntry) -> Sequence[Hit]:
        """The words that announce an attribute in the statement before."""
        return [hit for hit in self.focus.cues.get((entry.type, entry.name), ()) if hit.use == "before"]

    @cached_property
    def cues(self) -> Mapping[tuple[str, str], Sequence[Hit]]:
        """The cue words in the statement, by the type and the name of their attribute."""
        return _by_attribute(self.hits)

    @cached_property
    def anchors(self) -> Mapping[str, tuple[Mention, ...]]:
        """For each type of thing, the mentions that bring it up in this statement."""
        return {kind: tuple(m for m in self.mentions if self._brings_up(m, kind)) for kind in self.lexicon.things}

    def _brings_up(self, mention: Mention, kind: str) -> bool:
        thing = self.lexicon.things[kind]
        testing = thing.in_a_test is not None and self.mode == "testing"
        opened_by = thing.in_a_test if testing else thing.opened_by
        return mention.kind in (opened_by or ()) or (mention.kind == "opens" and mention.value == kind)

    def brings_up_next(self, kind: str) -> bool:
        """Whether only the next statement tells what this one is about ("Twenty degrees. Foot neutral.")."""
        return not self.coming.isdisjoint((kind, *self.lexicon.things[kind].opened_by))

    @property
    def announces(self) -> bool:
        """Whether a plan announces at the start of the talk what is then done ("the plan is an arthroscopy, then ...")."""
        return self.section == "plan" and self.statement.start < EARLY * len(self.talk.words)

    def barred(self, kind: str) -> bool:
        """Whether the statement stands where no thing of a type is made ("Plan: ...")."""
        announced = kind in ANNOUNCED and self.announces
        return self.section in self.lexicon.things[kind].not_in and not announced and not self._looks_back(kind)

    def _looks_back(self, kind: str) -> bool:
        """Whether what was done is told among what is to come ("the graft was fixed at twenty, so ...")."""
        return any(not self.words_of("looks-back").isdisjoint(self.lead(anchor.start, 1)) for anchor in self.anchors[kind])

    def places(self, bone: Mention) -> bool:
        """Whether a bone is named as a place; "the patella sat in the groove" tells where the bone is and places nothing in it."""
        end = min(self.statement.end, bone.end + MOVES_WITHIN)
        return self.words_of("moves-as-a-bone").isdisjoint(self.between(bone.end, end))

    @cached_property
    def mode(self) -> str:
        """Whether loads and angles in this statement are of a fixation ("holding") or of an examination ("testing"); "" if neither shows.

        "held at thirty degrees with eighty newtons" is holding, "at thirty degrees it opens three" is testing.
        """
        held, tested = _held(self), _tested(self)
        if held != tested:
            return "holding" if held > tested else "testing"
        goes_on = self.focus.exam is not None and not held
        return "testing" if goes_on or self.of("exam") else ""


def _by_attribute(hits: Iterable[Hit]) -> dict[tuple[str, str], list[Hit]]:
    found: dict[tuple[str, str], list[Hit]] = {}
    for hit in hits:
        if isinstance(hit.entry, AttributeEntry):
            found.setdefault((hit.entry.type, hit.entry.name), []).append(hit)
    return found


def _held(scene: Scene) -> int:
    """What speaks for a fixation: its words, rotation, a force, an implant, the two numbers of a screw."""
    kinds = [m for m in scene.of("implant kind") if m.value not in scene.words_of("holds-nothing")]
    signs = [bool(q) for q in (_any(scene, "force"), _any(scene, "pair"))]
    words = sum(word in scene.words_of("holding") for word in scene.words)
    return words + len(kinds) + VOTES * (len(scene.of("rotation")) + sum(signs))


def _tested(scene: Scene) -> int:
    """What speaks for an examination: its words, results, end points, a grade."""
    words = sum(word in scene.words_of("testing") for word in scene.words)
    return words + len(scene.of("result")) + VOTES * (len(scene.of("end point", "phase")) + _any(scene, "grade"))


def _any(scene: Scene, kind: str) -> bool:
    return any(q.kind == kind for q in scene.quantities)


def apart(one: Stretch, other: Stretch) -> int:
    """The words between two stretches; 0 where they touch or overlap."""
    return max(one.start - other.end, other.start - one.end, 0)


def overlaps(one: Stretch, other: Stretch) -> bool:
    """Whether two stretches share a token."""
    return one.start < other.end and other.start < one.end


def holds(one: Stretch, other: Stretch) -> bool:
    """Whether the second stretch lies inside the first."""
    return one.start <= other.start and other.end <= one.end
