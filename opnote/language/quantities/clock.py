"""Times of day, where the words make it plain that they are one: "oh seven forty two", "ten past nine", "at eight fifty two"."""

from __future__ import annotations

from typing import Final, NamedTuple

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.clock_cues import (
    is_cued,
    is_dotted,
    is_hour_and_minute,
    is_plain_hour,
    is_plain_time_to,
    is_said_of_event,
    is_told_as_time,
    opens_with_time,
)
from opnote.language.quantities.dates import after_birth
from opnote.language.quantities.figures import clock_of, is_small, is_zero, read_below_hundred
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import Number, read_cardinal
from opnote.language.quantities.units import read_unit

_NAMED: Final = {"noon": "12:00", "midday": "12:00"}
_HOURS: Final = frozenset({"hours", "hrs", "h"})
_PARTS_OF_DAY: Final = {"morning": 0, "afternoon": 12, "evening": 12}
_EITHER_HALF: Final = frozenset({"colon", "dot", "past", "to", "after", "before", "of", "half an hour past", "o'clock", "cue before"})
_UNTIL: Final = v.word_set("to until till through")
_LONGEST_TIME: Final = 4
"""Words of an hour and its minutes, the word behind them among them: "nine forty five to"."""
_LONGEST_OPERATION: Final = 600
"""The difference of two times written as numbers: six hours."""
_FACES: Final = v.word_set("notch wall face femur condyle tunnel footprint socket roof lateral medial clock")
_DIALS: Final = frozenset({"position", "portal", "o'clock", "clock"})


class _Time(NamedTuple):
    """A time of day, the place after it, the rule that saw it, and whether the half of the day was said."""

    text: str | None
    end: int
    why: str
    half_day: bool = False


def read_clock(atoms: Atoms, place: int) -> Match | None:
    """The time of day at ``place``; a place on a dial ("the ten o'clock position") is read and gives nothing."""
    if after_birth(atoms, place):
        return None  # "date of birth twenty three oh four eighty nine"
    if (span := _from_to(atoms, place)) is not None:
        return span
    for reader in (_written, _with_oh, _past_or_to, _hundred_hours, _half_day, _after_cue):
        time = reader(atoms, place)
        if time is None:
            continue
        if time.why in ("dial", "two figures") or (atoms[time.end].word in _DIALS and not is_said_of_event(atoms, place)):
            return Match(time.end)
        if time.text is not None:
            start, stop = atoms.tokens(place, time.end)
            return Match(time.end, (Quantity(start, stop, "clock", time.text, why=_reasons(time.text, time)),))
    return None


def _from_to(atoms: Atoms, place: int) -> Match | None:
    """As in "from nine oh five to ten fifteen", "seven forty until nine ten": two times within one operation."""
    if _UNTIL.isdisjoint(atoms.words(place + 1, _LONGEST_TIME)):
        return None
    first = read_cardinal(atoms, place)
    if first is None or atoms[first.end].word not in _UNTIL or not is_plain_hour(first):
        return None
    lead = atoms[place - 1].word
    second = read_cardinal(atoms, first.end + 1)
    if second is None or not is_plain_hour(second) or (lead != "from" and not is_told_as_time(atoms, place, first)):
        return None
    if read_unit(atoms, second.end) or atoms[second.end].kind in ("by", "hyphen") or atoms[second.end].word in v.POINTS:
        return None
    if not 0 < second.value - first.value <= _LONGEST_OPERATION:
        return None
    ends = ((place, first), (first.end + 1, second))
    return Match(second.end, tuple(_clock_alone(atoms, start, number) for start, number in ends))


def _clock_alone(atoms: Atoms, place: int, number: Number) -> Quantity:
    start, stop = atoms.tokens(place, number.end)
    return Quantity(start, stop, "clock", number.clock, why=_reasons(number.clock or "", _Time(number.clock, number.end, "cue before")))


def _reasons(text: str, time: _Time) -> tuple[str, ...]:
    """The rule, and a note where the words fit the morning and the afternoon alike."""
    open_half = time.why in _EITHER_HALF and not time.half_day and 1 <= int(text[:2]) <= 12
    return (time.why, "half of the day not said") if open_half else (time.why,)


def _over_hours(atoms: Atoms, place: int) -> int:
    return place + 1 if atoms[place].word in _HOURS else place


def _half_day_at(atoms: Atoms, place: int) -> tuple[int, int] | None:
    """Hours to add for "am", "p m", "in the afternoon" at ``place``, and the place after it."""
    word, after = atoms[place].word, atoms[place + 1].word
    if word in v.HALF_DAYS:
        return v.HALF_DAYS[word], place + 1
    if word in ("a", "p") and after == "m":
        return (12 if word == "p" else 0), place + 2
    if word == "in" and after == "the" and (part := _PARTS_OF_DAY.get(atoms[place + 2].word)) is not None:
        return part, place + 3
    return None


def _time(atoms: Atoms, hours: float, minutes: float, end: int, why: str) -> _Time | None:
    """The time, moved into its half of the day when that is said next."""
    half_day = _half_day_at(atoms, end)
    if half_day is not None and (hours <= 12 or (half_day[0] and hours < 24)):
        return _Time(clock_of(hours % 12 + half_day[0], minutes), half_day[1], why, True)
    return _Time(clock_of(hours, minutes), _over_hours(atoms, end), why)


def _written(atoms: Atoms, place: int) -> _Time | None:
    atom = atoms[place]
    if atom.word in _NAMED:
        return _Time(_NAMED[atom.word], place + 1, "named")
    if atom.kind == "clock" and atoms[place + 1].word in _DIALS:
        return _Time(None, place + 1, "dial")
    if atom.kind == "clock":
        return _time(atoms, *divmod(atom.value, 60), place + 1, "leading zero" if atom.word.startswith("0") else "colon")
    if atom.kind != "num":
        return None
    if len(atom.word) == 4 and atom.word.isdigit() and atom.word.startswith("0"):
        return _time(atoms, *divmod(atom.value, 100), place + 1, "leading zero")
    minutes = atoms[place + 1]
    if len(atom.word) == 2 and atom.word.startswith("0") and minutes.kind == "num" and len(minutes.word) == 2:
        hours = _over_hours(atoms, place + 2)
        if hours > place + 2 or is_hour_and_minute(atoms, place):
            return _time(atoms, atom.value, minutes.value, place + 2, "leading zero")
    if "." in atom.word and is_dotted(atoms, place) and not read_unit(atoms, place + 1):
        return _time(atoms, *divmod(round(atom.value * 100), 100), place + 1, "dot")
    return None


def _with_oh(atoms: Atoms, place: int) -> _Time | None:
    """As in "oh seven forty two", "zero seven oh five", "oh eight hundred"."""
    zero = atoms[place]
    if is_zero(zero) and is_zero(atoms[place + 1]):
        minutes = _minutes(atoms, place + 2, spelled=False)
        return _time(atoms, 0, minutes[0], minutes[1], "oh-prefix") if minutes and atoms[minutes[1]].word in _HOURS else None
    if not (zero.kind == "oh" or zero.word in ("zero", "0", "nought")) or not is_small(atoms[place + 1]):
        return None
    hours, after = atoms[place + 1].value, place + 2
    if atoms[after].kind == "hundred":
        return _time(atoms, hours, 0, after + 1, "oh-prefix")
    minutes = _minutes(atoms, after, spelled=zero.kind == "oh")
    if minutes is None and zero.kind == "oh" and _is_two_figures_alone(atoms, after):
        return _Time(None, after, "two figures")
    if minutes is None or read_unit(atoms, _over_hours(atoms, minutes[1])):
        return None
    return _time(atoms, hours, minutes[0], minutes[1], "oh-prefix")


def _is_two_figures_alone(atoms: Atoms, place: int) -> bool:
    """As in "his right knee in oh nine": a year or a label, but "oh seven and a half" is a number after an exclamation."""
    after = atoms[place]
    joint = after.kind in ("by", "hyphen") or after.word in ("and", "to", "or", "plus", "+", "of", "point", "times")
    return not joint and read_unit(atoms, place) is None


def _minutes(atoms: Atoms, place: int, *, spelled: bool) -> tuple[float, int] | None:
    """Minutes after an hour: "forty two", "oh five", and "four two" where ``spelled`` minutes are plain enough."""
    if atoms[place].kind == "oh" or atoms[place].word in ("zero", "0"):
        return (atoms[place + 1].value, place + 2) if is_small(atoms[place + 1]) else None
    found = read_below_hundred(atoms, place)
    if spelled and found and found[0] < 10 and is_small(atoms[found[1]]):
        return found[0] * 10 + atoms[found[1]].value, found[1] + 1
    return found if found and 10 <= found[0] < 60 else None


def _past_or_to(atoms: Atoms, place: int) -> _Time | None:
    """As in "ten past nine", "quarter to nine", "half past eight", "half eight", "five minutes to nine"."""
    start = place + 1 if atoms[place].word == "a" and atoms[place + 1].word == "quarter" else place
    named = {"quarter": 15.0, "half": 30.0}.get(atoms[start].word)
    if named == 30.0 and atoms[start + 1].kind in ("digit", "teen") and 1 <= atoms[start + 1].value <= 12:
        unit_follows = read_unit(atoms, start + 2) is not None
        return None if unit_follows else _time(atoms, atoms[start + 1].value, 30, start + 2, "half an hour past")
    found = (named, start + 1) if named else read_below_hundred(atoms, start)
    if found is None or not 0 < found[0] < 60:
        return None
    minutes, end = found
    said = atoms[end].word in ("minutes", "minute")
    end = end + 1 if said else end
    relation, hour = atoms[end].word, read_below_hundred(atoms, end + 1)
    if hour is None or not 1 <= hour[0] <= 12 or atoms[end + 1].kind == "oh":
        return None
    if relation in ("past", "after") and (relation == "past" or named or said):
        return _time(atoms, hour[0], minutes, hour[1], relation)
    plain = named or said or (relation == "to" and is_plain_time_to(atoms, place, minutes, hour))
    if relation in ("to", "before", "of") and plain and not (relation == "of" and not named) and not read_unit(atoms, hour[1]):
        return _time(atoms, hour[0] - 1 or 12, 60 - minutes, hour[1], relation)
    return None


def _hundred_hours(atoms: Atoms, place: int) -> _Time | None:
    """As in "twelve hundred hours"; "thirteen hundred" alone only where an hour can be meant by nothing else."""
    found = read_below_hundred(atoms, place)
    if found is None or atoms[found[1]].kind != "hundred" or atoms[found[1] + 1].word not in _HOURS:
        return None
    return _Time(clock_of(found[0], 0), found[1] + 2, "hundred hours")


def _half_day(atoms: Atoms, place: int) -> _Time | None:
    """As in "nine a m", "two thirty pm", "eight o'clock", "twelve noon"."""
    number = read_cardinal(atoms, place)
    if number is None or number.spelled:
        return None
    hours, minutes = (float(part) for part in number.clock.split(":")) if number.clock else (number.value, 0.0)
    if not 1 <= hours <= 24:
        return None
    after = atoms[number.end].word
    if after in ("o'clock", "oclock"):
        if atoms[number.end + 1].word in _DIALS or minutes or _is_on_a_bone(atoms, number.end + 1):
            return _Time(None, number.end + 1, "dial")
        return _time(atoms, hours % 24, minutes, number.end + 1, "o'clock")
    if after in _NAMED and hours == 12:
        return _Time("12:00", number.end + 1, "named")
    if (half_day := _half_day_at(atoms, number.end)) is not None and (hours <= 12 or half_day[0]):
        return _time(atoms, hours, minutes, number.end, "am or pm")
    return None


def _is_on_a_bone(atoms: Atoms, place: int) -> bool:
    """As in "ten o'clock on the notch", "two o'clock of the condyle": a place, and no time."""
    return atoms[place].word in ("on", "in", "of") and bool(_FACES.intersection(atoms.words(place + 1, 4)))


def _after_cue(atoms: Atoms, place: int) -> _Time | None:
    """As in "at eight fifty two": a time because of the words before it."""
    number = read_cardinal(atoms, place)
    if number is None:
        return None
    if number.clock and atoms[number.end].word in ("position", "o'clock") and not is_said_of_event(atoms, place):
        return _Time(None, number.end, "dial")
    if number.clock and number.why == ("four figures",) and atoms[number.end].word in _HOURS:
        return _Time(number.clock, number.end + 1, "hours")
    if number.clock and number.why == ("short hundred",) and number.value >= 1000 and not (number.year or read_unit(atoms, number.end)):
        return _Time(number.clock, number.end, "cue before")  # "ten oh five": no amount is said like that
    if atoms[place].kind == "teen" and number.end == place + 1 and is_small(atoms[number.end]) and is_hour_and_minute(atoms, place):
        unit_follows = read_unit(atoms, number.end + 1) is not None or atoms[number.end + 1].kind == "by"
        return None if unit_follows else _Time(clock_of(number.value, atoms[number.end].value), number.end + 1, "cue before")
    if number.clock is None or not (is_cued(atoms, place, number) or opens_with_time(atoms, place, number)):
        return None
    if read_unit(atoms, _over_hours(atoms, number.end)) or atoms[number.end].kind == "by" or atoms[number.end].word in v.POINTS:
        return None
    return _Time(number.clock, _over_hours(atoms, number.end), "cue before")
