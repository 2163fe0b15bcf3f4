"""Numbers that are no amounts: suture sizes, ages, ordinals, rooms, levels, phone numbers, years, "this one"."""

from __future__ import annotations

from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import is_small, read_cardinal

_PLACES: Final = v.word_set("theatre theater room or bay bed table zone level layer layers portal port step stage type class option")
_BEFORE_ONE: Final = v.word_set("this that the which another each every any no other first last next same old new")
_AFTER_ONE: Final = v.word_set("of end side hand more another is was way thing")
_SUTURE_WORDS: Final = v.word_set("suture sutures stitch stitches absorbable braided nonabsorbable monofilament nylon")


def read_no_quantity(atoms: Atoms, place: int) -> Match | None:
    """A number at ``place`` that must not be taken for an amount."""
    for reader in (_suture_size, _age, _ordinal, _place_number, _pronoun_one):
        match = reader(atoms, place)
        if match is not None:
            return match
    return None


def _suture_size(atoms: Atoms, place: int) -> Match | None:
    """ "two-oh", "2-0", "number two suture", "#2", "0 absorbable"."""
    atom = atoms[place]
    if is_small(atom):
        step = 2 if atoms[place + 1].kind == "hyphen" else 1
        zero = atoms[place + step]
        if (zero.kind == "oh" or (step == 2 and zero.word == "0")) and not is_small(atoms[place + step + 1]):
            return _named(atoms, place, place + step + 1, f"{int(atom.value)}-0")
    if (atom.word in ("number", "#") or atom.word == "no") and is_small(atoms[place + 1]):
        return _named(atoms, place, place + 2, f"#{int(atoms[place + 1].value)}")
    if (atom.word in ("0", "zero", "nought") or atom.kind == "oh") and _suture_word_near(atoms, place + 1):
        return _named(atoms, place, place + 1, "0")
    return None


def _suture_word_near(atoms: Atoms, place: int) -> bool:
    return any(word in _SUTURE_WORDS for word in atoms.words(place, 3))


def _named(atoms: Atoms, place: int, end: int, size: str) -> Match:
    first, stop = atoms.tokens(place, end)
    return Match(end, (Quantity(first, stop, "suture size", size, why=("suture size",)),))


def _age(atoms: Atoms, place: int) -> Match | None:
    """ "thirty eight year old", "31 years of age"."""
    number = read_cardinal(atoms, place)
    if number is None or atoms[number.end].word not in ("year", "years"):
        return None
    after = atoms[number.end + 1].word
    if after != "old" and atoms.words(number.end + 1, 2) != ("of", "age"):
        return None
    end = number.end + (2 if after == "old" else 3)
    first, stop = atoms.tokens(place, end)
    return Match(end, (Quantity(first, stop, "age", number.value, unit="a", why=("age",)),))


def _ordinal(atoms: Atoms, place: int) -> Match | None:
    atom = atoms[place]
    worth = int(atom.value) if atom.kind == "ordinal" else v.ORDINALS.get(atom.word)
    if worth is None:
        return None
    first, stop = atoms.tokens(place, place + 1)
    return Match(place + 1, (Quantity(first, stop, "ordinal", float(worth), why=("ordinal",)),))


def _place_number(atoms: Atoms, place: int) -> Match | None:
    """ "theatre four", "zone two", "level three"."""
    if atoms[place].word not in _PLACES:
        return None
    number = read_cardinal(atoms, place + 1)
    return Match(number.end) if number else None


def _pronoun_one(atoms: Atoms, place: int) -> Match | None:
    """ "this one", "one of them", "at one end"."""
    if atoms[place].word != "one":
        return None
    if atoms[place - 1].word in _BEFORE_ONE or atoms[place + 1].word in _AFTER_ONE:
        return Match(place + 1)
    return None
