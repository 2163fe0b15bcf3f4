"""Signs of an identifier that a speaker takes back: "tango, papa, no, tango Charlie", "the last one's a C, not a P"."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from opnote.language.model import Quantity
from opnote.language.quantities.atoms import split_atoms
from opnote.language.quantities.spelling import read_piece

REACH = 14  # tokens after an identifier in which its signs may be taken back
NEAR = 2  # tokens between an identifier and a cue that takes back its end
ENDS = {"last": False, "first": True}


@dataclass(frozen=True, slots=True)
class Respelled:
    """An identifier, what it became, and the tokens that tell."""

    old: Quantity
    new: Quantity
    cue: tuple[int, int]


def respelled(
    words: Sequence[str], quantities: Sequence[Quantity], cues: Sequence[tuple[int, int]], small: frozenset[str]
) -> Iterator[Respelled]:
    """Every identifier of which some signs are said anew, without the whole being read again; ``small`` words may stand before them."""
    codes = [q for q in quantities if q.kind == "identifier" and isinstance(q.value, str)]
    cue_starts = [start for start, _ in cues]
    for index, code in enumerate(codes):
        following = codes[index + 1].start if index + 1 < len(codes) else len(words)
        limit = min(code.end + REACH, following)
        near = [cue for cue in cues[bisect_left(cue_starts, code.end) :][:2] if cue[1] <= limit]
        found = _end_again(words, code, near, limit, small) or _sign_again(words, code, limit, small)
        if found is not None:
            yield found


def _end_again(
    words: Sequence[str], code: Quantity, cues: Sequence[tuple[int, int]], limit: int, small: frozenset[str]
) -> Respelled | None:
    """The end of an identifier said again right after a cue."""
    for start, end in cues:
        if start - code.end > NEAR:
            return None
        signs, stop = _signs(words, end, limit, small)
        value = with_end(str(code.value), signs)
        if value:
            return Respelled(code, replace(code, end=stop, value=value, why=(*code.why, "its end said again")), (start, end))
    return None


def with_end(value: str, signs: str) -> str:
    """The identifier with its end replaced, where the new signs are of the same shape as the old ones."""
    tail = value[-len(signs) :] if 0 < len(signs) <= len(value) else ""
    return value[: -len(signs)] + signs if tail and tail != signs and _shape(tail) == _shape(signs) else ""


def _shape(signs: str) -> str:
    return "".join("9" if sign.isdigit() else "A" if sign.isalpha() else sign for sign in signs)


def _sign_again(words: Sequence[str], code: Quantity, limit: int, small: frozenset[str]) -> Respelled | None:
    """As in "the last one's a C" and "that's a C, not a P"."""
    for place in range(code.end, limit):
        if words[place] in ENDS:
            value, stop = _at_end(words, place, str(code.value), limit, small, first=ENDS[words[place]])
        elif words[place] == "not":
            value, stop = _instead(words, place, code, limit, small)
        else:
            continue
        if value:
            return Respelled(code, replace(code, end=stop, value=value, why=(*code.why, "a sign said anew")), (place, place + 1))
    return None


def _at_end(words: Sequence[str], place: int, value: str, limit: int, small: frozenset[str], *, first: bool) -> tuple[str, int]:
    """The identifier with its first or last signs said anew, and the place after them and after "not a P"."""
    signs, stop = _signs(words, place + 1, limit, small)
    turned = with_end(value[::-1], signs[::-1])[::-1] if first else with_end(value, signs)
    at = stop + 1 if stop < limit and words[stop] == "," else stop
    return turned, (_signs(words, at + 1, limit, small)[1] if at < limit and words[at] == "not" else stop)


def _instead(words: Sequence[str], place: int, code: Quantity, limit: int, small: frozenset[str]) -> tuple[str, int]:
    """The identifier with the sign after "not", if it has it once, replaced by the one before "not"."""
    denied, stop = _signs(words, place + 1, limit, small)
    before = place - 1 if words[place - 1] == "," else place
    readings = (_signs(words, at, before, small) for at in (before - 2, before - 1) if at >= code.end)
    signs = next((signs for signs, end in readings if signs and end == before), "")
    value = str(code.value)
    if signs and denied and signs != denied and value.count(denied) == 1 and _shape(signs) == _shape(denied):
        return value.replace(denied, signs), stop
    return "", stop


def _signs(words: Sequence[str], start: int, limit: int, small: frozenset[str]) -> tuple[str, int]:
    """The signs read aloud from ``start`` on, small words before them passed over, and the place after them."""
    while start + 1 < limit and words[start] in small and words[start + 1] not in ("not", ","):
        start += 1
    atoms = split_atoms(words[start:limit])
    signs, at, end = "", 0, 0
    while at < len(atoms):
        if atoms[at].kind == "comma" and signs:
            at += 1
            continue
        piece = read_piece(atoms, at)
        if piece is None:
            break
        signs, at = signs + piece.signs, piece.end
        end = atoms[at - 1].end
    return signs, start + end
