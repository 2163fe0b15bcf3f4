"""Words around a number that make it approximate or a bound: "about", "or so", "up to", "at least"."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from opnote.language.quantities.atoms import Atoms

_APPROXIMATE: Final = (
    "about|approximately|approx|roughly|around|circa|nearly|almost|maybe|perhaps|probably|somewhere around|in the region of|"
    "in the order of|on the order of|more or less|just over|just under|something like"
)
_BOUNDS: Final = {
    "at least": "at least|no less than|not less than|a minimum of|minimum of|not before|no earlier than|no sooner than",
    "at most": "up to|at most|no more than|not more than|a maximum of|maximum of|nothing over|nothing above|nothing beyond|not beyond|"
    "not over|no higher than",
    "above": "more than|greater than|well over|in excess of|over|beyond|upwards of",
    "below": "less than|fewer than",
}
_AFTER: Final = (("or", "so"), ("or", "thereabouts"), ("give", "or", "take"), ("more", "or", "less"), ("and", "a", "bit"), ("ish",))
_BOUNDS_AFTER: Final = {
    ("or", "more"): "at least", ("minimum",): "at least", ("at", "least"): "at least", ("and", "over"): "at least",
    ("or", "less"): "at most", ("or", "fewer"): "at most", ("maximum",): "at most", ("max",): "at most", ("at", "most"): "at most",
}  # fmt: skip
_AFTER_FIRST: Final = frozenset(phrase[0] for phrase in _AFTER)
_AFTER_AT_END: Final = frozenset({"approximately", "roughly", "about", "approx"})
_BETWEEN_NUMBER_AND_UNIT: Final = (("ish",), ("or", "so"), ("odd",))
_BETWEEN_FIRST: Final = frozenset(phrase[0] for phrase in _BETWEEN_NUMBER_AND_UNIT)


def _phrases(spoken: str) -> list[tuple[str, ...]]:
    return [tuple(phrase.split()) for phrase in spoken.split("|")]


def _by_last_word() -> dict[str, list[tuple[tuple[str, ...], str]]]:
    """Last word to (phrase, what it makes of the number), longest first, because a number looks back at them."""
    table: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    meanings = [(phrase, "") for phrase in _phrases(_APPROXIMATE)]
    meanings += [(phrase, bound) for bound, spoken in _BOUNDS.items() for phrase in _phrases(spoken)]
    for phrase, meaning in sorted(meanings, key=lambda entry: -len(entry[0])):
        table.setdefault(phrase[-1], []).append((phrase, meaning))
    return table


_BEFORE: Final = _by_last_word()


@dataclass(frozen=True, slots=True)
class Modifiers:
    """What stands before a number: ``start`` is the first atom of an approximating phrase, ``bound`` the kind of bound."""

    start: int
    approximate: bool = False
    bound: str | None = None


def read_before(atoms: Atoms, place: int) -> Modifiers:
    """The modifier that ends right before ``place``."""
    for phrase, bound in _BEFORE.get(atoms[place - 1].word, ()):
        start = place - len(phrase)
        if start >= 0 and atoms.words(start, len(phrase)) == phrase:
            return Modifiers(place, bound=bound) if bound else Modifiers(start, approximate=True)
    return Modifiers(place)


def bound_after(atoms: Atoms, place: int) -> str | None:
    """The kind of bound that follows an amount at ``place``: "six weeks or more", "forty minutes max"; "more or less" is none."""
    return next((bound for words, bound in _BOUNDS_AFTER.items() if atoms.words(place, len(words)) == words), None)


def skip_after(atoms: Atoms, place: int) -> int:
    """The place after "or so" and its like at ``place``; ``place`` itself when there is none."""
    if atoms[place].word in _AFTER_FIRST:
        for phrase in _AFTER:
            if atoms.words(place, len(phrase)) == phrase:
                return place + len(phrase)
    comma = 1 if atoms[place].kind == "comma" else 0
    if atoms[place + comma].word in _AFTER_AT_END and atoms[place + comma + 1].kind in ("stop", "comma"):
        return place + comma + 1
    return place


def skip_before_unit(atoms: Atoms, place: int) -> int:
    """The place after "ish", "or so", "odd" between a number and its unit."""
    if atoms[place].word not in _BETWEEN_FIRST:
        return place
    for phrase in _BETWEEN_NUMBER_AND_UNIT:
        if atoms.words(place, len(phrase)) == phrase:
            return place + len(phrase)
    return place
