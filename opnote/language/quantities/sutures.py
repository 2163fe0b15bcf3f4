"""Suture sizes: "two-oh", "2-0", "number two suture", "#2", "0 absorbable". They are no amounts."""

from __future__ import annotations

from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.figures import is_small
from opnote.language.quantities.identifiers import read_numbered
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import read_cardinal
from opnote.language.quantities.units import read_unit

NUMBER_WORDS: Final = frozenset({"number", "#", "no", "size"})
_MATERIALS: Final = v.word_set("nylon silk polyester polyglactin polydioxanone poliglecaprone polypropylene")
_THREAD: Final = _MATERIALS | v.word_set(
    "suture sutures stitch stitches stitched suturing whipstitch whipstitched whipstitches absorbable braided nonabsorbable "
    "monofilament subcuticular thread threads tie ties strength high-strength ethylene locking krackow running"
)
_THREADED_WITH: Final = v.word_set("whipstitched stitched sutured tied closed")
_WINDOW: Final = 6
_USUAL: Final = frozenset({2, 5})
"""Sizes of strong thread that are said without its name: "whipstitched with a number two" (common practice)."""
_AFTER_THREAD: Final = v.word_set("through around round over under as and for from at")


def read_suture_size(atoms: Atoms, place: int) -> Match | None:
    """The suture size at ``place``; a number that only counts off a list ("number one, reconstruction") gives nothing."""
    if atoms[place].word in NUMBER_WORDS:
        return _numbered(atoms, place)
    return _counted(atoms, place) or _zeros(atoms, place) or _zero(atoms, place) or _of_a_material(atoms, place)


def _named(atoms: Atoms, place: int, end: int, size: str) -> Match:
    first, stop = atoms.tokens(place, end)
    return Match(end, (Quantity(first, stop, "suture size", size, why=("suture size",)),))


def _thread_near(atoms: Atoms, place: int, count: int) -> bool:
    """A word for thread within ``count`` words from ``place`` in the same sentence."""
    for word_place in range(place, place + count):
        if atoms[word_place].kind == "stop":
            return False
        if atoms[word_place].word in _THREAD:
            return True
    return False


def _counted(atoms: Atoms, place: int) -> Match | None:
    """As in "six two oh sutures": how many, where their size follows."""
    if atoms[place].kind not in ("digit", "teen", "num") or not is_small(atoms[place + 1]):
        return None
    size = _zeros(atoms, place + 1)
    if size is None or not _thread_near(atoms, size.end, 2):
        return None
    start, end = atoms.tokens(place, place + 1)
    return Match(place + 1, (Quantity(start, end, "number", atoms[place].value, why=("number",)),))


def _zeros(atoms: Atoms, place: int) -> Match | None:
    """As in "two-oh", "2-0", "2/0", "two zero absorbable"."""
    atom = atoms[place]
    if atom.kind == "mixed" and len(atom.word) == 3 and atom.word.endswith("/0") and atom.word[0].isdigit():
        return _named(atoms, place, place + 1, f"{atom.word[0]}-0")
    if not is_small(atom):
        return None
    hyphen = atoms[place + 1].kind == "hyphen"
    zero = atoms[place + 2 if hyphen else place + 1]
    end = place + 3 if hyphen else place + 2
    if read_unit(atoms, end):
        return None  # "nine oh degrees"
    if zero.kind == "oh" and not is_small(atoms[end]):
        return _named(atoms, place, end, f"{int(atom.value)}-0")
    if zero.word in ("0", "zero") and (hyphen or zero.joined or _thread_near(atoms, end, 3)):
        return _named(atoms, place, end, f"{int(atom.value)}-0")
    return None


def _zero(atoms: Atoms, place: int) -> Match | None:
    """As in "0 absorbable", "a zero braided suture"."""
    atom = atoms[place]
    if not (atom.word in ("0", "zero", "nought") or atom.kind == "oh") or not _thread_near(atoms, place + 1, 2):
        return None
    return _named(atoms, place, place + 1, "0")


def _of_a_material(atoms: Atoms, place: int) -> Match | None:
    """As in "a one polyglactin": the article makes it one thread of that size, "one nylon stitch" may be how many."""
    if atoms[place - 1].word != "a" or not is_small(atoms[place]) or atoms[place + 1].word not in _MATERIALS:
        return None
    return _named(atoms, place, place + 1, f"#{int(atoms[place].value)}")


def _numbered(atoms: Atoms, place: int) -> Match | None:
    """As in "number two suture", "size two suture", "#2", "no. 2"."""
    word = atoms[place].word
    start = place + 2 if word == "no" and atoms[place + 1].word == "." else place + 1
    if word == "number" and (identifier := read_numbered(atoms, place)):
        return identifier
    number = read_cardinal(atoms, start)
    if number is None or atoms[number.end].word in v.POINTS:
        return None
    if word == "#" and (zeros := _zeros(atoms, start)):
        return zeros
    single = is_small(atoms[start]) and number.end == start + 1
    if word == "size" and _is_glove(atoms, number.end):
        return Match(number.end)
    threaded = _thread_near(atoms, number.end, _WINDOW) or bool(_THREADED_WITH.intersection(atoms.before(place, 3)))
    if single and (word == "#" or threaded) and (word != "size" or _thread_near(atoms, number.end, 2)):
        return _named(atoms, place, number.end, f"#{int(number.value)}")
    if word == "number" and single and number.value in _USUAL and _stands_for_thread(atoms, place, number.end):
        return _named(atoms, place, number.end, f"#{int(number.value)}")
    return None if word in ("size", "no") else Match(number.end)


def _stands_for_thread(atoms: Atoms, place: int, end: int) -> bool:
    """As in "passed a number two through the tails": one of them, and no other thing is named."""
    return atoms[place - 1].word in ("a", "another") and (atoms[end].kind in ("stop", "comma") or atoms[end].word in _AFTER_THREAD)


def _is_glove(atoms: Atoms, place: int) -> bool:
    return any(word in ("glove", "gloves") for word in atoms.words(place, 4))
