"""Implants: kind, size, material, identifiers, and whether they stayed in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.dealing import dealt
from opnote.extract.found import mark_found
from opnote.extract.frames import CALLED_FOR, NAMED_ONLY, ONLY_OPENED, Frame, Slot
from opnote.extract.identifiers import identifiers
from opnote.extract.model import Choice
from opnote.extract.places import place
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention, mentioned, won
from opnote.language.terms import Mention

OPENED, REJECTED = "opened", "rejected"
BARE_SCREW = "screw"
PUT_WITHIN = 3  # words between a verb of putting in and the sizes
BESIDE = 4  # words between an implant and the bone named with it
APART = frozenset({",", "then", "and"})  # but none of these
FATE_WITHIN = 3  # words between the size by which an implant is named and its fate
TOOL_WITHIN, TOOL_BEHIND = 5, 4  # words before and behind a fate in which what it befell is named
PAIR = frozenset({"diameter_mm", "length_mm"})  # the sizes that screws alone have
TELLING = frozenset({"kind", "diameter_mm", "disposition"})  # an implant of which one is said is not the one asked for just before


def implants(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """The implants of a statement: "a nine by twenty five PEEK interference screw, lot K four one"."""
    if scene.barred("implant"):
        return []
    called = _is_called_for(scene)
    slots = [_called(m) if called else from_mention("kind", m) for m in _kinds(scene)]
    slots += [*mentioned(scene, "material", "material"), *(from_mention("disposition", m) for m in _dispositions(scene))]
    slots += [*won(scene, choices, "implant"), *identifiers(scene, "implant")]
    slots += _sized_by_fate(scene, choices, slots)
    if not slots:
        return []
    slots += [from_mention("bone", m) for m in scene.of("bone") if _beside(scene, m, slots) or called]
    back = [slot for slot in slots if slot.attribute == "disposition" and _points_back(scene, slot, slots)]
    frames = [Frame("implant", scene.statement.index, {"disposition": slot}) for slot in back]
    frames += dealt(scene, "implant", [slot for slot in slots if slot not in back])
    frames = [frame for frame in frames if _is_spoken_of(scene, frame) and not _is_of_another(scene, frame)]
    mark_found(scene, frames)
    _as_put_in(scene, frames)
    _as_asked(scene, frames)
    place(scene, frames, structures=structures)
    return frames


def _is_spoken_of(scene: Scene, frame: Frame) -> bool:
    """Whether an implant is more than named: of one that is only opened, or called "the screw", the next statements may tell its fate."""
    listed = any(quantity.kind == "identifier" for quantity in scene.quantities)
    if set(frame.slots) != {"kind"} or scene.says("puts-in") or listed:
        return True
    kind = frame.slots["kind"]
    opened = OPENED in scene.words
    if not opened and scene.lead(kind.start, 1) != ("the",):
        return False
    frame.slots["kind"] = replace(kind, why=(*kind.why, ONLY_OPENED if opened else NAMED_ONLY))
    return True


def _is_of_another(scene: Scene, frame: Frame) -> bool:
    """Whether what was rejected is named by numbers that are no size here: "earlier I had asked for ten by thirty, that was not opened"."""
    fate = frame.slots.get("disposition")
    if fate is None or set(frame.slots) != {"disposition"} or fate.value != REJECTED:
        return False
    return any(quantity.kind in ("number", "pair", "length") and quantity.end <= fate.start for quantity in scene.quantities)


def _kinds(scene: Scene) -> list[Mention]:
    """The kinds named; beside the kind of a screw a bare "screw" is the same one."""
    kinds = scene.of("implant kind")
    named = any(m.value in scene.words_of("screws") and m.value != BARE_SCREW for m in kinds)
    return [m for m in kinds if not named or m.value != BARE_SCREW]


def _dispositions(scene: Scene) -> list[Mention]:
    """What became of implants; "the wire was taken out" tells of none."""
    return [m for m in scene.of("implant disposition") if not _of_a_tool(scene, m)]


def _sized_by_fate(scene: Scene, choices: Sequence[Choice], slots: Sequence[Slot]) -> list[Slot]:
    """The size by which an implant is named of which only its fate is told: "and the ten that was wasted"."""
    usual = scene.lexicon.attributes["implant", "diameter_mm"].usual or (0.0, 0.0)
    sizes = [c.quantity for c in choices if c.won is None and c.quantity.kind == "number" and _within(c.quantity.value, usual)]
    fates = [slot for slot in slots if slot.attribute == "disposition"]
    links = scene.words_of("links-a-size-to-its-fate")
    return [
        Slot("diameter_mm", q.start, q.end, q.value, unit="mm", why=("named by its size",))
        for q in sizes
        for fate in fates
        if 0 < fate.start - q.end <= FATE_WITHIN
        and links.issuperset(scene.between(q.end, fate.start))
        and scene.lead(q.start, 1) == ("the",)
    ]


def _within(value: object, bounds: tuple[float, float]) -> bool:
    return isinstance(value, float) and bounds[0] <= value <= bounds[1]


def _of_a_tool(scene: Scene, fate: Mention) -> bool:
    """Whether of the tools and the implants named beside the words of a fate a tool stands nearest."""
    kinds = {place for m in scene.spoken if m.kind == "implant kind" for place in range(m.start, m.end)}
    tools, words = scene.words_of("tools-taken-out"), scene.talk.words
    within = range(max(scene.statement.start, fate.start - TOOL_WITHIN), min(scene.statement.end, fate.end + TOOL_BEHIND))
    named = [place for place in within if place in kinds or words[place] in tools]
    nearest = min(named, key=lambda place: max(fate.start - place, place - fate.end, 0), default=None)
    return nearest is not None and nearest not in kinds


def _beside(scene: Scene, bone: Mention, slots: Sequence[Slot]) -> bool:
    """Whether a bone is named right beside an implant ("femoral screw", "nine by twenty in the tibia")."""
    for slot in slots:
        left, right = (bone.end, slot.start) if bone.end <= slot.start else (slot.end, bone.start)
        if 0 <= right - left <= BESIDE and APART.isdisjoint(scene.between(left, right)):
            return True
    return False


def _is_called_for(scene: Scene) -> bool:
    """Whether a statement does no more than call for one implant to one bone ("ACL button, femur.", "Tibial button.")."""
    named = {place for m in scene.of("implant kind", "bone", "structure") for place in range(m.start, m.end)}
    places = range(scene.statement.start, scene.statement.end)
    others = {scene.talk.words[place] for place in places if place not in named}
    return len(scene.of("implant kind")) == len(scene.of("bone")) == 1 and others <= scene.words_of("calls-for")


def _called(kind: Mention) -> Slot:
    """The kind of an implant that is called for."""
    slot = from_mention("kind", kind)
    return replace(slot, why=(*slot.why, CALLED_FOR))


def _points_back(scene: Scene, slot: Slot, slots: Sequence[Slot]) -> bool:
    """Whether what is taken out was named before: "I took that one back out, and went up to a ten"."""
    first = all(slot.end <= s.start for s in slots if s.attribute not in ("bone", "disposition"))
    return first and not scene.words_of("points-back").isdisjoint(scene.between(scene.statement.start, slot.end))


def _as_put_in(scene: Scene, frames: Sequence[Frame]) -> None:
    """Two sizes right behind a verb of putting in are a screw ("put an eight by twenty")."""
    for frame in frames:
        size = frame.slots.get("diameter_mm")
        if size is None or "kind" in frame.slots or "length_mm" not in frame.slots:
            continue
        if not scene.words_of("verbs-of-putting-in").isdisjoint(scene.lead(size.start, PUT_WITHIN)):
            why = ("two sizes that were put in",)
            frame.slots["kind"] = Slot("kind", size.start, size.end, BARE_SCREW, why=why)


def _as_asked(scene: Scene, frames: Sequence[Frame]) -> None:
    """What is read off the box ("lot K four one") is of the implant asked for just before, and the two sizes of a screw of the screw."""
    if scene.focus.asked is None:
        return
    screw = scene.focus.asked.value in scene.words_of("screws") - {BARE_SCREW}
    for frame in frames:
        sized = screw and "kind" not in frame.slots and frame.slots.keys() >= PAIR
        if TELLING.isdisjoint(frame.slots) or sized:
            frame.slots["kind"] = replace(from_mention("kind", scene.focus.asked), why=("asked for just before",))
