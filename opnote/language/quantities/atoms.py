"""The smallest readable pieces of a phrase: one token becomes one atom, or several when a recogniser glued them ("7x25", "120mmHg").

Atoms hold the token places they came from, so that whatever is built from them can say which words it stands on. Fillers are
left out and spoken hyphens are remembered as ``joined``; nothing else of the words is thrown away.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.units import is_unit_word


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
        return tuple(self[place + step].word for step in range(count))

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


_NUMBER = r"(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?|\.\d+"
_PLAIN = re.compile(rf"({_NUMBER})$")
_COMMA_DECIMAL = re.compile(r"(\d+),(\d{1,2})$")
_FRACTION = re.compile(r"(\d*)([½¼¾⅛⅜⅝⅞])$|(\d{1,2})/(2|4|8|16)$")
_PAIR = re.compile(rf"({_NUMBER})[x×*]({_NUMBER})([a-zµ°%]*)$")
_SPAN = re.compile(rf"({_NUMBER})[–-]({_NUMBER})([a-zµ°%]*)$")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(am|pm|h)?$")
_DATE = re.compile(r"\d{1,4}[/.]\d{1,2}[/.]\d{2,4}$|\d{1,2}/\d{2,4}$")
_GLUED = re.compile(rf"({_NUMBER})([a-zµ°%]+)$")
_SIGNED = re.compile(rf"([-−–±~≈#+])({_NUMBER})([a-zµ°%]*)$")
_MIXED_AT_END = re.compile(r"[a-z0-9]*\d[a-z0-9]*[a-z]\.$")
_TIMES = re.compile(r"[x×](\d{1,3})$")
_SIGN_WORDS = {"-": "minus", "−": "minus", "–": "minus", "±": "±", "~": "about", "≈": "about", "#": "#", "+": "+"}


def split_atoms(words: Sequence[str]) -> Atoms:
    """The atoms of ``words`` (token texts), in order.

    >>> [(atom.kind, atom.word) for atom in [split_atoms(["7x25", "mm"])[place] for place in range(4)]]
    [('num', '7'), ('by', 'x'), ('num', '25'), ('word', 'mm')]
    """
    pieces: list[Atom] = []
    for place, text in enumerate(words):
        word = text.lower()
        if word in v.FILLERS:
            continue
        if word == "d" and pieces and pieces[-1].word == "i" and pieces[-1].end == place:
            pieces[-1] = Atom("word", "id", 0.0, place - 1, place + 1)  # spaCy cuts "id" in two, taking it for "I'd"
            continue
        kind = v.KINDS.get(word)
        if word in v.PLURAL_DIGITS and _after_tens(pieces):
            kind = ("digit", float(v.PLURAL_DIGITS[word]))
        if kind is not None:
            pieces.append(Atom(kind[0], word, kind[1], place, place + 1))
        elif word.isalpha():
            pieces.append(Atom("word", word, 0.0, place, place + 1, capitals=text.isupper()))
        else:
            pieces.extend(_from_signs(word, place))
    return Atoms(_drop_joins(pieces))


def _after_tens(pieces: list[Atom]) -> bool:
    """The last atom, a hyphen left aside, is "twenty" or another round number of tens: "nine by twenty-fives"."""
    last = pieces[-2:] if pieces and pieces[-1].kind == "hyphen" else pieces[-1:]
    return bool(last) and last[0].kind == "tens"


def _from_signs(word: str, place: int) -> Iterator[Atom]:
    """The atoms of a token that holds digits or signs."""

    def atom(kind: str, name: str, value: float = 0.0) -> Atom:
        return Atom(kind, name, value, place, place + 1)

    if match := _PLAIN.match(word):
        yield atom("num", word.replace(",", ""), _worth(word))
    elif match := _COMMA_DECIMAL.match(word):
        yield atom("num", f"{match[1]}.{match[2]}", float(f"{match[1]}.{match[2]}"))
    elif match := _FRACTION.match(word):
        whole = float(match[1] or 0)
        part = v.FRACTION_SIGNS[match[2]] if match[2] else int(match[3]) / int(match[4])
        yield atom("fraction", word, whole + part)
    elif match := _CLOCK.match(word):
        yield atom("clock", f"{match[1]}:{match[2]}", int(match[1]) * 60.0 + int(match[2]))
        if match[3]:
            yield atom("word", match[3])
    elif _DATE.match(word):
        yield atom("numeric date", word)
    elif match := _PAIR.match(word):
        yield from (atom("num", match[1], _worth(match[1])), atom("by", "x"), atom("num", match[2], _worth(match[2])))
        yield from _tail(match[3], atom("word", match[3]))
    elif match := _SPAN.match(word):
        yield from (atom("num", match[1], _worth(match[1])), atom("hyphen", "-"), atom("num", match[2], _worth(match[2])))
        yield from _tail(match[3], atom("word", match[3]))
    elif match := _SIGNED.match(word):
        yield from (atom("word", _SIGN_WORDS[match[1]]), atom("num", match[2], _worth(match[2])))
        yield from _tail(match[3], atom("word", match[3]))
    elif match := _TIMES.match(word):
        yield from (atom("by", "x"), atom("num", match[1], _worth(match[1])))
    elif match := _GLUED.match(word):
        yield from _glued(match, place)
    elif len(word) == 2 and word[0].isalpha() and word[1] == ".":
        yield from (atom("word", word[0]), atom("stop", "."))  # spaCy keeps "a." and "b." whole
    elif _MIXED_AT_END.match(word):
        yield from (atom("mixed", word[:-1]), atom("stop", "."))
    else:
        yield atom("mixed" if any(sign.isdigit() for sign in word) else "word", word)


def _tail(tail: str, unit: Atom) -> Iterator[Atom]:
    if tail:
        yield unit


def _glued(match: re.Match[str], place: int) -> Iterator[Atom]:
    """A number with letters stuck to it: an ordinal, a unit, am/pm, or part of an identifier."""
    number, letters = match[1], match[2]
    if letters in v.ORDINAL_ENDINGS and number.isdigit():
        yield Atom("ordinal", match[0], float(number), place, place + 1)
    elif letters in v.HALF_DAYS or letters == "yo" or is_unit_word(letters):
        yield Atom("num", number.replace(",", ""), _worth(number), place, place + 1)
        yield Atom("word", letters, 0.0, place, place + 1)
    elif letters == "ish":
        yield Atom("num", number, _worth(number), place, place + 1)
        yield Atom("word", "ish", 0.0, place, place + 1)
    else:
        yield Atom("mixed", match[0], 0.0, place, place + 1)


def _worth(digits: str) -> float:
    return float(digits.replace(",", ""))


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
