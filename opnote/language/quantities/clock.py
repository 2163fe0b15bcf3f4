"""Times of day, where the words make it plain that they are one."""

from __future__ import annotations

from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import Number, clock_of, is_small, read_below_hundred, read_cardinal

_CUES: Final = v.word_set("at time incision tourniquet given released closure closed started finished stopped skin out")
_WINDOW: Final = 4


def read_clock(atoms: Atoms, place: int) -> Match | None:
    """The time of day at ``place``, in any spoken or written form."""
    for reader in (_written, _with_oh, _past_or_to, _hundred_hours, _half_day, _after_cue):
        found = reader(atoms, place)
        if found is not None:
            text, end, why = found
            start, stop = atoms.tokens(place, end)
            return Match(end, (Quantity(start, stop, "clock", text, why=(why,)),))
    return None


_Found = tuple[str, int, str]


def _half_day_shift(atoms: Atoms, place: int, hours: float) -> tuple[float, int] | None:
    """ "am", "p m", "in the morning" at ``place``: the hour of the day and the place after it."""
    word, after = atoms[place].word, atoms[place + 1].word
    if word in v.HALF_DAYS:
        shift, end = v.HALF_DAYS[word], place + 1
    elif word in ("a", "p") and after == "m":
        shift, end = (12 if word == "p" else 0), place + 2
    else:
        return None
    return (hours % 12 + shift, end) if 1 <= hours <= 12 else None


def _written(atoms: Atoms, place: int) -> _Found | None:
    atom = atoms[place]
    if atom.kind == "clock":
        hours, minutes = divmod(atom.value, 60)
        shifted = _half_day_shift(atoms, place + 1, hours)
        text = clock_of(shifted[0] if shifted else hours, minutes)
        return (text, shifted[1] if shifted else place + 1, "colon") if text else None
    if atom.kind == "num" and len(atom.word) == 4 and atom.word.startswith("0"):
        text = clock_of(atom.value // 100, atom.value % 100)
        return (text, _over_hours(atoms, place + 1), "leading zero") if text else None
    return None


def _over_hours(atoms: Atoms, place: int) -> int:
    return place + 1 if atoms[place].word in ("hours", "hrs", "h") else place


def _with_oh(atoms: Atoms, place: int) -> _Found | None:
    """ "oh seven forty two", "zero seven oh five", "oh eight hundred"."""
    zero = atoms[place]
    if not (zero.kind == "oh" or zero.word in ("zero", "0", "nought")) or not is_small(atoms[place + 1]):
        return None
    hours, after = atoms[place + 1].value, place + 2
    if atoms[after].kind == "hundred":
        return f"{int(hours):02d}:00", _over_hours(atoms, after + 1), "oh-prefix"
    minutes = _minutes(atoms, after, spelled=zero.kind == "oh")
    if minutes is None:
        return None
    text = clock_of(hours, minutes[0])
    return (text, _over_hours(atoms, minutes[1]), "oh-prefix") if text else None


def _minutes(atoms: Atoms, place: int, *, spelled: bool) -> tuple[float, int] | None:
    """Minutes after an hour: "forty two", "oh five", and "four two" where ``spelled`` minutes are plain enough."""
    if atoms[place].kind == "oh" or atoms[place].word in ("zero", "0"):
        return (atoms[place + 1].value, place + 2) if is_small(atoms[place + 1]) else None
    found = read_below_hundred(atoms, place)
    if spelled and found and found[0] < 10 and is_small(atoms[found[1]]):
        return found[0] * 10 + atoms[found[1]].value, found[1] + 1
    return found if found and found[0] >= 10 else None


def _past_or_to(atoms: Atoms, place: int) -> _Found | None:
    """ "ten past nine", "quarter to nine", "half past eight", "half eight"."""
    start = place + 1 if atoms[place].word == "a" and atoms[place + 1].word == "quarter" else place
    word = atoms[start].word
    named = {"quarter": 15.0, "half": 30.0}.get(word)
    if word == "half" and atoms[start + 1].kind in ("digit", "teen") and 1 <= atoms[start + 1].value <= 12:
        text = clock_of(atoms[start + 1].value, 30)
        return (text, start + 2, "half eight") if text else None
    found = (named, start + 1) if named else read_below_hundred(atoms, start)
    if found is None:
        return None
    minutes, end = found
    end = end + 1 if atoms[end].word == "minutes" else end
    relation = atoms[end].word
    if relation not in ("past", "to") or (relation == "to" and not named) or not 0 < minutes < 60:
        return None
    hour = read_below_hundred(atoms, end + 1)
    if hour is None or not 1 <= hour[0] <= 12:
        return None
    total = hour[0] * 60 + (minutes if relation == "past" else -minutes)
    shifted = _half_day_shift(atoms, hour[1], total // 60)
    text = clock_of(shifted[0] if shifted else total // 60, total % 60)
    return (text, shifted[1] if shifted else hour[1], relation) if text else None


def _hundred_hours(atoms: Atoms, place: int) -> _Found | None:
    found = read_below_hundred(atoms, place)
    if found is None or atoms[found[1]].kind != "hundred" or atoms[found[1] + 1].word not in ("hours", "hrs"):
        return None
    text = clock_of(found[0], 0)
    return (text, found[1] + 2, "hundred hours") if text else None


def _half_day(atoms: Atoms, place: int) -> _Found | None:
    """ "nine a m", "two thirty pm", "eight o'clock"."""
    number = read_cardinal(atoms, place)
    if number is None:
        return None
    if number.clock:
        hours, minutes = (float(part) for part in number.clock.split(":"))
    else:
        hours, minutes = number.value, 0.0
    shifted = _half_day_shift(atoms, number.end, hours)
    if shifted:
        text = clock_of(shifted[0], minutes)
        return (text, shifted[1], "am or pm") if text else None
    if atoms[number.end].word in ("o'clock", "oclock") and atoms[number.end + 1].word != "position" and 1 <= hours <= 24:
        text = clock_of(hours % 24, minutes)
        return (text, number.end + 1, "o'clock") if text else None
    return None


def _after_cue(atoms: Atoms, place: int) -> _Found | None:
    """ "at eight fifty two": a time because of the words before it."""
    number = read_cardinal(atoms, place)
    if number is None or number.clock is None or not _cued(atoms, place, number):
        return None
    return number.clock, _over_hours(atoms, number.end), "cue before"


def _cued(atoms: Atoms, place: int, number: Number) -> bool:
    before = [atoms[place - step].word for step in range(1, _WINDOW + 1)]
    strong = any(word in _CUES - {"at"} for word in before)
    return strong or (before[0] == "at" and not 100 <= number.value < 160)
