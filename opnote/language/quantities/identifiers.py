"""Identifiers as they are read out: "romeo two two four, dash, zero one three six" after a cue such as "lot number"."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from typing import Final, NamedTuple

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.clock_cues import is_plain_hour
from opnote.language.quantities.counted import noun_after
from opnote.language.quantities.dates import read_date
from opnote.language.quantities.figures import end_of_figures, is_figure, is_zero
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import read_number
from opnote.language.quantities.spelling import PHONETIC, REPEATS, SIGNS, read_piece
from opnote.language.quantities.units import read_unit

_CUE_WORDS: Final = (
    "lot|lots|lot number|lot numbers|lot no|batch|batch number|batch no|serial|serial number|serial no|reference|reference number|"
    "ref|ref number|ref no|catalogue number|catalog number|catalogue|catalog|cat number|cat no|"
    "tissue id|tissue identifier|tissue identification|tissue number|"
    "donor number|donor id|patient number|patient id|patient identifier|hospital number|chart number|medical record number|"
    "record number|mrn|m r n|unit number|graft number|graft id|medical record|record|chart|hospital id|uhid"
)
DEFAULT_IDENTIFIER_CUES: Final[frozenset[tuple[str, ...]]] = frozenset(tuple(cue.split()) for cue in _CUE_WORDS.split("|"))
"""The words after which a run of digits and letters is an identifier; a site's lexicon may give its own."""

NO_CUE: Final = "no cue"

_WEAK_CUES: Final = frozenset({"chart", "record", "medical record"})
"""Words that announce an identifier less surely: what follows must be as long as after no cue."""

_BETWEEN: Final = v.word_set(
    "is was reads says read number no id : , # code it 's on that this the box label sticker equals hang wait let me see look sorry"
)
_ANNOUNCING: Final = frozenset({"is", "was", "reads", "says", ":"})
_MOST_BETWEEN: Final = 7
_HOMOPHONES: Final = frozenset({"for", "to", "too", "fore"})
_CORRECTIONS: Final = v.word_set("no sorry correction wait scratch that make i mean rather")
_MOST_SIGNS: Final = 24
_SHORTEST, _SHORTEST_AFTER_NUMBER, _SHORTEST_WITHOUT_CUE = 3, 2, 5
_COUNTED: Final = v.word_set("them those these")
_OF_A_BOX: Final = v.word_set("lot lots batch serial ref reference")
_OF_ALL: Final = v.word_set("both all the these those our my his her its each every some any no same")
"""Words between a figure and a plural after which the figure counts nothing: "lot four five six two, both screws"."""
_MUCH: Final = v.word_set("a whole awful")
"""Words that make "a lot" of "lot"."""


class _Run(NamedTuple):
    """Signs read one after another up to ``end``.

    ``unclear`` is a word inside that may have been a figure, ``pauses`` are the numbers of signs before each comma.
    """

    signs: str
    end: int
    unclear: str | None = None
    pauses: tuple[int, ...] = ()


def find_cue(atoms: Atoms, place: int, cues: Collection[tuple[str, ...]]) -> tuple[str, int] | None:
    """The longest of ``cues`` at ``place`` and the place after it."""
    longest = max((cue for cue in cues if atoms.words(place, len(cue)) == cue), key=len, default=None)
    return (" ".join(longest), place + len(longest)) if longest else None


def read_identifier(atoms: Atoms, place: int, cue: str) -> Match | None:
    """The identifier after ``cue`` (which ended before ``place``), with those that follow it after "no, sorry" or "and"."""
    start = _skip_between(atoms, place)
    run = _read_run(atoms, start)
    if run is None or not (_is_long_enough(run, cue) or _is_letter_and_figure(atoms, place, run, cue)):
        return None
    quantities = [_identifier(atoms, start, run, cue)]
    end = run.end
    while (again := _read_again(atoms, end, run)) is not None:
        start, run = again
        quantities.append(_identifier(atoms, start, run, cue))
        end = run.end
    quantities[-1] = _or_time(atoms, _or_count(atoms, quantities[-1], run), run, cue)
    return Match(end, tuple(quantities))


def read_numbered(atoms: Atoms, place: int) -> Match | None:
    """As in "number four one seven dash eight eight two six": long enough to be an identifier without another cue."""
    start = place + 2 if atoms[place + 1].word in _ANNOUNCING else place + 1
    run = _read_run(atoms, start)
    if run is None or run.unclear or len(run.signs) < _SHORTEST_WITHOUT_CUE or not _has_figure(run):
        return None
    return Match(run.end, (_identifier(atoms, start, run, atoms[place].word),))


def read_spoken_code(atoms: Atoms, place: int) -> Match | None:
    """Figures with phonetic letters or "double" among them, in one run without a cue: read back, perhaps; no amount.

    As in "five five kilo one oh eight", "double seven triple zero". What is said in figures alone is known by its repeats.
    """
    end = end_of_figures(atoms, place)
    if not (atoms[end].word in PHONETIC or atoms[end].word in REPEATS) or not is_figure(atoms[end + 1]):
        return None
    run = _read_run(atoms, place)
    if run is None or run.unclear or len(run.signs) < _SHORTEST_WITHOUT_CUE - 1 or read_unit(atoms, run.end):
        return None
    return Match(run.end, (_identifier(atoms, place, run, None),))


def without_read_backs(quantities: Iterable[Quantity]) -> tuple[Quantity, ...]:
    """``quantities`` without those codes that have no cue and are one that has, or its end: they say nothing new."""
    told = tuple(quantities)
    codes = [str(q.value) for q in told if q.kind == "identifier" and NO_CUE not in q.why and q.value is not None]
    ends = {code[place:] for code in codes for place in range(len(code))}
    return tuple(q for q in told if q.kind != "identifier" or NO_CUE not in q.why or q.value not in ends)


def _or_count(atoms: Atoms, identifier: Quantity, run: _Run) -> Quantity:
    """``identifier``, in doubt where its last figure may count what is named next: "lot four five six two screws"."""
    last = atoms[run.end - 1]
    if identifier.value is None or last.kind != "digit" or last.value < 2 or len(run.signs) <= _SHORTEST:
        return identifier
    if atoms[run.end].word in _OF_ALL or not noun_after(atoms, run.end)[1]:
        return identifier
    return _one_of(identifier, run.signs, run.signs[:-1], "the last figure may count")


def _or_time(atoms: Atoms, identifier: Quantity, run: _Run, cue: str) -> Quantity:
    """``identifier``, in doubt where what follows a pause in it may be a time: "lot eight eight four, eight fifty two"."""
    if len(run.pauses) != 1 or identifier.value is None or cue.partition(" ")[0] not in _OF_A_BOX:
        return identifier  # what is said in groups goes on in groups, and nobody tells the time behind a patient's number
    place = run.end - 1
    while atoms[place].kind != "comma":
        place -= 1
    number, before = read_number(atoms, place + 1), run.signs[: run.pauses[0]]
    if number is None or number.end != run.end or not is_plain_hour(number) or len(before) < _SHORTEST:
        return identifier
    return _one_of(identifier, run.signs, before, "what follows the pause may be a time")


def _identifier(atoms: Atoms, start: int, run: _Run, cue: str | None) -> Quantity:
    first, end = atoms.tokens(start, run.end)
    why = ("identifier", NO_CUE if cue is None else f"cue={cue}")
    if run.unclear:
        return Quantity(first, end, "identifier", why=(*why, f'unclear: "{run.unclear}" inside'))
    identifier = Quantity(first, end, "identifier", run.signs, why=why)
    return _begun_again(identifier, run) if end - first > 1 else identifier


def _begun_again(identifier: Quantity, run: _Run) -> Quantity:
    """``identifier`` where it is one code twice over, or where what follows a pause begins with all that stood before it.

    A letter or a pause tells of four signs and more that they were said again; else one code and the other both are kept.
    """
    half = run.signs[: len(run.signs) // 2]
    if half * 2 == run.signs and len(half) >= _SHORTEST:
        sure = len(half) > _SHORTEST and (run.pauses or any(sign.isalpha() for sign in half))
        why = (*identifier.why, "said twice")
        return replace(identifier, value=half, why=why) if sure else _one_of(identifier, run.signs, half, "maybe said twice")
    for pause in run.pauses:
        if pause >= _SHORTEST and run.signs[pause:].startswith(run.signs[:pause]):
            return _one_of(identifier, run.signs[pause:], run.signs, "maybe begun again")
    return identifier


def _one_of(identifier: Quantity, first: str, second: str, why: str) -> Quantity:
    return replace(identifier, value=None, readings=(first, second), why=(*identifier.why, why))


def _is_long_enough(run: _Run, cue: str) -> bool:
    if cue in _WEAK_CUES:
        return len(run.signs) >= _SHORTEST_WITHOUT_CUE and _has_figure(run)
    shortest = _SHORTEST_AFTER_NUMBER if cue.rpartition(" ")[2] in ("number", "numbers", "no", "id") else _SHORTEST
    return len(run.signs) >= shortest and _has_figure(run)


def _is_letter_and_figure(atoms: Atoms, place: int, run: _Run, cue: str) -> bool:
    """As in "lot B two", "lot two B": two signs are enough where one of them is a letter; "a lot, B two" announces none."""
    if cue in _WEAK_CUES or len(run.signs) != 2 or (cue == "lot" and atoms[place - 2].word in _MUCH):
        return False
    return any(sign.isalpha() for sign in run.signs) and _has_figure(run)


def _has_figure(run: _Run) -> bool:
    return any(sign.isdigit() for sign in run.signs)


def _skip_between(atoms: Atoms, place: int) -> int:
    """The place after "number is", ":", "on the box reads" and the like between a cue and its identifier."""
    for end in range(place, place + _MOST_BETWEEN):
        if atoms[end].word in _ANNOUNCING:
            place = end + 1
            break
        if atoms[end].kind != "word" and atoms[end].word != "one":
            break
    for _ in range(_MOST_BETWEEN):
        full_stop = atoms[place].word == "." and atoms[place - 1].word in ("no", "ref")
        if not (atoms[place].word in _BETWEEN or full_stop):
            break
        place += 1
    return place


def _read_run(atoms: Atoms, place: int) -> _Run | None:
    """The signs from ``place`` on, to where an amount, a date or other words begin."""
    signs, unclear, end, whole = "", None, place, (0, place)
    pauses: list[int] = []
    while len(signs) < _MOST_SIGNS:
        after_comma = _over_comma(atoms, end) if signs else end
        if after_comma is None or _begins_other(atoms, after_comma, inside=bool(signs) and after_comma == end):
            break
        place = after_comma
        if signs and atoms[place].word == "space" and place == end:
            end = place + 1  # read out between two groups of signs
            continue
        if signs and _is_misheard_figure(atoms, place):
            unclear, end = atoms[place].word, place + 1
            continue
        piece = read_piece(atoms, place)
        if piece is None:
            break
        pauses += [len(signs)] if after_comma > end else []
        signs, end = signs + piece.signs, piece.end
        if signs[-1].isalnum():
            whole = len(signs), end
    return _Run(signs[: whole[0]], whole[1], unclear, tuple(pauses)) if whole[0] else None


def _over_comma(atoms: Atoms, place: int) -> int | None:
    """``place``, or the place after a comma there if the identifier goes on behind it."""
    if atoms[place].kind != "comma":
        return place
    following = place + 1
    if atoms[following].word in SIGNS or atoms[place - 1].word in SIGNS:
        return following
    piece = None if _begins_other(atoms, following) else read_piece(atoms, following)
    if piece is None:
        return None
    goes_on = read_piece(atoms, piece.end) is not None or atoms[piece.end].kind in ("stop", "comma")
    return following if goes_on else None


def _begins_other(atoms: Atoms, place: int, *, inside: bool = False) -> bool:
    """An amount with its unit, a pair of sizes or a date begins at ``place``.

    ``inside`` a run of figures only the last figure before a unit can be an amount: "eight eight four seven by twenty five".
    """
    atom = atoms[place]
    if atom.word in v.ARTICLES and atoms[place + 1].kind in ("digit", "teen", "tens", "num"):
        return _begins_other(atoms, place + 1)
    if atom.word in v.MONTHS:
        date = read_date(atoms, place)
        return date is not None and date.quantities[0].value is not None
    if atom.kind not in ("digit", "teen", "tens", "num"):
        return False
    number = read_number(atoms, place)
    if number is None or number.spelled or (inside and (number.readings or number.why == ("digit by digit",))):
        return False
    joint, after = atoms[number.end], atoms[number.end + 1]
    if joint.word == "of" and after.word in _COUNTED and is_figure(atom):
        return True  # "lot four five six, two of them"
    if joint.word == "times" and after.kind in ("digit", "num"):
        return False  # "lot four five six, times two"
    spoken_letter = joint.word == "x" and atom.kind != "num"  # people say "by" and spell "x"; recognisers write 7 x 25
    by = joint.kind == "by" and not spoken_letter and after.kind in ("digit", "teen", "tens", "num")
    return by or (read_unit(atoms, number.end) is not None and len(atoms[number.end].word) > 1 and atoms[number.end].word not in PHONETIC)


def _is_misheard_figure(atoms: Atoms, place: int) -> bool:
    """As in "for" or "to" inside the signs: it may have been a four or a two, and is read as neither."""
    if atoms[place].word not in _HOMOPHONES:
        return False
    following = place + 1
    if atoms[following].word in SIGNS or is_zero(atoms[following]):
        return True
    piece = None if _begins_other(atoms, following) else read_piece(atoms, following)
    return piece is not None and read_piece(atoms, piece.end) is not None


def _read_again(atoms: Atoms, place: int, earlier: _Run) -> tuple[int, _Run] | None:
    """A second identifier under the same cue: corrected ("no, sorry, ...") or listed ("and ...")."""
    start = place
    while atoms[start].kind == "comma" or atoms[start].word in _CORRECTIONS:
        start += 1
    corrected = any(atoms[between].kind != "comma" for between in range(place, start))
    listed = not corrected and atoms[start].word == "and"
    start = start + 1 if listed else start
    run = _read_run(atoms, start) if corrected or listed else None
    if run is None or run.unclear or not _has_figure(run) or len(run.signs) < _SHORTEST:
        return None
    return (start, run) if corrected or len(run.signs) == len(earlier.signs) else None
