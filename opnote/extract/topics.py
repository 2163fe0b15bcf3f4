"""What goes on from statement to statement: a size of the last tunnel, a lot of the last screw, the one ligament."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene
from opnote.language.talk import Talk

LASTS = {
    "finding": 1,
    "implant": 4,
    "tunnel": 3,
    "graft": 12,
    "isometry": 3,
    "augmentation": 2,
}  # statements over which a thing stays the topic
TRIAL = 6  # statements between a trial of isometry and the word that gives it up
FATE = 4  # more statements for what became of an implant
NAMES = {"implant": ("kind",), "tunnel": (), "graft": ("tissue",), "isometry": (), "augmentation": ("kind",)}
SHARED = frozenset({"graft", "tunnel", "implant", "tensioning", "isometry", "augmentation"})
SCREWS = frozenset({"interference screw", "screw", "bone screw", "screw and washer"})


def carry_on(frames: Sequence[Frame], told: Sequence[Scene], ligaments: frozenset[str], talk: Talk) -> list[Frame]:
    """Joins frames that go on with an earlier one, and lends the kind of screw and the only ligament where they were left out."""
    out: list[Frame] = []
    last: dict[str, Frame] = {}
    for frame in sorted(frames, key=lambda f: (f.statement, f.start)):
        previous = last.get(frame.type)
        if previous is not None and goes_on(previous, frame):
            for name, slot in frame.slots.items():
                if name not in previous.slots or previous.slots[name].inherited:
                    previous.slots[name] = slot
            previous.statement = frame.statement
            continue
        out.append(frame)
        if frame.type in LASTS:
            last[frame.type] = frame
    out = _not_abandoned(_kept(out), told)
    _kinds_of_screws(out)
    _kinds_of_anchors(out)
    _meniscal_devices(out)
    _only_ligament(out, ligaments, SHARED)
    rebuilt = frozenset(
        str(f.get("structure")) for f in out if f.type == "procedure" and f.get("action") in ("reconstruction", "tenodesis")
    )
    _only_ligament(out, rebuilt & ligaments, frozenset({"graft"}))
    return out


def goes_on(previous: Frame, frame: Frame) -> bool:
    """Whether a frame names nothing new and contradicts nothing of the last of its kind."""
    lasts = LASTS.get(frame.type, -1) + (FATE if set(frame.slots) - {"bone", "structure"} == {"disposition"} else 0)
    if frame.statement - previous.statement > lasts:
        return False
    if frame.type == "finding":
        return _same_examination(previous, frame)
    if any(name in frame.slots and not frame.slots[name].inherited for name in NAMES[frame.type]) and frame.statement != previous.statement:
        return False
    if frame.type == "implant" and "length_mm" in frame.slots and previous.get("kind") not in (*SCREWS, None):
        return False  # a diameter by a length is a screw's, not a button's
    return all(
        name not in previous.slots or previous.slots[name].same(slot) or slot.inherited or previous.slots[name].inherited
        for name, slot in frame.slots.items()
    )  # fmt: skip


def _same_examination(previous: Frame, frame: Frame) -> bool:
    """Whether a frame only adds a grade, a result or an end point to the examination before it ("... No end point. That's a three.")."""
    exam = frame.slots.get("exam")
    if (
        exam is None
        or not exam.inherited
        or exam.value != previous.get("exam")
        or {"flexion_deg", "opening_mm", "structure"} & set(frame.slots)
    ):
        return False
    added = set(frame.slots) - {"exam", "phase"}
    return bool(added) and not added & set(previous.slots) and frame.start >= previous.end


def _kept(frames: Sequence[Frame]) -> list[Frame]:
    """Without the items that were put back: an expired graft, a screw that was never opened."""
    return [f for f in frames if f.get("disposition") != "rejected"]


def _not_abandoned(frames: Sequence[Frame], told: Sequence[Scene]) -> list[Frame]:
    """Without the trials that were given up ("four, no, I'm moving the pin")."""
    given_up = [scene.statement.index for scene in told if scene.of("abandons")]
    return [
        f
        for f in frames
        if not (f.type == "isometry" and any(0 <= at - f.statement <= TRIAL for at in given_up) and f.get("result") != "isometric")
    ]


def _kinds_of_screws(frames: Sequence[Frame]) -> None:
    """A size or a bare "screw" without a kind is of the kind of screw that was named last, else next."""
    screws = [f for f in frames if f.type == "implant" and f.get("kind") in ("interference screw", "screw and washer", "bone screw")]
    for frame in frames:
        if frame.type != "implant" or frame.get("kind") not in (None, "screw"):
            continue
        if not ({"diameter_mm", "length_mm"} <= set(frame.slots) or frame.get("kind") == "screw"):
            continue
        named = [s for s in screws if s.start <= frame.start] or screws
        interference = [s for s in named if s.get("kind") == "interference screw"] or named
        if interference:
            slot = interference[-1 if interference[-1].start <= frame.start else 0].slots["kind"]
            frame.slots["kind"] = Slot("kind", slot.start, slot.end, slot.value, inherited=True, why=("the kind of screw last named",))
        elif frame.get("material") in ("PEEK", "biocomposite", "bioabsorbable") or _looks_like_interference(frame):
            own = frame.slots.get("kind") or frame.slots["diameter_mm"]
            frame.slots["kind"] = Slot(
                "kind", own.start, own.end, "interference screw", inherited=True, why=("a screw of this size or material in a tunnel",)
            )


def _kinds_of_anchors(frames: Sequence[Frame]) -> None:
    """A bare "anchor" is of the kind of anchor named last, else next; where none is named it is a suture anchor."""
    named = [f for f in frames if f.type == "implant" and f.get("kind") in ("suture anchor", "all-suture anchor", "knotless anchor")]
    for frame in frames:
        if frame.type != "implant" or frame.get("kind") != "anchor":
            continue
        own = frame.slots["kind"]
        before = [f for f in named if f.start <= frame.start]
        told = before[-1] if before else named[0] if named else None
        value = told.get("kind") if told is not None else "suture anchor"
        frame.slots["kind"] = replace(own, value=value, why=(*own.why, "the kind of anchor named" if told is not None else "an anchor"))


def _looks_like_interference(frame: Frame) -> bool:
    diameter, length = frame.get("diameter_mm"), frame.get("length_mm")
    return isinstance(diameter, float) and isinstance(length, float) and 5 <= diameter <= 12 and 15 <= length <= 40


def _meniscal_devices(frames: Sequence[Frame]) -> None:
    """A meniscal device belongs to the meniscus that is repaired, never to the ligament under discussion."""
    repaired = [
        f.slots["structure"]
        for f in frames
        if f.type == "procedure" and f.get("action") == "repair" and "meniscus" in str(f.get("structure"))
    ]
    for frame in frames:
        if frame.type != "implant" or frame.get("kind") != "meniscal repair device":
            continue
        held = frame.slots.get("structure")
        if held is not None and "meniscus" not in str(held.value):
            del frame.slots["structure"]
        if "structure" not in frame.slots and len({s.value for s in repaired}) == 1:
            frame.slots["structure"] = replace(repaired[0], inherited=True, why=("the meniscus that is repaired",))


def _only_ligament(frames: Sequence[Frame], ligaments: frozenset[str], kinds: frozenset[str]) -> None:
    """Where one ligament only is worked on, every graft, tunnel and implant is its own; the words are those that name it."""
    if len(ligaments) != 1:
        return
    named = next((f.slots["structure"] for f in frames if f.type == "procedure" and f.get("structure") in ligaments), None)
    if named is None:
        return
    for frame in frames:
        if frame.type in kinds and "structure" not in frame.slots and frame.get("kind") != "meniscal repair device":
            frame.slots["structure"] = Slot(
                "structure", named.start, named.end, named.value, inherited=True, why=("the only ligament worked on",)
            )
