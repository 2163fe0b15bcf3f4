"""The smallest readable pieces of a phrase: one token becomes one atom, or several when a recogniser glued them ("7x25", "120mmHg").

Atoms hold the token places they came from, so that whatever is built from them can say which words it stands on. Fillers are
left out and spoken hyphens are remembered as ``joined``; nothing else of the words is thrown away.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple


class Atom(NamedTuple):
    """A piece of the phrase: its kind, its plain word, its worth if it is a number, and tokens ``start`` to ``end``.

    ``joined`` says that a hyphen stood before it, ``capitals`` that it was written in capitals.

    kinds: digit, oh, teen, tens, hundred, thousand (words) · num (digits, maybe with decimals) · fraction · clock · numeric date ·
    ordinal · mixed (digits and letters) · by · hyphen · comma · colon · stop · word.
    """

    kind: str
    word: str
    value: float
    start: int
    end: int
    joined: bool = False
    capitals: bool = False


END = Atom("stop", "", 0.0, -1, -1)


class Atoms:
    """A phrase as atoms; a place outside it reads as the end of a sentence, so readers need no bounds."""

    __slots__ = ("_atoms", "_length")

    def __init__(self, atoms: Sequence[Atom]) -> None:
        self._atoms = (*atoms, END, END, END)
        self._length = len(atoms)

    def __len__(self) -> int:
        return self._length

    def __getitem__(self, place: int) -> Atom:
        return self._atoms[place] if 0 <= place < self._length else END

    def words(self, place: int, count: int) -> tuple[str, ...]:
        """The plain words of ``count`` atoms from ``place``."""
        if 0 <= place <= self._length - count:
            return tuple([atom.word for atom in self._atoms[place : place + count]])
        return tuple([self[place + step].word for step in range(count)])

    def before(self, place: int, count: int) -> tuple[str, ...]:
        """Up to ``count`` plain words of the same sentence before ``place``, the nearest first; commas are passed over."""
        words: list[str] = []
        for earlier in range(place - 1, place - 1 - 2 * count, -1):
            atom = self[earlier]
            if atom.kind == "stop" or len(words) == count:
                break
            if atom.kind != "comma":
                words.append(atom.word)
        return tuple(words)

    def tokens(self, first: int, end: int) -> tuple[int, int]:
        """The token places of atoms ``first`` (included) to ``end`` (excluded)."""
        return self[first].start, self[end - 1].end
