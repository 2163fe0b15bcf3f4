"""Turns what language found into slots: quantities by the linker's choice, terms by the vocabulary they belong to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.frames import Slot
from opnote.extract.model import LEADS, Candidate, Choice, Scalar
from opnote.extract.readings import fitting
from opnote.extract.scene import Scene, apart
from opnote.language.model import Quantity
from opnote.language.terms import Mention

COUNTED = ("count", "cycles")  # attributes that are whole numbers
REAMED = ("tunnel", "diameter_mm")  # said as a range, it was reamed in steps


def won(scene: Scene, choices: Sequence[Choice], kind: str) -> list[Slot]:
    """The slots that the linker's choices give to one kind of thing, with the values they replaced."""
    return [
        slot
        for choice in choices
        if choice.won is not None and choice.won.type == kind
        for slot in _chosen(scene, choice.quantity, kind, choice.won.attribute, _why(choice, choice.won))
    ]


def _why(choice: Choice, candidate: Candidate) -> tuple[str, ...]:
    """What tied a quantity to its attribute: the score, and where it did not win by that what did."""
    return (f"score {candidate.score:.2f}", *(() if choice.why == LEADS else (choice.why,)))


def _chosen(scene: Scene, quantity: Quantity, kind: str, attribute: str, why: tuple[str, ...]) -> list[Slot]:
    second = scene.lexicon.things[kind].second
    quantity = fitting(quantity, scene.lexicon.attributes[kind, attribute], scene.lexicon)
    old = [
        slot
        for corrected in scene.talk.corrected
        if isinstance(corrected.old, Quantity) and (corrected.new.start, corrected.new.end) == (quantity.start, quantity.end)
        for slot in from_quantity(kind, attribute, corrected.old, second=second)
        if slot.attribute == attribute
    ]
    return from_quantity(kind, attribute, quantity, second=second, why=why, old=tuple(old))


def from_quantity(
    kind: str, attribute: str, quantity: Quantity, *, second: str = "", why: tuple[str, ...] = (), old: tuple[Slot, ...] = ()
) -> list[Slot]:
    """The slots of a quantity: two for a pair ("seven by twenty three"), the second filling the attribute ``second``."""
    if quantity.kind != "pair":
        return [_slot(kind, attribute, quantity, quantity, why, old)]
    names = (attribute, second)
    return [_slot(kind, name, part, quantity, why, ()) for name, part in zip(names, quantity.parts, strict=True)]


def _slot(kind: str, name: str, part: Quantity, whole: Quantity, why: tuple[str, ...], old: tuple[Slot, ...]) -> Slot:
    value, low, high = part.value, part.low, part.high
    if (kind, name) == REAMED and high is not None:  # "from eight to nine and a half": the last step stands
        value, low, high = high, None, None
    approximate = part.approximate or whole.approximate
    return Slot(
        name, whole.start, whole.end, _whole(name, value, part), low, high, part.unit, part.said, approximate,
        why=(*why, *part.why), superseded=old, readings=part.readings,
    )  # fmt: skip


def _whole(name: str, value: float | str | None, part: Quantity) -> Scalar | None:
    """A count as a whole number."""
    counts = name in COUNTED and part.kind == "number" and isinstance(value, float) and value.is_integer()
    return int(value) if counts and isinstance(value, float) else value


def from_mention(attribute: str, mention: Mention) -> Slot:
    """The slot of a term."""
    return Slot(attribute, mention.start, mention.end, mention.value, why=(f"term {mention.term}",))


def mentioned(scene: Scene, attribute: str, kind: str) -> Iterator[Slot]:
    """The slots of an attribute that every mention of a vocabulary fills."""
    return (from_mention(attribute, mention) for mention in scene.of(kind))


def as_said(scene: Scene, mention: Mention) -> Slot:
    """The slot of a result, in the speaker's own word where the term only gathers synonyms ("symmetrical", "absent")."""
    words = " ".join(scene.between(mention.start, mention.end))
    value = words if mention.value in scene.words_of("kept-as-worded") else mention.value
    return Slot("result", mention.start, mention.end, value, why=(f"term {mention.term}",))


def near(scene: Scene, kind: str, mention: Mention) -> int | None:
    """Words between a mention and the nearest word that brings a kind of thing up; None when the statement has none."""
    return min((apart(mention, anchor) for anchor in scene.anchors[kind]), default=None)
