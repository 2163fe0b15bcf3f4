"""The focus of the talk: which bone, ligament, examination or implant it is about, moving from statement to statement."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import takewhile
from typing import Generic, TypeVar

from opnote.extract import bench
from opnote.extract.neighbours import is_first_step
from opnote.extract.regions import topic_structure
from opnote.extract.scene import SPOKEN_OF, USABLE, Focus, Scene, Stretch
from opnote.extract.weights import Weights
from opnote.extract.worked import NOTHING, Worked
from opnote.language.statements import Statement
from opnote.language.talk import Talk
from opnote.language.terms import Mention
from opnote.lexicon import Lexicon

RECENT = 5  # statements after which a thing is no longer under discussion
CALLED = 3  # words of a statement that does no more than call for an implant, its name counted as one ("Staple?", "Screw and washer.")
ASKED_LASTS = 3  # statements in which the answer to a question about an implant is expected
STEP_LASTS = 4  # statements in which the step after a first one of reaming is called out
AHEAD = 2  # statements that may still tell what such a number is
BARE = 8  # tokens of a statement that says no more than a number ("Okay, twenty degrees.")
WORK = frozenset({"opens", "implant kind"})  # vocabularies of what is made, drilled or fixed
BONE_LASTS = 8  # statements after which a bone nobody has named again is no longer the topic
ELSEWHERE = ("opens", "implant kind", "event", "action", "structure")  # vocabularies that lead away from an examination

ROOT = "the root that is repaired"  # why of a bare "root"
FATES = "implant disposition"
GIVEN_UP = ("hints: given-up", "gone-back")  # stances by which a thing did not stay; of an implant that is its fate and no denial

S_ = TypeVar("S_", bound=Stretch)


def scenes(talk: Talk, lexicon: Lexicon, worked: Worked = NOTHING, *, weights: Weights | None = None) -> Iterator[Scene]:
    """Every statement in order, the focus moving with the talk.

    ``worked`` is what is operated on: only its ligaments can become the topic.
    """
    gone = {(c.old.start, c.old.end) for c in talk.corrected}

    def usable(said: Stretch) -> bool:
        return _stance(talk, said) in USABLE and (said.start, said.end) not in gone

    mentions, quantities, hits = _Dealt(talk.mentions), _Dealt(talk.quantities), _Dealt(talk.hits)

    def coming(statement: Statement) -> frozenset[str]:
        """What the next statements of a turn speak of, but for words that may be a load or a test ("varus")."""
        after = talk.statements[statement.index + 1 : statement.index + 1 + AHEAD]
        turn = list(takewhile(lambda s: s.speaker == statement.speaker, after))
        if any(not else_told.isdisjoint(talk.words[s.start : s.end]) for s in turn):
            return frozenset()
        said = [m for s in turn for m in filter(usable, mentions.to(s))]
        times = Counter((m.start, m.end) for m in said)
        return _topics(m for m in said if times[m.start, m.end] == 1)

    else_told = lexicon.words["testing"] | lexicon.words["moves-the-knee"]
    focus, weighed = Focus(), weights or Weights()
    for statement in talk.statements:
        said = _with_the_root(_with_the_named(mentions.to(statement), talk.words, worked), talk, statement, lexicon, worked)
        scene = Scene(
            talk,
            statement,
            lexicon,
            weights=weighed,
            focus=focus,
            mentions=tuple(m for m in said if usable(m) or _came_out(talk, statement, m, lexicon.words["denies-a-fate"])),
            spoken=tuple(m for m in said if _stance(talk, m) in SPOKEN_OF),
            quantities=tuple(filter(usable, quantities.to(statement))),
            hits=tuple(hits.to(statement)),
            coming=coming(statement) if not said and statement.end - statement.start <= BARE else frozenset(),
        )
        yield scene
        focus = moved(scene, worked)


def _with_the_named(mentions: Sequence[Mention], words: Sequence[str], worked: Worked) -> Sequence[Mention]:
    """The mentions of a statement, and where it works on a ligament without naming one, the one that an action alone tells.

    "The tenodesis was fixed at sixty degrees" is of the LET; "the reconstruction was stable" finds nothing of a ligament.
    """
    kinds = {m.kind for m in mentions}
    if "structure" in kinds or kinds.isdisjoint(WORK):
        return mentions
    meant = [
        replace(m, kind="structure", value=worked.named[m.value])
        for m in mentions
        if m.kind == "action" and m.value in worked.named and words[max(0, m.start - 1)] == "the"
    ]
    return sorted([*mentions, *meant], key=lambda m: (m.start, m.end))


def _with_the_root(mentions: Sequence[Mention], talk: Talk, statement: Statement, lexicon: Lexicon, worked: Worked) -> Sequence[Mention]:
    """The mentions of a statement that works on a meniscal root and says no more than "root": "a single tunnel for the root"."""
    if worked.root is None or {m.kind for m in mentions}.isdisjoint(WORK):
        return mentions
    taken = {place for m in mentions if m.kind in ("structure", "result", "diagnosis noun") for place in range(m.start, m.end)}
    places = [place for place in range(statement.start, statement.end) if talk.words[place] in lexicon.words["root-words"]]
    meant = [Mention(place, place + 1, "structure", worked.root, ROOT) for place in places if place not in taken]
    return sorted([*mentions, *meant], key=lambda m: (m.start, m.end))


def _came_out(talk: Talk, statement: Statement, mention: Mention, denials: frozenset[str]) -> bool:
    """Whether words that give a thing up tell what became of an implant: "so that came straight back out, removed"."""
    stance = talk.stances[mention.start]
    if mention.kind != FATES or stance.name != "not done" or not stance.cue.startswith(GIVEN_UP):
        return False
    return denials.isdisjoint(talk.words[statement.start : mention.start])


class _Dealt(Generic[S_]):
    """Items sorted by their start, dealt to the statements in which they begin."""

    def __init__(self, items: Sequence[S_]) -> None:
        self._items, self._starts = items, [item.start for item in items]

    def to(self, statement: Statement) -> Sequence[S_]:
        return self._items[bisect_left(self._starts, statement.start) : bisect_left(self._starts, statement.end)]


def _stance(talk: Talk, said: Stretch) -> str:
    return talk.stances[said.start].name


def moved(scene: Scene, worked: Worked) -> Focus:
    """The focus after a statement."""
    focus, index, structures = scene.focus, scene.statement.index, worked.ligaments
    bone = _last([m for m in scene.spoken if m.kind == "bone" and scene.places(m)], "bone")
    age = 0 if bone else focus.bone_age + 1
    ligaments = [m for m in scene.of("structure") if m.value in structures]
    topics = _topics(scene.spoken)
    step, step_at = _step(scene)
    heard = {topic: at for topic, at in focus.heard.items() if index - at < RECENT}
    return replace(
        _asked(scene),
        bone=bone or (focus.bone if age <= BONE_LASTS and not scene.says("leads-to-another-bone") else None),
        bone_age=age,
        structure=ligaments[-1] if ligaments else topic_structure(scene, structures),
        named={**focus.named, **{m.value: m for m in ligaments}},
        exam=_last(scene.spoken, "exam") or (focus.exam if _still_examining(scene) else None),
        compartment=_last(scene.spoken, "compartment") or focus.compartment,
        fixed=focus.fixed or (scene.section not in scene.words_of("sections-before-the-work") and _fixes(scene)),
        bench=bench.moved(focus.bench, scene) if len(worked.rebuilt) <= 1 else None,  # of two grafts, either may be in hand
        step=step,
        step_at=step_at,
        topics=topics,
        heard=heard | dict.fromkeys(topics, index),
        cues=scene.cues,
    )


def _topics(mentions: Iterable[Mention]) -> frozenset[str]:
    """What mentions speak of: the kinds of term, and the types of thing that are brought up."""
    return frozenset(name for m in mentions for name in ((m.kind, m.value) if m.kind == "opens" else (m.kind,)))


def _last(mentions: Sequence[Mention], kind: str) -> Mention | None:
    return next((m for m in reversed(mentions) if m.kind == kind), None)


def _step(scene: Scene) -> tuple[float | None, int]:
    """The first step of reaming that is told here, or the one before while the next is expected."""
    focus, index = scene.focus, scene.statement.index
    usual = scene.lexicon.attributes["tunnel", "diameter_mm"].usual or (0.0, 0.0)
    sizes = [q.value for q in scene.quantities if q.kind == "number" and is_first_step(scene, q)]
    drilled = [size for size in sizes if isinstance(size, float) and usual[0] <= size <= usual[1]]
    if drilled:
        return drilled[-1], index
    return (focus.step, focus.step_at) if index - focus.step_at < STEP_LASTS else (None, 0)


def _asked(scene: Scene) -> Focus:
    """The focus with the implant that is asked for: until it is named or a few statements have gone by.

    "Can I have the interference screw?" - "Here." - "Seven by twenty-five": the size is the screw's.
    """
    focus, index = scene.focus, scene.statement.index
    named = [m for m in scene.spoken if m.kind == "implant kind"]
    asked = [m for m in named if _stance(scene.talk, m) == "question" or len(scene.words) - (m.end - m.start) < CALLED]
    if asked:
        return replace(focus, asked=asked[-1], asked_at=index)
    over = bool(scene.of("implant kind")) or index - focus.asked_at >= ASKED_LASTS
    return replace(focus, asked=None if over else focus.asked)


def _still_examining(scene: Scene) -> bool:
    """Whether a statement without an examination of its own still speaks of the last one: a number or an end point, nothing else opened."""
    return bool(scene.quantities or scene.of("end point", "result")) and not scene.of(*ELSEWHERE)


def _fixes(scene: Scene) -> bool:
    """Whether something is fixed in this statement: from here on an examination is one after the reconstruction."""
    screws = [m for m in scene.of("implant kind") if m.value not in scene.words_of("holds-nothing")]
    sized = any(q.kind in ("pair", "angle", "force", "identifier") for q in scene.quantities)
    held = scene.of("rotation") or (scene.says("fixed") and scene.of("stress"))
    return bool((screws and sized) or held)
