"""Cuts token texts into atoms: fillers go, hyphens inside numbers are remembered, glued tokens come apart."""

from __future__ import annotations

from collections.abc import Sequence

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atom import Atom, Atoms
from opnote.language.quantities.glued import atoms_of_signs

__all__ = ["Atom", "Atoms", "split_atoms"]


def split_atoms(words: Sequence[str]) -> Atoms:
    """The atoms of ``words`` (token texts), in order.

    >>> [(atom.kind, atom.word) for atom in [split_atoms(["7x25", "mm"])[place] for place in range(4)]]
    [('num', '7'), ('by', 'x'), ('num', '25'), ('word', 'mm')]
    """
    pieces: list[Atom] = []
    for place, text in enumerate(words):
        word = text.lower()
        if word == "nil" or "º" in word:
            word = _plain(words, place)
        if word in v.FILLERS or word.isspace():
            if "\n" in word:
                pieces.append(Atom("stop", "\n", 0.0, place, place + 1))
            continue
        if word == "d" and pieces and pieces[-1].word == "i" and pieces[-1].end == place:
            pieces[-1] = Atom("word", "id", 0.0, place - 1, place + 1)  # spaCy cuts "id" in two, taking it for "I'd"
            continue
        kind = v.KINDS.get(word)
        if word in v.PLURAL_DIGITS and _after_tens(pieces):
            kind = ("digit", float(v.PLURAL_DIGITS[word]))
        if word in v.PLURAL_TENS and pieces and pieces[-1].kind == "by":
            kind = ("tens", float(v.PLURAL_TENS[word]))
        if kind is not None:
            pieces.append(Atom(kind[0], word, kind[1], place, place + 1))
        elif word.isalpha():
            pieces.append(Atom("word", word, 0.0, place, place + 1, capitals=text.isupper()))
        else:
            pieces.extend(atoms_of_signs(word, place))
    return Atoms(_drop_joins(pieces))


def _plain(words: Sequence[str], place: int) -> str:
    """A token as it is looked up: in small letters, the sign of an ordinal as that of a degree, "nil to ninety" as zero to ninety."""
    word = words[place].lower().replace("º", "°")
    return "zero" if word == "nil" and place + 1 < len(words) and words[place + 1] == "to" else word


def _after_tens(pieces: list[Atom]) -> bool:
    """The last atom, a hyphen left aside, is "twenty" or another round number of tens: "nine by twenty-fives"."""
    last = pieces[-2:] if pieces and pieces[-1].kind == "hyphen" else pieces[-1:]
    return bool(last) and last[0].kind == "tens"


def _drop_joins(pieces: list[Atom]) -> list[Atom]:
    """Spoken hyphens inside a number phrase are dropped ("thirty-five", "ten-millimetre"); between plain digits they stay."""
    kept: list[Atom] = []
    joined = False
    for place, piece in enumerate(pieces):
        if piece.kind == "hyphen" and 0 < place < len(pieces) - 1 and not _stays(pieces[place - 1], pieces[place + 1]):
            joined = True
            continue
        kept.append(piece._replace(joined=True) if joined else piece)
        joined = False
    return kept


def _stays(before: Atom, after: Atom) -> bool:
    """A hyphen between two numbers that do not make one number is a range or a suture size, not a join."""
    if before.kind in ("num", "mixed") and after.kind in ("num", "mixed"):
        return True
    return before.kind == "digit" and (after.kind == "digit" or (after.kind == "teen" and before.value > v.LAST_SHORT_HUNDRED))
