"""One statement as the linker sees it: what may be used in it, and what the talk is about when it begins."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from opnote.language.model import Quantity
from opnote.language.phrases import Hit
from opnote.language.statements import Statement
from opnote.language.talk import Talk
from opnote.language.terms import Mention

USABLE = frozenset({"done", "planned"})
HOLDING = frozenset(
    {
        "fixed",
        "fix",
        "fixation",
        "fixing",
        "held",
        "hold",
        "holding",
        "screw",
        "tensioned",
        "tension",
        "pull",
        "pulled",
        "pulling",
        "secured",
        "tied",
        "seated",
        "advanced",
        "inserted",
        "goes",
        "going",
        "load",
        "push",
        "lock",
        "locked",
        "placed",
        "apply",
        "applied",
    }
)
TESTING = frozenset(
    {
        "opens",
        "opened",
        "opening",
        "gapping",
        "gapped",
        "gaps",
        "exam",
        "examination",
        "stable",
        "laxity",
        "grade",
        "tested",
        "testing",
        "test",
        "afterwards",
        "symmetric",
    }
)
RECENT = 5  # statements after which a thing is no longer under discussion
ASKED_LASTS = 3  # statements in which the answer to a question about an implant is expected
BONE_LASTS = 8  # statements after which a bone nobody has named again is no longer the topic


@dataclass(frozen=True)
class Scene:
    """A statement with its usable mentions and quantities, in order; ``bone`` and ``structure`` are the topic it begins with."""

    talk: Talk
    statement: Statement
    mentions: tuple[Mention, ...]
    quantities: tuple[Quantity, ...]
    hits: tuple[Hit, ...]
    bone: Mention | None = None
    structure: Mention | None = None
    after_fixation: bool = False
    topics: frozenset[str] = field(default_factory=frozenset)
    recent: frozenset[str] = field(default_factory=frozenset)  # what the last few statements spoke of
    before: tuple[Hit, ...] = ()  # the hits of the statement before, for cues that stand at its end
    asked: Mention | None = None  # an implant asked for in a question of the last statements
    exam: Mention | None = None  # the examination last spoken of, while the talk is still about it

    def of(self, *kinds: str) -> list[Mention]:
        """The mentions of some vocabularies."""
        return [m for m in self.mentions if m.kind in kinds]

    @cached_property
    def words(self) -> tuple[str, ...]:
        """The words of the statement, in lower case."""
        return self.talk.words[self.statement.start : self.statement.end]

    def between(self, left: int, right: int) -> tuple[str, ...]:
        """The words between two places."""
        return self.talk.words[left:right]

    @cached_property
    def mode(self) -> str:
        """Whether loads and angles in this statement hold a fixation or test a ligament ("" when neither shows)."""
        held = (
            sum(word in HOLDING for word in self.words) + 2 * len(self.of("rotation")) + 2 * any(q.kind == "force" for q in self.quantities)
        )
        held += len([m for m in self.of("implant kind") if m.value != "suture tape"]) + 2 * any(q.kind == "pair" for q in self.quantities)
        tested = sum(word in TESTING for word in self.words) + 2 * len(self.of("end point", "phase")) + len(self.of("result"))
        tested += 2 * any(q.kind == "grade" for q in self.quantities)
        if held == tested:
            return "testing" if self.of("exam") or (self.exam is not None and not held) else ""
        return "holding" if held > tested else "testing"

    @property
    def section(self) -> str:
        """The part of the dictation that the statement stands in."""
        return self.statement.section


def taken_back(talk: Talk) -> frozenset[tuple[int, int]]:
    """Places of the values that the speaker took back."""
    return frozenset((c.old.start, c.old.end) for c in talk.corrected)


def scenes(talk: Talk, structures: frozenset[str]) -> Iterator[Scene]:
    """Every statement in order, the topic moving with the talk.

    ``structures`` are the ligaments of this operation: only they can become the topic.
    """
    gone = taken_back(talk)
    bone: Mention | None = None
    structure: Mention | None = None
    bone_age = 0
    fixed = False
    previous: frozenset[str] = frozenset()
    last_hits: tuple[Hit, ...] = ()
    heard: dict[str, int] = {}
    exam: Mention | None = None
    asked: Mention | None = None
    asked_at = 0
    mentions, quantities, hits = _Window(talk.mentions), _Window(talk.quantities), _Window(talk.hits)
    for statement in talk.statements:
        usable = tuple(m for m in mentions.within(statement) if talk.stances[m.start].name in USABLE and (m.start, m.end) not in gone)
        numbers = tuple(q for q in quantities.within(statement) if talk.stances[q.start].name in USABLE and (q.start, q.end) not in gone)
        own = tuple(hits.within(statement))
        scene = Scene(
            talk, statement, usable, numbers, own, bone, structure, fixed, previous, _lately(heard, statement.index), last_hits, asked, exam
        )
        yield scene
        last_hits = own
        questions = [m for m in mentions.last if m.kind == "implant kind" and talk.stances[m.start].name == "question"]
        asked, asked_at = (questions[-1], statement.index) if questions else (asked, asked_at)
        if statement.index - asked_at >= ASKED_LASTS or scene.of("implant kind"):
            asked = None
        exams = [m for m in mentions.last if m.kind == "exam" and talk.stances[m.start].name in (*USABLE, "question")]
        exam = exams[-1] if exams else exam if _still_examining(scene) else None
        bones, ligaments = (
            [m for m in mentions.last if m.kind == "bone" and talk.stances[m.start].name in (*USABLE, "question")],
            [m for m in scene.of("structure") if m.value in structures],
        )
        bone, bone_age = (bones[-1], 0) if bones else (bone, bone_age + 1)
        if bone_age > BONE_LASTS:
            bone = None
        structure = ligaments[-1] if ligaments else structure
        if statement.section not in ("procedures", "preop diagnosis", "postop diagnosis", "indications", "plan", "implants", "header"):
            fixed = fixed or _fixes(scene)
        spoken = [m for m in mentions.last if talk.stances[m.start].name in (*USABLE, "question")]
        previous = frozenset(m.value for m in spoken if m.kind == "opens") | frozenset(m.kind for m in spoken)
        heard.update(dict.fromkeys(previous, statement.index))


def _lately(heard: dict[str, int], now: int) -> frozenset[str]:
    """The topics of the last few statements."""
    return frozenset(topic for topic, at in heard.items() if now - at <= RECENT)


def _still_examining(scene: Scene) -> bool:
    """Whether a statement without an examination of its own still speaks of the last one: a number or an end point, nothing else opened."""
    return bool(scene.quantities or scene.of("end point", "result")) and not scene.of(
        "opens", "implant kind", "event", "action", "structure"
    )


def _fixes(scene: Scene) -> bool:
    """Whether something is fixed in this statement: from here on an examination is one after the reconstruction."""
    screws = [m for m in scene.of("implant kind") if m.value != "suture tape"]
    sizes = [q for q in scene.quantities if q.kind in ("pair", "angle", "force", "identifier")]
    held = scene.of("rotation") or ("fixed" in scene.words and scene.of("stress"))
    return bool((screws and sizes) or held)


class _Window:
    """Hands out the items of a sorted sequence statement by statement, each once: linear over a text."""

    def __init__(self, items: Sequence[Mention] | Sequence[Quantity] | Sequence[Hit]) -> None:
        self._items, self._at = items, 0
        self.last: list = []  # type: ignore[type-arg]

    def within(self, statement: Statement) -> list:  # type: ignore[type-arg]
        while self._at < len(self._items) and self._items[self._at].start < statement.start:
            self._at += 1
        first = self._at
        while self._at < len(self._items) and self._items[self._at].start < statement.end:
            self._at += 1
        self.last = list(self._items[first : self._at])
        return self.last
