"""Whether the words before a number make it a time of day: "eight fifty two" is 852 without them."""

from __future__ import annotations

from typing import Final

from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.numbers import Number

_WINDOW: Final = 4
_EVENTS: Final = v.word_set(
    "incision skin closure closing fixed surgery given released deflated started starting finished ended time start end inflated raised"
)
_HAPPENS: Final = v.word_set("closure closed closing started finished ended incision")
_CUFF: Final = v.word_set("tourniquet cuff")
_CUFF_EVENTS: Final = v.word_set("up down off on out let")
_CUFF_DOWN: Final = v.word_set("down off released deflated")
_NOT_TIME_OF_DAY: Final = v.word_set("tourniquet total operative cuff operating surgical ischaemic ischemic")
_BEFORE_A_YEAR: Final = v.word_set("in since of from back until year")
_FIRST_USUAL_HOUR, _LAST_USUAL_HOUR = 6, 23
"""Outside these hours the same words are more often an angle or a pressure ("at one twenty", "at two fifty")."""
_LOWEST_PRESSURE, _HIGHEST_PRESSURE = 150, 350
"""mmHg. Cuff pressures of knee surgery; a round number of these near "tourniquet" is a pressure unless the cuff went down."""


def is_cued(atoms: Atoms, place: int, number: Number) -> bool:
    """Whether ``number`` at ``place`` is a time of day because of what stands before it."""
    before = atoms.before(place, _WINDOW + 2)
    at = _is_at(before)
    if number.year:
        return at and _is_event(before)
    if atoms[place].kind == "num" and len(atoms[place].word) == 3 and not at and not _is_event(before):
        return False
    if _is_pressure(before, number.value):
        return False
    hour = int(number.clock[:2]) if number.clock else 0
    event = _is_event(before) and before[:1] != ("to",)
    if _FIRST_USUAL_HOUR <= hour <= _LAST_USUAL_HOUR:
        return event or at
    if "fixed" in before[:_WINDOW]:
        return event and number.value % 5 != 0  # "fixed at one twenty" is an angle
    return event and (at or number.value % 10 != 0)


def is_said_of_event(atoms: Atoms, place: int) -> bool:
    """As in "incision at ten thirty, position supine": no place on a dial ("at the ten thirty position")."""
    before = atoms.before(place, _WINDOW + 2)
    return before[:1] != ("the",) and _is_event(before)


def is_plain_hour(number: Number) -> bool:
    """Whether a number said as hour and minutes is of the hours when people operate, and no year."""
    if number.clock is None or number.year or number.why[0] not in ("short hundred", "four figures"):
        return False
    return _FIRST_USUAL_HOUR <= int(number.clock[:2]) <= _LAST_USUAL_HOUR


def is_told_as_time(atoms: Atoms, place: int, number: Number) -> bool:
    """Whether a plain hour is a time because of what stands before it, the tourniquet's name alone included."""
    return bool(_CUFF.intersection(atoms.before(place, 2))) or is_cued(atoms, place, number)


def opens_with_time(atoms: Atoms, place: int, number: Number) -> bool:
    """As in "seventeen forty, skin closed", "ten twenty knife to skin": a time that opens the sentence, and what happened then."""
    if atoms[place - 1].kind != "stop" or not is_plain_hour(number):
        return False
    start = number.end + 1 if atoms[number.end].kind == "comma" else number.end
    after = atoms.words(start, _AFTER)
    return after in _HAPPENINGS or after[:2] in _HAPPENINGS or after[:1] in _HAPPENINGS


_AFTER: Final = 3
_HAPPENED: Final = "skin closed|skin incision|knife to skin|incision|closure|tourniquet up|tourniquet down|tourniquet off|cuff up|cuff down"
_HAPPENINGS: Final = frozenset(tuple(said.split()) for said in _HAPPENED.split("|"))


def _is_at(before: tuple[str, ...]) -> bool:
    """As in "at", or "at about", right before."""
    return before[:1] == ("at",) or (len(before) > 1 and before[0] in ("about", "around", "exactly") and before[1] == "at")


def _is_event(before: tuple[str, ...]) -> bool:
    """A happening that has a time of day stands within the window; the tourniquet *time* is a duration."""
    near = before[1 : _WINDOW + 1] if before[:1] == ("at",) else before[:_WINDOW]
    for place, word in enumerate(near):
        if word == "time":
            if not _NOT_TIME_OF_DAY.intersection(near[place + 1 : place + 2]):
                return True
        elif word in _EVENTS:
            return True
    return bool(_CUFF_EVENTS.intersection(near)) and bool((_CUFF | {"let"}).intersection(before))


def _is_pressure(before: tuple[str, ...], value: float) -> bool:
    round_pressure = _LOWEST_PRESSURE <= value <= _HIGHEST_PRESSURE and value % 10 == 0
    return round_pressure and bool(_CUFF.intersection(before)) and not _CUFF_DOWN.intersection(before[:_WINDOW])


def is_dotted(atoms: Atoms, place: int) -> bool:
    """Whether figures such as "7.42" are a time: two decimals below sixty, "at" before them and a happening before that."""
    text = atoms[place].word
    before = atoms.before(place, _WINDOW + 2)
    hours, _, minutes = text.partition(".")
    told = (_is_at(before) and _is_event(before)) or atoms[place + 1].word in ("start", "finish", "incision", "closure")
    return len(minutes) == 2 and int(minutes) < 60 and 0 < int(hours or 0) < 24 and told


def is_hour_and_minute(atoms: Atoms, place: int) -> bool:
    """Whether "ten five" is five past ten: "at" before it and a happening before that."""
    before = atoms.before(place, _WINDOW + 2)
    return _is_at(before) and _is_event(before)


def is_plain_time_to(atoms: Atoms, place: int, minutes: float, hour: tuple[float, int]) -> bool:
    """Whether "MINUTES to HOUR" is a time and no range: "twenty to nine" is, "five to nine" needs a happening before it."""
    if minutes not in (5, 10, 20, 25) or atoms[hour[1]].kind == "by":
        return False
    before = atoms.before(place, _WINDOW + 2)
    return minutes >= 20 or (_is_at(before) and minutes > hour[0]) or _is_event(before) or _happens_next(atoms, hour[1])


def _happens_next(atoms: Atoms, place: int) -> bool:
    """As in "ten to three closure", "five to nine we started": what happened then follows at once."""
    start = place + 1 if atoms[place].kind == "comma" else place
    start += 1 if atoms[start].word in ("we", "i", "she", "they", "skin") else 0
    return atoms[start].word in _HAPPENS
