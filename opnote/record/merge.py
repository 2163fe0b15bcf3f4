"""Joins the frames that are one thing: what is said of it in several places becomes one entity."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from opnote.extract.frames import IDENTIFIERS, ONE_MORE
from opnote.extract.model import Fact
from opnote.lexicon import Lexicon
from opnote.record.thing import Thing, Worth
from opnote.record.tissues import another_tissue

Names = frozenset[str]
TUNNEL, GRAFT, IMPLANT, TISSUE = "tunnel", "graft", "implant", "tissue"
LEFT_OPEN = frozenset({"disposition", "structure"})  # what does not tell which implant is meant
ROOT = "meniscus root"
SIZES = ("diameter_mm", "length_mm")


@dataclass(frozen=True, slots=True)
class Apart:
    """The attributes of one type in which two things differ: where both say them, or always."""

    when_said: Names = frozenset()
    always: Names = frozenset()


def told_apart(lexicon: Lexicon) -> dict[str, Apart]:
    """What tells the things of each type apart, from the attribute table."""
    marked = [entry for entry in lexicon.attributes.values() if entry.tells_apart]

    def names(kind: str, when: str) -> Names:
        return frozenset(entry.name for entry in marked if (entry.type, entry.tells_apart) == (kind, when))

    return {kind: Apart(names(kind, "when said"), names(kind, "always")) for kind in dict.fromkeys(entry.type for entry in marked)}


def merge(facts: Iterable[Fact], lexicon: Lexicon, *, addenda: Collection[str] = ()) -> tuple[Thing, ...]:
    """The things of a record, in the order in which they were first spoken of.

    "A nine by twenty interference screw in the tibia", and later "the tibial screw had lot K 41 72", are one implant. ``addenda`` are
    the ids of sources that correct earlier ones: what is taken back there ("nine, not eight") names the thing that was said before.
    """
    frames = _frames(facts)
    apart = _for_grafts(told_apart(lexicon), [frame for _, frame in frames])
    things: list[Thing] = []
    for source, frame in frames:
        place = identical(frame, things, apart.get(frame.type, Apart()), correcting=source in addenda)
        if place is None:
            things.append(frame)
        else:
            things[place] = _joined(things[place], frame)
    return tuple(things)


def _for_grafts(apart: dict[str, Apart], frames: Sequence[Thing]) -> dict[str, Apart]:
    """Where several ligaments have a graft its tissue tells it apart; of the only graft a second tissue is a contradiction."""
    ligaments = {value for frame in frames if frame.type == GRAFT for value in frame.values("structure")}
    if len(ligaments) < 2 or GRAFT not in apart:
        return apart
    return {**apart, GRAFT: replace(apart[GRAFT], when_said=apart[GRAFT].when_said | {TISSUE})}


def _joined(thing: Thing, frame: Thing) -> Thing:
    """A thing with what another mention says of it; what was only lent to the mention adds nothing to what is known already."""
    new = (fact for fact in frame.facts if not (fact.inherited and thing.values(fact.attribute)))
    return Thing(thing.type, (*thing.facts, *new))


def _frames(facts: Iterable[Fact]) -> list[tuple[str, Thing]]:
    """The facts of each mention of a thing, as a thing of its own, with the source it stands in."""
    frames: dict[tuple[str, int], list[Fact]] = {}
    for fact in facts:
        frames.setdefault((fact.source, fact.frame), []).append(fact)
    return [(source, Thing(said[0].type, tuple(said))) for (source, _), said in frames.items()]


def identical(frame: Thing, things: Sequence[Thing], apart: Apart, *, correcting: bool = False) -> int | None:
    """The place of the thing that a frame speaks of again: of several the one that says most of the same, the later of equals.

    A correction that could be of either of two equals is of neither, and so is a tunnel of which the bone is not known; what became
    of an implant that is not named ("it came out") is of none that was named elsewhere.
    """
    if frame.type == "case":
        return next((place for place, thing in enumerate(things) if thing.type == "case"), None)
    fitting = [
        (affinity(frame, thing), place)
        for place, thing in enumerate(things)
        if thing.type == frame.type and fits(frame, thing, apart, correcting=correcting)
    ]
    best = sorted(fitting)[-2:]
    if frame.type == TUNNEL and not frame.values("bone") and len(best) > 1:
        return None
    if not best or (correcting and len(best) == 2 and best[0][0] == best[1][0]):
        return None
    return best[-1][1]


def fits(frame: Thing, thing: Thing, apart: Apart, *, correcting: bool = False) -> bool:
    """Whether nothing that tells things apart differs, and enough is the same to call them one."""
    if any(not _alike(frame, thing, name, correcting=correcting) for name in apart.always):
        return False
    if any(_differs(frame, thing, name, correcting=correcting) for name in apart.when_said):
        return False
    if frame.type == IMPLANT and (_one_of_a_root(frame, thing) or any(ONE_MORE in fact.why for fact in frame.facts)):
        return False
    if frame.type == IMPLANT and (set(frame.names) <= LEFT_OPEN) != (set(thing.names) <= LEFT_OPEN):
        return False
    return frame.type != IMPLANT or _same_implant(frame, thing, correcting=correcting)


def _one_of_a_root(frame: Thing, thing: Thing) -> bool:
    """Whether one of two implants is told to be a meniscal root's and the other is a ligament's, even if the talk around lent it that."""
    mine, other = frame.values("structure"), thing.values("structure")
    roots = [any(str(value).endswith(ROOT) for value, *_ in values) for values in (mine, other)]
    return bool(mine and other) and roots[0] != roots[1]


def _alike(frame: Thing, thing: Thing, name: str, *, correcting: bool) -> bool:
    corrected = correcting and bool(frame.taken_back(name)) and frame.taken_back(name) == thing.values(name)
    return corrected or frame.values(name) == thing.values(name)


def _meant(frame: Thing, name: str, *, correcting: bool) -> frozenset[Worth]:
    """The values by which a frame can speak of a thing: what it says and, in an addendum, what it takes back."""
    return frame.values(name) | frame.taken_back(name) if correcting else frame.values(name)


def _differs(frame: Thing, thing: Thing, name: str, *, correcting: bool) -> bool:
    if name == TISSUE:
        return another_tissue(frame, thing) and not frame.said("structure") & thing.said("structure")
    mine, other = _meant(frame, name, correcting=correcting), thing.values(name)
    return bool(mine and other) and mine.isdisjoint(other) and not _may_yield(frame, thing, name)


def _may_yield(frame: Thing, thing: Thing, name: str) -> bool:
    """Whether a difference does not count because the words around lent it to one of the two."""
    if frame.said(name) and thing.said(name):
        return False
    if name == "structure":  # what is known of a screw may come in pieces; a tunnel or a fixation of another ligament is another thing
        return frame.type == "implant" or (frame.type == GRAFT and bool(frame.said(TISSUE) & thing.said(TISSUE)))
    one_said = bool(frame.said(name)) != bool(thing.said(name))
    return name == "bone" and frame.type == "implant" and (one_said or not (_sized(frame) and _sized(thing)))


def _same_implant(frame: Thing, thing: Thing, *, correcting: bool) -> bool:
    """Whether two mentions that do not differ are one implant: by an identifier, by the diameter, or because only one tells a size.

    A screw of which only the length is known need not be the one whose diameter was said.
    """
    if any(frame.values(name) & thing.values(name) for name in IDENTIFIERS):
        return True
    if not _named(frame) and not _named(thing):
        return set(frame.names) == set(thing.names)
    if not (_named(frame) and _named(thing)):
        return False
    if not (_sized(frame) and _sized(thing)):
        return True
    return bool(_meant(frame, "diameter_mm", correcting=correcting) & thing.values("diameter_mm"))


def _named(thing: Thing) -> bool:
    """Whether a thing is called something or has a size: a lot or a fate alone may be anything's."""
    return bool(thing.values("kind")) or _sized(thing)


def _sized(thing: Thing) -> bool:
    return any(thing.values(size) for size in SIZES)


def affinity(frame: Thing, thing: Thing) -> int:
    """How many attributes say the same."""
    return sum(not frame.values(name).isdisjoint(thing.values(name)) for name in frame.names)
