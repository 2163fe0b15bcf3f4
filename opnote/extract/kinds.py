"""What the talk as a whole lends to a thing: the kind of a bare "screw" or "anchor", the meniscus of a device, the only ligament."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.frames import IDENTIFIERS, Frame, Slot
from opnote.lexicon import Lexicon

SCREW, INTERFERENCE_SCREW = "screw", "interference screw"
ANCHOR, SUTURE_ANCHOR = "anchor", "suture anchor"
CORTICAL_BUTTON = "cortical button"
DRILLED_THROUGH = "passing_drill_mm"
MENISCAL_DEVICE = "meniscal repair device"
MENISCUS = "meniscus"
THICK_MM, LONG_MM = (5, 12), (15, 40)  # an interference screw's diameter and length


def lend_kinds(frames: Sequence[Frame], lexicon: Lexicon, *, ligaments: bool = True) -> None:
    """Gives implants the kind that was left out, and meniscal devices their meniscus.

    Without ``ligaments`` that are worked on a bare screw stays one: of a plate or a fracture nobody knows which.
    """
    implants = [frame for frame in frames if frame.type == "implant"]
    if ligaments:
        _screws(implants, lexicon)
    _anchors(implants, lexicon)
    _buttons(implants, [frame for frame in frames if frame.type == "tunnel"])
    _meniscal_devices(implants, [frame for frame in frames if frame.type == "procedure"])


def _screws(implants: Sequence[Frame], lexicon: Lexicon) -> None:
    """A size or a bare "screw" without a kind is of the kind of screw that was named last, else next; the sized ones are told first."""
    for sized in (True, False):
        for frame in implants:
            if _lacks_its_kind(frame) and _is_sized(frame) == sized:
                _screw(frame, [other for other in implants if other.get("kind") in lexicon.words["screws"] - {SCREW}], lexicon)


def _is_sized(frame: Frame) -> bool:
    return not frame.slots.keys().isdisjoint({"diameter_mm", "length_mm"})


def _screw(frame: Frame, screws: Sequence[Frame], lexicon: Lexicon) -> None:
    named = [screw for screw in screws if screw.start <= frame.start] or screws
    named = [screw for screw in named if screw.get("kind") == INTERFERENCE_SCREW] or named
    if named:
        slot = named[-1 if named[-1].start <= frame.start else 0].slots["kind"]
        frame.slots["kind"] = _kind_of(frame, slot)
    elif frame.get("material") in lexicon.words["of-interference-screws"] or _looks_like_interference(frame):
        said = frame.slots.get("kind")
        own = said or frame.slots["diameter_mm"]
        why = ("a screw of this size or material in a tunnel",)
        frame.slots["kind"] = Slot("kind", own.start, own.end, INTERFERENCE_SCREW, inherited=said is None, why=why)


def _kind_of(frame: Frame, named: Slot) -> Slot:
    """The kind of the screw last named, told by the frame's own "screw" where it says one."""
    own = frame.slots.get("kind")
    if own is None:
        return replace(named, inherited=True, why=("the kind of screw last named",), superseded=())
    return replace(own, value=named.value, why=(*own.why, "the kind of screw last named"))


def _lacks_its_kind(frame: Frame) -> bool:
    """Whether an implant is a bare "screw", or two sizes without a kind."""
    kind = frame.get("kind")
    return kind == SCREW or (kind is None and frame.slots.keys() >= {"diameter_mm", "length_mm"})


def _looks_like_interference(frame: Frame) -> bool:
    diameter, length = frame.get("diameter_mm"), frame.get("length_mm")
    if not isinstance(diameter, float) or not isinstance(length, float):
        return False
    return THICK_MM[0] <= diameter <= THICK_MM[1] and LONG_MM[0] <= length <= LONG_MM[1]


def _anchors(implants: Sequence[Frame], lexicon: Lexicon) -> None:
    """A bare "anchor" is of the kind of anchor named last, else next; where none is named it is a suture anchor."""
    named = [frame for frame in implants if frame.get("kind") in lexicon.words["anchors"]]
    for frame in implants:
        if frame.get("kind") != ANCHOR:
            continue
        before = [anchor for anchor in named if anchor.start <= frame.start]
        told = [anchor.get("kind") for anchor in (before[-1:] or named[:1])]
        own = frame.slots["kind"]
        why = "the kind of anchor named" if told else "an anchor"
        frame.slots["kind"] = replace(own, value=told[0] if told else SUTURE_ANCHOR, why=(*own.why, why))


def _buttons(implants: Sequence[Frame], tunnels: Sequence[Frame]) -> None:
    """A button lies on the bone that was drilled through for it: "a four and a half drill the rest of the way for the button".

    Where several were opened, or several bones drilled through, nobody knows which is meant.
    """
    buttons = [frame for frame in implants if frame.get("kind") == CORTICAL_BUTTON]
    drilled = [frame for frame in tunnels if DRILLED_THROUGH in frame.slots and "bone" in frame.slots]
    several = any(len({frame.get(name) for frame in buttons} - {None}) > 1 for name in IDENTIFIERS)
    if several or len({frame.get("bone") for frame in drilled}) != 1 or any("count" in frame.slots for frame in buttons):
        return
    why = ("the bone drilled through for a button",)
    bone = replace(drilled[0].slots["bone"], inherited=True, why=why, superseded=())
    ligaments = {frame.get("structure") for frame in drilled}
    for frame in buttons:
        if "bone" not in frame.slots and (frame.get("structure") is None or ligaments & {frame.get("structure"), None}):
            frame.slots["bone"] = bone


def _meniscal_devices(implants: Sequence[Frame], procedures: Sequence[Frame]) -> None:
    """A meniscal device belongs to the meniscus that is repaired, never to the ligament under discussion."""
    repairs = [frame for frame in procedures if frame.get("action") == "repair"]
    repaired = [frame.slots["structure"] for frame in repairs if MENISCUS in str(frame.get("structure"))]
    for frame in implants:
        if frame.get("kind") != MENISCAL_DEVICE:
            continue
        if MENISCUS not in str(frame.get("structure")):
            frame.slots.pop("structure", None)
        if "structure" not in frame.slots and len({slot.value for slot in repaired}) == 1:
            frame.slots["structure"] = replace(repaired[0], inherited=True, why=("the meniscus that is repaired",))


def lend_only_ligament(frames: Sequence[Frame], ligaments: frozenset[str], kinds: frozenset[str]) -> None:
    """Where one ligament only is worked on, every graft, tunnel and implant is its own; the words are those that name it."""
    named = [f.slots["structure"] for f in frames if f.type == "procedure" and f.get("structure") in ligaments]
    if len(ligaments) != 1 or not named:
        return
    only = replace(named[0], inherited=True, why=("the only ligament worked on",), superseded=())
    for frame in frames:
        if frame.type in kinds and "structure" not in frame.slots and frame.get("kind") != MENISCAL_DEVICE:
            frame.slots["structure"] = only
