"""Grades: "grade two", "two plus", "grade three a", "II", "grade one to two"."""

from __future__ import annotations

import re
from typing import Final, NamedTuple

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.counted import noun_after
from opnote.language.quantities.figures import is_small
from opnote.language.quantities.match import Match
from opnote.language.quantities.spelling import PHONETIC
from opnote.language.quantities.units import read_unit

CUES: Final = v.word_set("grade grades graded outerbridge icrs lawrence")
"""The word "grade" and the classifications after whose names a grade stands alone ("Outerbridge four", "Kellgren and Lawrence two")."""
_NUMERAL: Final = v.word_set("roman numeral")
_ROMAN: Final = {"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5}
_JOINTS: Final = v.word_set("to or stroke slash /")
_STROKED: Final = re.compile(r"(\d)/(\d)$")
_HIGHEST, _HIGHEST_WITHOUT_CUE = 5, 4
_LETTERS: Final = frozenset("abcd")
_FELT: Final = v.word_set("soft firm hard solid good definite clear")
_ARTICLES: Final = v.ARTICLES | {"the", "another"}
_AFTER_A: Final = v.word_set("tear lesion injury laxity lachman opening with and on at of")
"""What may follow "three a" so that the "a" belongs to the grade and is no article."""


class _Grade(NamedTuple):
    number: int
    suffix: str
    end: int

    @property
    def text(self) -> str:
        return f"{self.number}{self.suffix}"


def read_grade(atoms: Atoms, place: int) -> Match | None:
    """The grade at ``place``, with or without the word "grade"."""
    if atoms[place].word == "between":
        match = read_grade(atoms, place + 1)
        return match if match and match.quantities[0].low is not None else None
    cue = _is_cue(atoms, place)
    if cue and (stroke := _stroked(atoms, place)):
        return stroke
    first = _grade(atoms, _over_numeral(atoms, place + 1) if cue else place, cue=cue)
    if first is None:
        return None
    joint = atoms[first.end]
    alone = not (cue or first.suffix or joint.kind == "hyphen" or joint.word in _JOINTS or joint.word == "and")
    match = None if alone else _with_second(atoms, place, first, cue=cue)
    if match is None and (cue or first.suffix):
        return Match(first.end, (_quantity(atoms, place, first),))
    return match


def _is_cue(atoms: Atoms, place: int) -> bool:
    word = atoms[place].word
    return word in CUES and (word != "lawrence" or "kellgren" in atoms.before(place, 2))


def _over_numeral(atoms: Atoms, place: int) -> int:
    """The place after "roman numeral": as in "grade roman four"."""
    while atoms[place].word in _NUMERAL:
        place += 1
    return place


def _quantity(atoms: Atoms, place: int, grade: _Grade) -> Quantity:
    start, stop = atoms.tokens(place, grade.end)
    return Quantity(start, stop, "grade", grade.text, why=("grade",))


def _with_second(atoms: Atoms, place: int, first: _Grade, *, cue: bool) -> Match | None:
    """As in "grade one to two" and "one to two plus" are ranges, "grades two and three" are two grades."""
    joint = atoms[first.end]
    between = atoms[place - 1].word == "between"
    roman = cue and joint.joined and joint.word in _ROMAN  # "I-II", whose hyphen joins two words
    hyphen = joint.kind == "hyphen" or roman
    run_on = cue and _is_next(atoms, first)
    following = first.end if roman or run_on else first.end + 2 if atoms[first.end + 1].word in CUES else first.end + 1
    second = _grade(atoms, following, cue=cue)
    if second is None or read_unit(atoms, second.end) or not {first.suffix, second.suffix} <= {"", "+"}:
        return None
    if not cue and not (first.suffix or second.suffix):
        return None
    if joint.word == "to" and atoms[place - 1].word == "from" and first.number > second.number:
        return Match(second.end, (_quantity(atoms, place, first), _quantity(atoms, following, second)))  # before and after
    if joint.word in _JOINTS or hyphen or run_on or (joint.word == "and" and between):
        return Match(second.end, (_range(atoms, place - 1 if between else place, first, second, joint.word),))
    if joint.word == "and" and atoms[place].word == "grades":
        return Match(second.end, (_quantity(atoms, place, first), _quantity(atoms, following, second)))
    return None


def _is_next(atoms: Atoms, first: _Grade) -> bool:
    """As in "grade two three": the next grade follows, and nothing that it could count."""
    atom = atoms[first.end]
    if first.suffix or not is_small(atom) or atom.value != first.number + 1 or is_small(atoms[first.end + 1]):
        return False
    return noun_after(atoms, first.end + 1)[0] is None


def _stroked(atoms: Atoms, place: int) -> Match | None:
    """As in "grade 2/3", one token."""
    match = _STROKED.match(atoms[place + 1].word) if atoms[place + 1].kind in ("fraction", "mixed") else None
    if match is None or int(match[2]) != int(match[1]) + 1:
        return None
    start, stop = atoms.tokens(place, place + 2)
    return Match(place + 2, (Quantity(start, stop, "grade", low=float(match[1]), high=float(match[2]), why=("grade", "range: /")),))


def _range(atoms: Atoms, place: int, first: _Grade, second: _Grade, joint: str) -> Quantity:
    """The digits are the ends of the range; a plus, and which came first, stay as they were said."""
    start, stop = atoms.tokens(place, second.end)
    low, high = sorted((float(first.number), float(second.number)))
    as_said = (f"said {first.text} to {second.text}",) if first.suffix or second.suffix or first.number > second.number else ()
    return Quantity(start, stop, "grade", low=low, high=high, why=("grade", f"range: {joint}", *as_said))


def _grade(atoms: Atoms, place: int, *, cue: bool) -> _Grade | None:
    """The digit of a grade and its suffix."""
    atom = atoms[place]
    if atom.kind == "mixed" and len(atom.word) == 2 and atom.word[0] in "1234" and atom.word[1] in _LETTERS:
        return _Grade(int(atom.word[0]), atom.word[1].upper(), place + 1)
    if cue and (spelled := _spelled_roman(atoms, place)):
        return spelled
    number = _ROMAN.get(atom.word) if cue else None
    if number is None:
        highest = _HIGHEST if cue else _HIGHEST_WITHOUT_CUE
        if atom.kind not in ("digit", "num") or not atom.value.is_integer() or atom.value > highest or len(atom.word) > 5:
            return None
        number = int(atom.value)
    if atoms[place + 1].kind == "by":
        return None  # "Outerbridge, two by three centimetres"
    suffix, end = _suffix(atoms, place + 1, cue=cue)
    return _Grade(number, suffix, end)


def _spelled_roman(atoms: Atoms, place: int) -> _Grade | None:
    """As in "grade i i", whose letters a recogniser parted."""
    letters, end = "", place
    while atoms[end].word in ("i", "v") and len(letters) < 3:
        letters, end = letters + atoms[end].word, end + 1
    number = _ROMAN.get(letters) if len(letters) > 1 else None
    return _Grade(number, "", end) if number is not None else None


def _adds_a_thing(atoms: Atoms, place: int) -> bool:
    """As in "two plus a washer"; "two plus a soft end point" is a grade and what was felt with it."""
    return atoms[place].word == "plus" and atoms[place + 1].word in _ARTICLES and atoms[place + 2].word not in _FELT


def _suffix(atoms: Atoms, place: int, *, cue: bool) -> tuple[str, int]:
    """As in "plus", "+", "b" after the digit."""
    atom, after = atoms[place], atoms[place + 1]
    if atom.word in ("plus", "+"):
        sum_or_margin = (
            after.word in ("or", "minus")
            or (not cue and _adds_a_thing(atoms, place))
            or (after.kind in ("digit", "num", "teen", "tens") and atoms[place + 2].word not in ("plus", "+"))
            or read_unit(atoms, place + 1)
        )
        return ("", place) if sum_or_margin else ("+", place + 1)
    if cue and (letter := PHONETIC.get(atom.word, "").lower()) in _LETTERS:
        return letter.upper(), place + 1
    if atom.word not in _LETTERS or after.word == "m" or (len(after.word) == 1 and after.kind == "word"):
        return "", place
    ends = after.kind in ("stop", "comma") or after.word in _AFTER_A
    if atom.word == "a" and not (ends and (cue or after.kind == "stop")):
        return "", place
    return atom.word.upper(), place + 1
