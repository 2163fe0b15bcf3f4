"""Turns what language found into slots: quantities by the linker's choice, terms by the vocabulary they belong to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.frames import Slot
from opnote.extract.linker import anchors
from opnote.extract.model import Choice
from opnote.extract.scene import Scene
from opnote.language.corrections import Corrected
from opnote.language.model import Quantity
from opnote.language.talk import Talk
from opnote.language.terms import Mention

SECOND = {"implant": "length_mm", "tunnel": "depth_mm", "graft": "plug_length_mm"}
GATHERED = frozenset({"symmetric", "torn", "attenuated"})  # results whose synonyms differ in shade: the note keeps the word
EXPAND = {"both menisci": ("medial meniscus", "lateral meniscus"), "varus and valgus": ("varus stress", "valgus stress")}


def from_quantity(attribute: str, quantity: Quantity, *, kind: str = "", why: tuple[str, ...] = (), old: Sequence[Slot] = ()) -> list[Slot]:
    """The slots of a quantity: two for a pair ("seven by twenty three"), the second by the kind of thing."""
    if quantity.kind == "pair" and len(quantity.parts) == 2:
        first, second = quantity.parts
        names = (attribute, SECOND.get(kind, "length_mm"))
        return [_slot(name, part, quantity, why, (), kind) for name, part in zip(names, (first, second), strict=True)]
    return [_slot(attribute, quantity, quantity, why, tuple(old), kind)]


def _slot(name: str, part: Quantity, whole: Quantity, why: tuple[str, ...], old: tuple[Slot, ...], kind: str) -> Slot:
    value, low, high = part.value, part.low, part.high
    if (
        name == "diameter_mm" and kind == "tunnel" and high is not None
    ):  # reamed in steps ("from eight to nine and a half"): the last one stands
        value, low, high = high, None, None
    if part.kind == "number" and isinstance(value, float) and name in ("count", "cycles"):
        value = int(value) if value == int(value) else value
    return Slot(
        name, whole.start, whole.end, value, low, high, part.unit, part.said, part.approximate or whole.approximate,
        why=(*why, *part.why), superseded=old,
    )  # fmt: skip


def won(choices: Sequence[Choice], kind: str, corrected: Sequence[Corrected]) -> Iterator[Slot]:
    """The slots that the linker's choices give to one kind of thing, with the values they replaced."""
    for choice in choices:
        if choice.won is None or choice.won.type != kind:
            continue
        old = [
            slot
            for c in corrected
            if isinstance(c.old, Quantity) and (c.new.start, c.new.end) == (choice.quantity.start, choice.quantity.end)
            for slot in from_quantity(choice.won.attribute, c.old, kind=kind)
            if slot.attribute == choice.won.attribute
        ]
        yield from from_quantity(choice.won.attribute, choice.quantity, kind=kind, why=(f"score {choice.won.score:.2f}",), old=old)


def as_said(talk: Talk, mention: Mention) -> Slot:
    """The slot of a result in the speaker's own word where the term only gathers synonyms ("symmetrical", "absent")."""
    words = " ".join(talk.words[mention.start : mention.end])
    return from_mention("result", mention, value=words if mention.value in GATHERED else None)


def from_mention(attribute: str, mention: Mention, *, value: str | None = None) -> Slot:
    """The slot of a term."""
    return Slot(attribute, mention.start, mention.end, value or mention.value, why=(f"term {mention.term}",))


def near(scene: Scene, kind: str, mention: Mention) -> int | None:
    """Words between a mention and the nearest word that brings a kind of thing up; None when the statement has none."""
    places = anchors(scene, kind)
    return min((max(start - mention.end, mention.start - end, 0) for start, end in places), default=None)
