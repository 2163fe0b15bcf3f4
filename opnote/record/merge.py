"""Joins the frames that are one thing: what is said of it in several places becomes one entity."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from opnote.extract.model import Fact

DISTINCT = {  # attributes that tell two things of a kind apart when both are said and differ
    "procedure": ("structure", "action"),
    "graft": ("structure",),
    "tunnel": ("bone", "structure", "landmark"),
    "implant": ("kind", "bone", "structure", "diameter_mm", "length_mm", "material", "lot", "serial", "reference", "disposition"),
    "tensioning": ("structure",),
    "isometry": ("structure",),
    "augmentation": ("structure", "kind"),
    "finding": ("exam", "phase", "structure", "flexion_deg"),
    "incision": ("bone", "length_mm"),
    "postop": ("item", "value", "low_deg", "high_deg", "from_weeks"),
    "event": ("name",),
}
EXACT = frozenset({"finding", "postop", "event", "procedure", "augmentation"})  # the labels must be the same, absent ones included
SIZES = frozenset({"diameter_mm", "length_mm"})


@dataclass
class Thing:
    """All facts of one entity, in the order they were said."""

    type: str
    facts: list[Fact] = field(default_factory=list)

    def values(self, name: str, *, said_only: bool = False) -> set[object]:
        """The values of an attribute that stand (not those taken back)."""
        return {
            (f.value, f.low, f.high)
            for f in self.facts
            if f.attribute == name and not f.superseded and not (said_only and f.inherited)
        }  # fmt: skip

    @property
    def names(self) -> set[str]:
        """The attributes that something standing was said of."""
        return {f.attribute for f in self.facts if not f.superseded}


def merge(facts: Iterable[Fact]) -> list[Thing]:
    """The things of a record, in the order in which they were first spoken of."""
    frames: dict[tuple[str, int], Thing] = {}
    for fact in facts:
        frames.setdefault((fact.source, fact.frame), Thing(fact.type)).facts.append(fact)
    things: list[Thing] = []
    for frame in frames.values():
        same = identical(frame, things)
        if same is None:
            things.append(frame)
        else:
            same.facts += frame.facts
    return things


def identical(frame: Thing, things: Sequence[Thing]) -> Thing | None:
    """The thing that a frame speaks of again, if any."""
    if frame.type == "case":
        return next((t for t in things if t.type == "case"), None)
    fitting = [t for t in things if t.type == frame.type and fits(frame, t)]
    if not fitting:
        return None
    return max(enumerate(fitting), key=lambda pair: (affinity(frame, pair[1]), pair[0]))[1]


def fits(frame: Thing, thing: Thing) -> bool:
    """Whether nothing that tells things apart differs, and enough is the same to call them one."""
    names = DISTINCT.get(frame.type, ())
    if frame.type in EXACT:
        return all(frame.values(name) == thing.values(name) for name in names)
    for name in names:
        mine, other = frame.values(name), thing.values(name)
        if mine and other and not mine & other and not _may_yield(frame, thing, name):
            return False
    if frame.type == "implant":
        return _same_implant(frame, thing)
    return True


def _may_yield(frame: Thing, thing: Thing, name: str) -> bool:
    """Whether a difference does not count because the words around lent it to one of the two."""
    if not _lent(frame, thing, name):
        return False
    if name == "structure":  # what is known of a screw may come in pieces; a tunnel or a fixation of another ligament is another thing
        return frame.type == "implant" or len(thing.values(name) | frame.values(name)) < 2
    sized = bool(frame.names & SIZES and thing.names & SIZES)
    one_said = bool(frame.values(name, said_only=True)) != bool(thing.values(name, said_only=True))
    return name == "bone" and frame.type == "implant" and (not sized or one_said)


def _lent(frame: Thing, thing: Thing, name: str) -> bool:
    """Whether one of the two only borrowed the attribute from the words around."""
    return not frame.values(name, said_only=True) or not thing.values(name, said_only=True)


def _same_implant(frame: Thing, thing: Thing) -> bool:
    """Same size, or same identifier, or the same kind in the same bone with the size said only once."""
    for name in ("lot", "serial", "reference"):
        if frame.values(name) & thing.values(name):
            return True
    sized = [bool(t.values("diameter_mm") or t.values("length_mm")) for t in (frame, thing)]
    if all(sized):
        return bool(frame.values("diameter_mm") & thing.values("diameter_mm"))
    kinds = not frame.values("kind") or not thing.values("kind") or frame.values("kind") & thing.values("kind")
    return bool(kinds) and not ({"lot"} <= frame.names and {"lot"} <= thing.names)


def affinity(frame: Thing, thing: Thing) -> int:
    """How many attributes say the same."""
    return sum(bool(frame.values(name) & thing.values(name)) for name in frame.names)
