"""The slots that a statement offers to each kind of thing, dealt to frames: grafts, tunnels, implants, fixation and the rest.

What a kind needs beyond the attribute table is said here once, in words of the trade: when a tissue is a graft and not anatomy,
when a load on the knee holds a fixation and when it tests a ligament.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from opnote.extract.frames import Frame, Slot, arrange
from opnote.extract.linker import anchors
from opnote.extract.model import Choice
from opnote.extract.places import place
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention, near, won
from opnote.language.terms import Mention
from opnote.lexicon import AttributeEntry

Rule = Callable[[Scene, Sequence[Choice], frozenset[str]], list[Frame]]

NOT_WORK = frozenset({"preop diagnosis", "postop diagnosis", "indications", "plan"})
HARVEST = frozenset(
    {
        "harvested",
        "harvest",
        "graft",
        "grafts",
        "strip",
        "stripper",
        "prepared",
        "thaw",
        "thawed",
        "strand",
        "strands",
        "doubled",
        "quadrupled",
        "whipstitched",
        "whipstitch",
        "sized",
        "sizer",
        "tripled",
        "stripped",
        "construct",
        "looped",
        "folded",
    }
)
ON = {
    "medial epicondyle": "femur",
    "lateral epicondyle": "femur",
    "adductor tubercle": "femur",
    "Gerdy tubercle": "tibia",
    "fibular head": "fibula",
}
OVER = frozenset({"over", "on", "at"})  # an incision lies over a bone; "from the pole to the tubercle" it lies over none alone
CLOSE, WIDE = 6, 9  # words between a tissue and the word that makes it a graft: one in the list of procedures may stand farther off


def dealt(scene: Scene, kind: str, slots: Sequence[Slot]) -> list[Frame]:
    """Frames of one kind from the slots of a statement."""
    return arrange(kind, scene.statement.index, slots, words=scene.talk.words)


def tunnels(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """Tunnels and sockets: sizes, cortices and the landmark of the pin."""
    if scene.section in NOT_WORK or (scene.of("augmentation kind") and not anchors(scene, "tunnel")):
        return []
    slots = stepped(scene, list(won(choices, "tunnel", scene.talk.corrected)))
    pairs = distances(scene, slots)
    opened = bool(anchors(scene, "tunnel"))
    pinned = any(
        w in ("pin", "wire", "guide", "guidewire", "pins", "k-wire", "socket", "tunnel", "insertion", "attachment", "origin")
        for w in scene.words
    )
    if opened:
        slots += [from_mention("cortices", m) for m in scene.of("cortices") if not _screwed(scene, m)]
    if pinned or any(s.attribute == "landmark_mm" for s in slots):
        bound = {slot.end for slot in pairs}
        slots += [
            from_mention("landmark", m)
            for m in scene.of("landmark")
            if m.value != "epicondyle" and not _cut(scene, m) and m.end not in bound
        ]
        slots += pairs + [Slot("bone", s.start, s.end, ON[str(s.value)], inherited=True, why=("where the landmark is",))
                          for s in slots + pairs if s.attribute == "landmark" and s.value in ON]  # fmt: skip
    if not slots:
        return []
    slots += [from_mention("bone", m) for m in scene.of("bone") if not any(m.start >= s.start and m.end <= s.end for s in slots)]
    frames = [f for f in dealt(scene, "tunnel", slots) if set(f.slots) - {"bone"}]
    place(scene, frames, bones=True, structures=structures)
    return frames


def stepped(scene: Scene, slots: Sequence[Slot]) -> list[Slot]:
    """Reaming in steps ("to nine and then to ten"): the last diameter stands, the steps before it are kept as replaced."""
    out: list[Slot] = []
    for slot in slots:
        last = next((s for s in reversed(out) if s.attribute == "diameter_mm"), None)
        if (
            slot.attribute == "diameter_mm"
            and last is not None
            and "to" in scene.between(last.end, slot.start)
            and not _renamed(scene, last.end, slot.start)
        ):
            out.remove(last)
            slot = replace(slot, superseded=(*last.superseded, last, *slot.superseded))
        out.append(slot)
    return out


def _renamed(scene: Scene, left: int, right: int) -> bool:
    """Whether another bone or tunnel is named between two places."""
    return any(left <= m.start < right for m in scene.of("bone", "opens"))


def distances(scene: Scene, slots: Sequence[Slot]) -> list[Slot]:
    """The landmark that each distance is measured from, placed just before its distance so that the two stay together."""
    out: list[Slot] = []
    for slot in slots:
        if slot.attribute != "landmark_mm":
            continue
        marks = [m for m in scene.of("landmark") if 0 <= m.start - slot.end <= 8 and m.value != "epicondyle"]
        if marks:
            out.append(Slot("landmark", slot.start, marks[0].end, marks[0].value, why=(f"term {marks[0].term}", "measured from it")))
    return out


def _screwed(scene: Scene, mention: Mention) -> bool:
    """Whether "both cortices" is said of a screw."""
    distance = near(scene, "implant", mention)
    own = min(
        (max(s - mention.end, mention.start - e, 0) for s, e in anchors(scene, "tunnel") if (s, e) != (mention.start, mention.end)),
        default=None,
    )
    return distance is not None and (own is None or distance < own)


def _cut(scene: Scene, mention: Mention) -> bool:
    """Whether a landmark is where the skin is cut."""
    distance = near(scene, "incision", mention)
    return distance is not None and distance <= 8


def implants(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """Implants: kind, size, material, identifiers, and whether they stayed in."""
    if scene.section in NOT_WORK:
        return []
    kinds = scene.of("implant kind")
    if any(m.value.endswith("screw") or m.value == "screw and washer" for m in kinds if m.value != "screw"):
        kinds = [m for m in kinds if m.value != "screw"]
    slots = [from_mention("kind", m) for m in kinds]
    slots += [
        from_mention(name, m)
        for name, vocabulary in (("material", "material"), ("disposition", "implant disposition"))
        for m in scene.of(vocabulary)
    ]
    slots += list(won(choices, "implant", scene.talk.corrected))
    slots += identifiers(scene, "implant")
    if not slots:
        return []
    slots += [from_mention("bone", m) for m in scene.of("bone") if _close(scene, m, slots)]
    back = [s for s in slots if s.attribute == "disposition" and _points_back(scene, s, slots)]
    frames = [f for f in dealt(scene, "implant", [s for s in slots if s not in back]) if set(f.slots) - {"bone"}]
    frames = [Frame("implant", scene.statement.index, {"disposition": s}) for s in back] + frames
    if scene.asked is not None:
        for frame in frames:
            if "kind" not in frame.slots and "diameter_mm" not in frame.slots and "disposition" not in frame.slots:
                frame.slots["kind"] = replace(from_mention("kind", scene.asked), inherited=False, why=("asked for just before",))
    place(scene, frames, bones=True, structures=structures)
    return frames


def _close(scene: Scene, mention: Mention, slots: Sequence[Slot]) -> bool:
    """Whether a bone is named right beside an implant ("femoral screw", "nine by twenty in the tibia")."""
    for slot in slots:
        left, right = (mention.end, slot.start) if mention.end <= slot.start else (slot.end, mention.start)
        if left <= right and right - left <= 4 and not {",", "then", "and"} & set(scene.between(left, right)):
            return True
    return False


def _points_back(scene: Scene, slot: Slot, slots: Sequence[Slot]) -> bool:
    """ "I took that one back out, and went up to a ten": what is taken out was named before."""
    first = all(slot.start <= s.start for s in slots if s.attribute not in ("bone", "disposition"))
    return first and bool({"that", "it", "this"} & set(scene.between(scene.statement.start, slot.end)))


def grafts(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """Grafts: a tissue counts where it is spoken of as a graft, not as anatomy."""
    if scene.section in NOT_WORK:
        return []
    slots = list(won(choices, "graft", scene.talk.corrected)) + identifiers(scene, "graft")
    tissues = [m for m in scene.of("tissue") if _as_graft(scene, m)]
    slots += [from_mention("tissue", m) for m in tissues]
    speaks = bool(slots) or any(
        w in ("graft", "grafts", "tendon", "tendons", "hamstring", "hamstrings", "reconstruction") for w in scene.words
    )
    if speaks:
        slots += [from_mention("source", m) for m in scene.of("source")]
    if speaks or "graft" in scene.topics or "tissue" in scene.topics:
        slots += [from_mention("strands", m) for m in scene.of("strands")]
    slots += [
        from_mention("disposition", m)
        for m in scene.of("implant disposition")
        if m.value == "rejected" and (slots or {"tissue", "graft"} & scene.topics)
    ]
    frames = dealt(scene, "graft", slots)
    place(scene, frames, bones=False, structures=structures)
    return frames


def _as_graft(scene: Scene, mention: Mention) -> bool:
    """Whether a tissue is spoken of as a graft: by the words around it, by its source, by its number."""
    if scene.section == "procedures":
        return True
    own = scene.between(mention.start, mention.end)
    around = scene.talk.words[max(scene.statement.start, mention.start - CLOSE) : min(scene.statement.end, mention.end + CLOSE)]
    if any(word in HARVEST and word not in own for word in around) or "strip" in own:
        return True
    sources = [m for m in scene.of("source", "strands") if max(m.start - mention.end, mention.start - m.end) <= WIDE]
    numbered = any(q.kind == "identifier" for q in scene.quantities) or "graft" in scene.topics
    return bool(sources) or numbered


def identifiers(scene: Scene, kind: str) -> list[Slot]:
    """Lots, serials, references, tissue numbers and expiry dates that belong to one kind of thing in this statement."""
    slots: list[Slot] = []
    for quantity in scene.quantities:
        if quantity.kind not in ("identifier", "date"):
            continue
        name = _identifier_name(scene, quantity.start, quantity.kind, kind)
        if name and owner(scene, quantity.start, name) == kind:
            slots.append(Slot(name, quantity.start, quantity.end, quantity.value, why=quantity.why))
    return slots


def _identifier_name(scene: Scene, start: int, what: str, kind: str) -> str | None:
    """The attribute whose cue stands nearest before an identifier or a date."""
    wanted = "date" if what == "date" else "identifier"
    best: tuple[int, int, str] | None = None
    for hit in scene.hits:
        entry = hit.entry
        if hit.use != "before" or hit.end > start or start - hit.end > 6 or not isinstance(entry, AttributeEntry):
            continue
        if entry.value != wanted or entry.type != kind:
            continue
        key = (hit.end, hit.end - hit.start, entry.name)
        best = key if best is None or key[:2] > best[:2] else best
    return best[2] if best else None


def owner(scene: Scene, start: int, name: str) -> str:
    """Whether a lot or an expiry is the graft's or an implant's: by what was spoken of last."""
    if name == "tissue_id":
        return "graft"
    if name in ("serial", "reference"):
        return "implant"
    places = [(m.end, "graft" if m.kind in ("tissue", "source") else "implant") for m in scene.mentions
              if m.kind in ("tissue", "source", "implant kind") and m.end <= start]  # fmt: skip
    places += [
        (h.end, "graft")
        for h in scene.hits
        if h.use == "before" and getattr(h.entry, "name", "") == "tissue_id" and h.end <= start and h.end - h.start > 1
    ]
    if places:
        return max(places)[1]
    return "graft" if ({"tissue", "source"} & scene.topics or "graft" in scene.topics) and "implant kind" not in scene.topics else "implant"


def tensionings(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """What was held when a graft was fixed: flexion, load, rotation, pull, cycles."""
    if scene.section in NOT_WORK:
        return []
    slots = list(won(choices, "tensioning", scene.talk.corrected))
    if scene.mode == "holding":
        slots += [from_mention(name, m) for name in ("stress", "rotation") for m in scene.of(name)]
    frames = dealt(scene, "tensioning", slots)
    place(scene, frames, bones=False, structures=structures)
    return frames


def isometries(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """Tests of isometry before a tunnel is drilled."""
    if scene.section in NOT_WORK:
        return []
    slots = list(won(choices, "isometry", scene.talk.corrected)) + [from_mention("result", m) for m in scene.of("isometry result")]
    frames = dealt(scene, "isometry", slots)
    place(scene, frames, bones=False, structures=structures)
    return frames


def incisions(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """Skin incisions with their length."""
    slots = list(won(choices, "incision", scene.talk.corrected))
    if not slots:
        return []
    slots += [
        from_mention("bone", m) for m in scene.of("bone") if OVER & set(scene.between(max(scene.statement.start, m.start - 4), m.start))
    ]
    return [f for f in dealt(scene, "incision", slots) if "length_mm" in f.slots]


def augmentations(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """A proximal tibial attachment, a suture tape laid over a graft or a repair."""
    if scene.section in NOT_WORK or scene.section == "procedures":
        return []
    slots = [from_mention("kind", m) for m in scene.of("augmentation kind")]
    if slots or "augmentation" in scene.topics:
        lengths = [
            s for kind in ("augmentation", "tunnel") for s in won(choices, kind, scene.talk.corrected) if s.attribute == "landmark_mm"
        ]
        slots += lengths + distances(scene, lengths)
    frames = [f for f in dealt(scene, "augmentation", slots) if f.slots]
    place(scene, frames, bones=False, structures=structures)
    return frames


RULES: dict[str, Rule] = {
    "graft": grafts,
    "tunnel": tunnels,
    "implant": implants,
    "tensioning": tensionings,
    "isometry": isometries,
    "incision": incisions,
    "augmentation": augmentations,
}
