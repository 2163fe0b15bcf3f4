"""Identifiers as they are read out: "romeo two two four, dash, zero one three six" after a cue such as "lot number"."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import read_below_hundred
from opnote.language.quantities.units import read_unit

_CUE_WORDS: Final = (
    "lot|lot number|lot no|batch|batch number|serial|serial number|reference|reference number|ref|ref number|catalogue number|"
    "catalog number|tissue id|tissue identifier|tissue number|donor number|donor id|patient number|patient id|hospital number|"
    "chart number|medical record number|record number|mrn|m r n|unit number|graft number|graft id"
)
DEFAULT_IDENTIFIER_CUES: Final[frozenset[tuple[str, ...]]] = frozenset(tuple(cue.split()) for cue in _CUE_WORDS.split("|"))
"""The words after which a run of digits and letters is an identifier; a site's lexicon may give its own."""

_BETWEEN: Final = frozenset({"is", "was", "reads", "says", "number", "no", "id", ":", ",", "#", "code", "it", "'s", "."})
_PHONETIC: Final = {
    "alpha": "A", "alfa": "A", "bravo": "B", "charlie": "C", "delta": "D", "echo": "E", "foxtrot": "F", "golf": "G", "hotel": "H",
    "india": "I", "juliet": "J", "juliett": "J", "kilo": "K", "lima": "L", "mike": "M", "november": "N", "oscar": "O", "papa": "P",
    "quebec": "Q", "romeo": "R", "sierra": "S", "tango": "T", "uniform": "U", "victor": "V", "whiskey": "W", "whisky": "W",
    "xray": "X", "yankee": "Y", "zulu": "Z", "zed": "Z", "zee": "Z",
}  # fmt: skip
_REPEATS: Final = {"double": 2, "triple": 3, "treble": 3}
_SIGNS: Final = {"dash": "-", "hyphen": "-", "-": "-", "slash": "/", "/": "/", "point": ".", "dot": "."}


def find_cue(atoms: Atoms, place: int, cues: Collection[tuple[str, ...]]) -> tuple[str, int] | None:
    """The longest cue at ``place`` and the place after it."""
    longest = max((cue for cue in cues if atoms.words(place, len(cue)) == cue), key=len, default=None)
    return (" ".join(longest), place + len(longest)) if longest else None


def read_identifier(atoms: Atoms, place: int, cue: str) -> Match | None:
    """The identifier after ``cue``, which ended before ``place``; at least three signs with a digit among them."""
    while atoms[place].word in _BETWEEN or atoms[place].kind == "comma":
        place += 1
    start, text = place, ""
    while piece := _piece(atoms, place):
        sign, after = piece
        if text and _begins_amount(atoms, place):
            break
        text += sign
        place = after
    text = text.rstrip("-/.")
    if len(text) < 3 or not any(sign.isdigit() for sign in text):
        return None
    first, end = atoms.tokens(start, place)
    return Match(place, (Quantity(first, end, "identifier", text, why=("identifier", f"cue={cue}")),))


def _piece(atoms: Atoms, place: int) -> tuple[str, int] | None:
    """The signs that one or a few words stand for, and the place after them."""
    atom = atoms[place]
    if atom.kind == "comma":
        return _over_comma(atoms, place)
    if atom.word in _REPEATS:
        doubled = _piece(atoms, place + 1)
        return (doubled[0][:1] * _REPEATS[atom.word] + doubled[0][1:], doubled[1]) if doubled else None
    if atom.word in _SIGNS:
        return _SIGNS[atom.word], place + 1
    if atom.kind == "oh":
        return "0", place + 1
    if atom.kind in ("num", "mixed"):
        return ("-" if atom.joined else "") + atom.word.upper(), place + 1
    if number := read_below_hundred(atoms, place):
        return str(int(number[0])), number[1]
    if atom.word in _PHONETIC:
        return _PHONETIC[atom.word], place + 1
    if len(atom.word) == 1 and atom.word.isalpha() and atom.word not in "ai":
        return atom.word.upper(), place + 1
    return None


def _over_comma(atoms: Atoms, place: int) -> tuple[str, int] | None:
    """A comma is crossed when signs go on after it and what follows is no amount."""
    following = atoms[place + 1]
    if following.word in _SIGNS:
        return _SIGNS[following.word], place + (3 if atoms[place + 2].kind == "comma" else 2)
    if following.kind == "comma" or _begins_amount(atoms, place + 1):
        return None
    piece = _piece(atoms, place + 1)
    if piece is None or (atoms[piece[1]].kind == "word" and _piece(atoms, piece[1]) is None):
        return None
    return piece


def _begins_amount(atoms: Atoms, place: int) -> bool:
    """A number with a unit, or a pair, begins at ``place``."""
    number = read_below_hundred(atoms, place)
    end = number[1] if number else place + 1 if atoms[place].kind == "num" else None
    return end is not None and (atoms[end].kind == "by" or read_unit(atoms, end) is not None)
