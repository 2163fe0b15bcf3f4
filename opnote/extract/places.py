"""Which bone and which ligament a frame belongs to: named with it, named in its statement, or the topic of the talk."""

from __future__ import annotations

from collections.abc import Sequence

from opnote.extract.frames import Frame, Slot, begins_another
from opnote.extract.regions import topic_structure
from opnote.extract.scene import Scene
from opnote.language.terms import Mention

FAR = 22.0  # cost beyond which a bone or a ligament no longer speaks for a thing
BACK = 1.1  # a word of distance costs a little more looking back,
BACK_FROM_ADJECTIVE = 2.5  # and much more from an adjective, which looks ahead
BACK_AT_ALL = 0.5
ARTICLE = 2  # words in which "after the ..." leads to what tells the time
BREAK = 2.0  # cost of a break in between
BREAKS = frozenset({",", "and", "then", ";"})


def place(scene: Scene, frames: Sequence[Frame], *, structures: frozenset[str]) -> None:
    """Gives each frame what its type may be lent: the bone and the ligament that belong to it.

    ``structures`` are the ligaments of this operation, which alone are lent.
    """
    for name in ("bone", "structure"):
        said = [m for m in scene.of(name) if _is_a_place(scene, m, structures)]
        for frame in frames:
            if name in frame.slots or name not in scene.lexicon.things[frame.type].lent:
                continue
            topic = _topic_bone(scene, frame) if name == "bone" else topic_structure(scene, structures)
            _lend(frame, name, nearest(scene, frame, said, frames), topic)


def _is_a_place(scene: Scene, mention: Mention, structures: frozenset[str]) -> bool:
    """Whether a bone or a ligament is named as that to which a thing belongs."""
    return scene.places(mention) if mention.kind == "bone" else mention.value in structures and not _tells_when(scene, mention)


def _tells_when(scene: Scene, mention: Mention) -> bool:
    """Whether a ligament is named only for the time of something else ("tied last, after the ACL was in")."""
    led = not scene.words_of("begins-a-time").isdisjoint(scene.lead(mention.start, ARTICLE))
    return led and not scene.words_of("auxiliary-verbs").isdisjoint(scene.between(mention.end, mention.end + 1))


def nearest(scene: Scene, frame: Frame, mentions: Sequence[Mention], frames: Sequence[Frame]) -> Mention | None:
    """The mention that stands closest to a frame, unless another of the frames stands closer to it."""
    costs = [(cost(scene, frame, mention), mention) for mention in mentions if not _of_the_one_before(scene, frame, mention, frames)]
    mine = [(own, mention) for own, mention in costs if own <= FAR and not _closer(scene, frame, mention, own, frames)]
    return min(mine, key=lambda pair: pair[0])[1] if mine else None


def _of_the_one_before(scene: Scene, frame: Frame, mention: Mention, frames: Sequence[Frame]) -> bool:
    """Whether a mention closes what is said of an earlier frame ("... for the sMCL, and a six by twenty three for the POL")."""
    behind_another = any(other.end <= mention.start for other in frames if other is not frame)
    return mention.end <= frame.start and behind_another and begins_another(frame.start, scene.talk.words)


def _closer(scene: Scene, frame: Frame, mention: Mention, own: float, frames: Sequence[Frame]) -> bool:
    """Whether another frame stands closer to a mention than this one, which does at the cost ``own``."""
    rivals = [rival for rival in frames if rival is not frame and not _of_the_one_before(scene, rival, mention, frames)]
    return any(cost(scene, rival, mention) < own for rival in rivals)


def cost(scene: Scene, frame: Frame, mention: Mention) -> float:
    """Words and breaks between a mention and a frame; an adjective ("femoral") looks ahead, not back."""
    if mention.end <= frame.start:
        return _distance(scene, mention.end, frame.start)
    if mention.start < frame.end:
        return 0.0
    factor = BACK_FROM_ADJECTIVE if _looks_ahead(scene, mention) else BACK
    return _distance(scene, frame.end, mention.start, factor=factor) + BACK_AT_ALL


def _distance(scene: Scene, left: int, right: int, *, factor: float = 1.0) -> float:
    breaks = sum(word in BREAKS for word in scene.between(left, right))
    return factor * (right - left) + BREAK * breaks


def _looks_ahead(scene: Scene, mention: Mention) -> bool:
    """Whether a bone is said as an adjective of what follows ("the tibial screw"), which is no place of it ("the tibial cortex")."""
    adjective = " ".join(scene.between(mention.start, mention.end)) in scene.words_of("bone-adjectives")
    return adjective and scene.words_of("places-of-a-bone").isdisjoint(scene.between(mention.end, mention.end + 1))


def _topic_bone(scene: Scene, frame: Frame) -> Mention | None:
    elsewhere = frame.get("kind") in scene.words_of("on-no-bone-in-particular") or scene.says("leads-to-another-bone")
    return None if elsewhere else scene.focus.bone


def _lend(frame: Frame, name: str, said: Mention | None, topic: Mention | None) -> None:
    mention = said or topic
    if mention is not None:
        why = ("named with it",) if said else ("topic of the talk",)
        frame.slots[name] = Slot(name, mention.start, mention.end, mention.value, inherited=said is None, why=why)
