"""What can be settled only with all things of the case in view: a tissue named in two ways, the side of the procedures, counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.frames import IDENTIFIERS
from opnote.extract.model import Fact
from opnote.lexicon import Lexicon
from opnote.record.thing import Thing
from opnote.record.tissues import with_tissue

NEVER_USED, PLACE = "opened not used", ("bone", "structure")
TELLING = ("material", "disposition", "expiry", *IDENTIFIERS)  # what is said of an implant only


def settle(things: Sequence[Thing], lexicon: Lexicon) -> tuple[Thing, ...]:
    """The things with tissues, sides and counts settled, without the ones that say nothing of their own."""
    side = operated_side(things)
    settled = (away(sided(with_tissue(counted(led(whole(thing, lexicon), lexicon), things)), side)) for thing in things)
    return tuple(thing for thing in settled if says_something(thing, lexicon) and not is_nowhere(thing, things))


def led(case: Thing, lexicon: Lexicon) -> Thing:
    """A case without the surgeon who is its assistant: who dictates ("this is Doctor Pell") need not be who operated."""
    if case.type != "case":
        return case
    titles = lexicon.words["titles"]
    assistants = {_person(value, titles) for value, _, _ in case.values("assistants")}
    return Thing(case.type, tuple(f for f in case.facts if f.attribute != "surgeon" or _person(f.value, titles) not in assistants))


def _person(name: object, titles: frozenset[str]) -> tuple[str, ...]:
    """A name without titles."""
    return tuple(word for word in str(name).lower().split() if word not in titles)


def is_nowhere(thing: Thing, things: Sequence[Thing]) -> bool:
    """Whether nobody can tell which tunnel is meant: its bone is not known, and there are others of which it is."""
    if thing.type != "tunnel" or thing.values("bone"):
        return False
    return any(other.type == "tunnel" and other.values("bone") for other in things)


def operated_side(things: Sequence[Thing]) -> Fact | None:
    """The first words that tell the operated side, where all of the case agree on it."""
    case = next((thing for thing in things if thing.type == "case"), None)
    if case is None or len(case.values("side")) != 1:
        return None
    return next(fact for fact in case.facts if fact.attribute == "side" and not fact.superseded)


def sided(thing: Thing, side: Fact | None) -> Thing:
    """A procedure without a side of its own is on the operated one, by the words that tell it."""
    if side is None or thing.type != "procedure" or thing.values("side"):
        return thing
    lent = replace(side, frame=-1, type=thing.type, inherited=True, why=("the operated side",))
    return Thing(thing.type, (*thing.facts, lent))


def counted(thing: Thing, things: Sequence[Thing]) -> Thing:
    """An implant whose count tells of its twins too, without the count.

    "Two anchors" that are then read out one by one, each with an identifier of its own, are two and not four; one that did not stay is
    none of them.
    """
    if thing.type != "implant" or not thing.values("count"):
        return thing
    own = [name for name in IDENTIFIERS if thing.values(name)]
    others = [t for t in things if t is not thing and t.type == "implant" and not t.values("disposition")]
    twins = [t for t in others if t.values("kind") & thing.values("kind")]
    if not any(twin.values(name) for twin in twins for name in own):
        return thing
    return Thing(thing.type, tuple(fact for fact in thing.facts if fact.attribute != "count"))


def whole(thing: Thing, lexicon: Lexicon) -> Thing:
    """A thing without the values that say nothing alone: "a centimetre" from a landmark that nobody named."""
    needed = {name: lexicon.attributes[thing.type, name].needs for name in thing.names if (thing.type, name) in lexicon.attributes}
    alone = {name for name, needs in needed.items() if needs and not any(thing.values(other) for other in needs)}
    return Thing(thing.type, tuple(fact for fact in thing.facts if fact.attribute not in alone)) if alone else thing


def away(thing: Thing) -> Thing:
    """What was opened and never used is in no bone and for no ligament, but where it is said for which it was meant."""
    if thing.type != "implant" or (NEVER_USED, None, None) not in thing.values("disposition"):
        return thing
    return Thing(thing.type, tuple(fact for fact in thing.facts if not (fact.inherited and fact.attribute in PLACE)))


def says_something(thing: Thing, lexicon: Lexicon) -> bool:
    """Whether enough was said of a thing to speak of it: a graft of which only the ligament is known was not spoken of.

    An implant needs its kind besides, said or made sure by a material or an identifier: sizes alone may be a bone plug, or a thing
    asked for and never used.
    """
    if thing.type == "implant" and not (thing.said("kind") or (thing.values("kind") and any(thing.said(name) for name in TELLING))):
        return False
    enough = {entry.name for entry in lexicon.of(thing.type) if entry.enough}
    return not enough or any(thing.said(name) for name in enough)
