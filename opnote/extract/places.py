"""Which bone and which ligament a frame belongs to: named with it, named in its statement, or the topic of the talk."""

from __future__ import annotations

from collections.abc import Sequence

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene
from opnote.language.terms import Mention

ANYWHERE = frozenset({"cortical button", "suture tape", "meniscal repair device"})  # the bone under discussion need not be theirs
NOUNS = frozenset(
    {"cortex", "side", "end", "metaphysis", "bone", "shaft", "condyle"}
)  # "the tibial cortex" is a place, "the tibial screw" another thing
FAR = 22.0  # words beyond which a bone or a ligament no longer speaks for a thing
BEFORE = frozenset({"femoral", "tibial", "fibular", "patellar", "fem", "tib"})


def nearest(scene: Scene, frame: Frame, mentions: Sequence[Mention], rivals: Sequence[Frame]) -> Mention | None:
    """The mention that stands closest to a frame, if no rival frame of its kind stands closer to it."""
    best: tuple[float, Mention] | None = None
    for mention in mentions:
        mine = cost(scene, frame, mention)
        if mine > FAR:
            continue
        if any(cost(scene, rival, mention) < mine for rival in rivals if rival is not frame):
            continue
        if best is None or mine < best[0]:
            best = (mine, mention)
    return best[1] if best else None


def cost(scene: Scene, frame: Frame, mention: Mention) -> float:
    """Words and commas between a mention and a frame; an adjective ("femoral") looks ahead, not back."""
    if mention.end <= frame.start:
        left, right, factor = mention.end, frame.start, 1.0
    elif mention.start >= frame.end:
        ahead = scene.between(mention.end, mention.end + 1)
        adjective = " ".join(scene.between(mention.start, mention.end)) in BEFORE and not set(ahead) & NOUNS
        left, right, factor = frame.end, mention.start, 2.5 if adjective else 1.1
    else:
        return 0.0
    commas = sum(w in (",", "and", "then", ";") for w in scene.between(left, right))
    return factor * (right - left) + 2.0 * commas + (0.5 if factor > 1 else 0.0)


def place(scene: Scene, frames: Sequence[Frame], *, bones: bool, structures: frozenset[str]) -> None:
    """Gives each frame the bone and the ligament that belong to it."""
    if bones:
        said = scene.of("bone")
        for frame in frames:
            if "bone" not in frame.slots:
                rivals = [f for f in frames if f.type == frame.type]
                topic = None if frame.get("kind") in ANYWHERE else scene.bone
                _lend(frame, "bone", nearest(scene, frame, said, rivals), topic)
    named = [m for m in scene.of("structure") if m.value in structures]
    for frame in frames:
        if "structure" not in frame.slots:
            rivals = [f for f in frames if f.type == frame.type]
            topic = scene.structure if scene.structure is None or scene.structure.value in structures else None
            _lend(frame, "structure", nearest(scene, frame, named, rivals), topic)


def _lend(frame: Frame, name: str, said: Mention | None, topic: Mention | None) -> None:
    mention = said or topic
    if mention is not None:
        why = ("named with it",) if said else ("topic of the talk",)
        frame.slots[name] = Slot(name, mention.start, mention.end, mention.value, inherited=said is None, why=why)
