"""Single pieces of an identifier read aloud: figures, spoken numbers, letters, phonetic letters, "double four", "dash"."""

from __future__ import annotations

from typing import Final, NamedTuple

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atom, Atoms
from opnote.language.quantities.figures import read_below_hundred
from opnote.language.quantities.numbers import read_cardinal
from opnote.language.quantities.units import is_unit_word

PHONETIC: Final = {
    "alpha": "A", "alfa": "A", "bravo": "B", "charlie": "C", "delta": "D", "echo": "E", "foxtrot": "F", "golf": "G", "hotel": "H",
    "india": "I", "juliet": "J", "juliett": "J", "kilo": "K", "lima": "L", "mike": "M", "november": "N", "oscar": "O", "papa": "P",
    "quebec": "Q", "romeo": "R", "sierra": "S", "tango": "T", "uniform": "U", "victor": "V", "whiskey": "W", "whisky": "W", "xray": "X",
    "yankee": "Y", "zulu": "Z", "zed": "Z", "zee": "Z",
}  # fmt: skip
"""The spelling alphabet of ITU Radio Regulations appendix 14, and both names of the last letter."""

REPEATS: Final = {"double": 2, "triple": 3, "treble": 3}
SIGNS: Final = {
    "dash": "-",
    "hyphen": "-",
    "slash": "/",
    "stroke": "/",
    "/": "/",
    "point": ".",
    "dot": ".",
    "underscore": "_",
    "colon": ":",
}
_ANNOUNCE: Final = v.word_set("capital letter uppercase lowercase small")
_BEFORE_SIGNS: Final = frozenset({*PHONETIC, *REPEATS, *_ANNOUNCE})
_EXCLAIM: Final = v.word_set("and i no yes wait sorry hang yeah well what also that it we god")
"""Words after which a trailing "oh" was an exclamation and no zero."""


_VOWELS: Final = frozenset("aeiouy")


class Piece(NamedTuple):
    """The signs one or a few words stand for, and the place after them."""

    signs: str
    end: int


def read_piece(atoms: Atoms, place: int) -> Piece | None:
    """The piece of an identifier at ``place``; commas, and whether the identifier ends there, are the caller's business."""
    atom = atoms[place]
    if atom.word in REPEATS:
        repeated = read_piece(atoms, place + 1) if atoms[place + 1].word not in REPEATS else None
        return Piece(repeated.signs[:1] * (REPEATS[atom.word] - 1) + repeated.signs, repeated.end) if repeated else None
    if atom.word in ("forward", "back") and atoms[place + 1].word == "slash":
        return Piece("/" if atom.word == "forward" else "\\", place + 2)
    if atom.kind == "hyphen":
        return Piece("-", place + 1)
    if atom.word in SIGNS:
        return Piece(SIGNS[atom.word], place + 1)
    if atom.kind == "oh":
        return None if _exclaimed(atoms, place) else Piece("0", place + 1)
    if atom.kind in ("num", "mixed"):
        return Piece(_dash(atoms, place) + atom.word.upper(), place + 1)
    return _spoken_number(atoms, place) or _letter(atoms, place)


def _exclaimed(atoms: Atoms, place: int) -> bool:
    return atoms[place + 1].word in _EXCLAIM


def _dash(atoms: Atoms, place: int) -> str:
    """The hyphen that joined this token to the one before; hyphens inside spoken numbers are none."""
    before = atoms[place - 1].kind
    return "-" if atoms[place].joined and (before in ("num", "mixed") or len(atoms[place - 1].word) == 1) else ""


def _spoken_number(atoms: Atoms, place: int) -> Piece | None:
    """As in "nineteen" is 19, "forty two" is 42, "eight hundred and eighty four" is 884."""
    below = read_below_hundred(atoms, place)
    if below is None:
        return None
    value, end = below
    if atoms[end].kind in ("hundred", "thousand") and value > 0 and (whole := read_cardinal(atoms, place)):
        return Piece(str(int(whole.value)), whole.end)
    return Piece(str(int(value)), end)


def _letter(atoms: Atoms, place: int) -> Piece | None:
    atom = atoms[place]
    if atom.word in _ANNOUNCE:
        return _letter(atoms, place + 1)
    if atom.word in PHONETIC:
        return Piece(PHONETIC[atom.word], place + 1)
    if atom.kind == "word" and _is_letter_group(atoms, place):
        return Piece(_dash(atoms, place) + atom.word.upper(), place + 1)
    if len(atom.word) != 1 or not atom.word.isalpha():
        return None
    if atom.word == "x" and atoms[place + 1].word == "ray":
        return Piece("X", place + 2)
    end = _over_example(atoms, place, atom)
    if end == place + 1 and atom.word in "ai" and not _goes_on(atoms[end], article=atom.word == "a"):
        return None
    return Piece(_dash(atoms, place) + atom.word.upper(), end)


def _is_letter_group(atoms: Atoms, place: int) -> bool:
    """As in "BR 55102": two to four capitals, or consonants alone, before figures."""
    atom, after = atoms[place], atoms[place + 1]
    figures = after.kind in ("num", "mixed", "hyphen", "digit", "oh")
    if not (figures and 2 <= len(atom.word) <= 4 and atom.word.isalpha()):
        return False
    return atom.capitals or (not _VOWELS.intersection(atom.word) and not is_unit_word(atom.word))


def _over_example(atoms: Atoms, place: int, letter: Atom) -> int:
    """The place after "as in boy" or "for bravo" behind a letter."""
    words = atoms.words(place + 1, 3)
    if words[:2] == ("as", "in") and words[2].startswith(letter.word):
        return place + 4
    if words[0] == "for" and words[1].startswith(letter.word) and len(words[1]) > 1 and atoms[place + 2].kind == "word":
        return place + 3
    return place + 1


def _goes_on(following: Atom, *, article: bool) -> bool:
    """As in "a" and "i" are letters where figures follow, and "a" also where the identifier ends."""
    if following.kind in ("num", "mixed", "digit", "oh", "teen", "tens") or following.word in _BEFORE_SIGNS:
        return True
    if (following.kind == "by" and following.word == "x") or (len(following.word) == 1 and following.kind == "word"):
        return True
    return (article and following.kind in ("stop", "comma", "hyphen")) or following.word in ("dash", "hyphen", "slash")
