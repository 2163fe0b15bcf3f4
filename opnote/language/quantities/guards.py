"""Numbers that are no amounts: ages, ordinals, rooms, levels, telephone numbers, years, "this one"."""

from __future__ import annotations

from typing import Final

from opnote.language.model import Quantity
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms
from opnote.language.quantities.figures import end_of_figures, is_figure, is_small
from opnote.language.quantities.match import Match
from opnote.language.quantities.numbers import Number, read_cardinal, read_number
from opnote.language.quantities.units import KILOGRAM, read_unit

LABELS: Final = v.word_set(
    "theatre theater room bay bed table suite ward floor zone level layer layers portal portals port step stage type class option phase "
    "bundle asa case slide figure page chapter tray drawer shelf channel image limb anchor paragraph item year"
)
PHONES: Final = v.word_set("extension phone telephone bleep pager call ring dial mobile")
_BEFORE_A_PHONE_NUMBER: Final = v.word_set("me us on ext extension number is him her them at :")
_SHORTEST_GROUP: Final = 3
_LONGEST_ADDRESSEE: Final = 6
"""Words from "call" to "on": "call the registrar on the ward on"."""
_HIGHEST_ASA: Final = 6
"""The last class of physical status of the American Society of Anesthesiologists; a larger number after "ASA" is a dose."""
_YEARS_OLD: Final = tuple(
    tuple(said.split()) for said in "y / o|y o|y.o|y.o.|y/o|yo|year old|years old|years of age|year of age".split("|")
)
_AGE_WORDS: Final = frozenset({"aged", "age"})
_BEFORE_ONE: Final = v.word_set(
    "this that the which another each every any no other first last next same old new good bad big small long short left right wrong my "
    "his her your their only tibial femoral medial lateral proximal distal square"
)
_AFTER_ONE: Final = v.word_set(
    "of end side hand more another is was way thing day moment time or and that who sided handed can could should at after in on to for "
    "with i we it he she they has had does did will would goes went looks from but so because which there here off up down again "
    "instead now then before when where as too planned out you what if"
)
_ONE_AFTER: Final = v.word_set("is was were by to at minus about just count a plus exactly")
_SAYINGS: Final = (
    ("fifty", "fifty"),
    ("twenty", "four", "seven"),
    ("nine", "times", "out", "of", "ten"),
    ("nine", "out", "of", "ten"),
    ("ten", "out", "of", "ten"),
    ("two", "ticks"),
)
_OF_MANY: Final = v.word_set("of people patients knees cases")
_FIRST_OF_MANY: Final = 100
_COUNTING_OFF: Final = v.word_set("count scale")
_FEET: Final = v.word_set("foot feet ft")
_NOT_THESE: Final = v.word_set("last next other these those")


def read_age(atoms: Atoms, place: int) -> Match | None:
    """As in "thirty eight year old", "31 years of age", "aged thirty eight"."""
    if atoms[place].word in _AGE_WORDS:
        start = place + 2 if atoms[place + 1].word == "of" else place + 1
        number = read_cardinal(atoms, start)
        return _age(atoms, place, number, number.end) if number and not read_unit(atoms, number.end) else None
    number = read_cardinal(atoms, place)
    if number is None:
        return None
    after = atoms.words(number.end, 3)
    for written in _YEARS_OLD:
        if after[: len(written)] == written:
            return _age(atoms, place, number, number.end + len(written))
    return None


def _age(atoms: Atoms, place: int, number: Number, end: int) -> Match:
    first, stop = atoms.tokens(place, end)
    return Match(end, (Quantity(first, stop, "age", number.value, unit="a", why=("age",)),))


def read_ordinal(atoms: Atoms, place: int) -> Match | None:
    """As in "first", "2nd"; "the first two" (without a unit) counts nothing either, so the number after it is read and left out."""
    atom = atoms[place]
    worth = int(atom.value) if atom.kind == "ordinal" else v.ORDINALS.get(atom.word)
    if worth is None:
        return None
    if number := _bare_number(atoms, place + 1):
        return Match(number.end)
    if atoms[place + 1].word == "one" and is_small(atoms[place + 2]) and atoms[place + 3].kind == "by":
        return Match(place + 2)  # "the first one nine by twenty five": one is the screw
    if atom.word in v.SHARES and atoms[place - 1].word in ("a", "one", "another") and atoms[place + 1].word in ("of", "the"):
        return Match(place + 1)  # "a third of the meniscus"
    if atom.word == "second" and atoms[place - 1].word in ("a", "one", "that", "this") and atoms[place + 1].kind in ("stop", "comma"):
        return Match(place + 1)
    first, stop = atoms.tokens(place, place + 1)
    return Match(place + 1, (Quantity(first, stop, "ordinal", float(worth), why=("ordinal",)),))


def _bare_number(atoms: Atoms, place: int) -> Number | None:
    """A whole number that no unit, size or fraction follows."""
    number = read_number(atoms, place)
    if number is None or number.spelled or not number.value.is_integer() or read_unit(atoms, number.end):
        return None
    after = atoms[number.end]
    return None if after.kind in ("by", "hyphen") or after.word in ("to", "times", "plus", "+", "or") else number


def read_label(atoms: Atoms, place: int) -> Match | None:
    """As in "theatre four", "zone two": the number names a thing."""
    word = atoms[place].word
    start = place + 1
    if atoms[start].word in ("number", "no", "#"):
        start += 1
    if word == "asa" and _is_class_and_weight(atoms, start):
        return Match(start + 1)
    number = _bare_number(atoms, start)
    if number is None or (word in ("limb", "anchor") and number.readings) or (word == "asa" and number.value > _HIGHEST_ASA):
        return None
    joint = atoms[number.end].word
    end = number.end
    if joint in ("and", "or", "to") and word in ("layers", "layer", "portals", "zone", "level"):
        following = _bare_number(atoms, number.end + 1)
        end = following.end if following else end
    return Match(end)


def _is_class_and_weight(atoms: Atoms, place: int) -> bool:
    """As in "ASA two eighty two kilos": a dose of aspirin is no kilograms."""
    number = read_number(atoms, place)
    if number is None or not is_small(atoms[place]) or atoms[place].value > _HIGHEST_ASA or number.end == place + 1:
        return False
    unit = read_unit(atoms, number.end)
    return unit is not None and unit[0] is KILOGRAM


def read_lettered(atoms: Atoms, place: int) -> Match | None:
    """As in "s one root", "l four five": a letter before figures names a level, unless the letters spell a word ("m c l three")."""
    number = read_number(atoms, place + 1)
    spelled_word = len(atoms[place - 1].word) == 1 and atoms[place - 1].kind == "word"
    if number is None or spelled_word or atoms[place + 1].joined:
        return None
    if atoms[number.end].word == atoms[place].word and atoms[number.end + 1].kind in ("digit", "num"):
        return Match(number.end)  # "l four l five" are two levels and no four litres
    if not number.readings and _bare_number(atoms, place + 1) is None:
        return None
    return None if read_unit(atoms, number.end) else Match(number.end)


def read_phone(atoms: Atoms, place: int) -> Match | None:
    """As in "extension four four one two", "call me on 5551234"."""
    start = _skip_to_number(atoms, place + 1)
    end = _end_of_group(atoms, start)
    while end - start >= _SHORTEST_GROUP and atoms[end].kind == "comma":
        following = _end_of_group(atoms, end + 1)
        if following - end <= _SHORTEST_GROUP or read_unit(atoms, following):
            break
        end = following
    return (
        Match(end)
        if end - start >= 3
        or (end > start and atoms[place].word == "dial")
        or (end > start and len(atoms[start].word) >= 3 and atoms[start].kind == "num")
        else None
    )


def _skip_to_number(atoms: Atoms, place: int) -> int:
    """The place after "me on", "my registrar on the ward on", "number is"."""
    start = place
    while atoms[start].word in _BEFORE_A_PHONE_NUMBER:
        start += 1
    named = next((step for step in range(start, place + _LONGEST_ADDRESSEE) if atoms[step].word == "on"), None)
    if named is None or not all(atoms[step].kind == "word" for step in range(start, named)):
        return start
    figures = end_of_figures(atoms, named + 1)  # "call the time on eight fifty two" has none of a telephone
    return named + 1 if figures - named > _SHORTEST_GROUP and figures == _end_of_group(atoms, named + 1) else start


def _end_of_group(atoms: Atoms, place: int) -> int:
    """The place after the figures of a telephone number that are said in one breath."""
    while is_figure(atoms[place]) or atoms[place].kind in ("num", "hyphen", "teen", "tens") or atoms[place].word in ("double", "triple"):
        place += 1
    return place


def read_number_that_counts_nothing(atoms: Atoms, place: int) -> Match | None:
    """Years, sayings, "this one", "the other two"."""
    for words in _SAYINGS:
        if atoms.words(place, len(words)) == words and not read_unit(atoms, place + len(words)):
            return Match(place + len(words))
    if atoms.words(place, 3) == ("one", "by", "one"):
        return Match(place + 3)
    if atoms[place].word == "one":
        if atoms[place + 1].word == "in" and is_small(atoms[place + 2]) and atoms[place + 3].word in _OF_MANY:
            return Match(place + 3)  # "one in three of them"
        if (share := _is_share_of_many(atoms, place)) is not None:
            return Match(share)
        return Match(place + 1) if _is_pronoun(atoms, place) or _is_pronoun_before_figure(atoms, place) else None
    if _is_list_number(atoms, place):
        return Match(place + 1)
    before = atoms[place - 1].word
    if before == "of" and atoms[place - 2].word in _COUNTING_OFF and (number := _bare_number(atoms, place)):
        return Match(number.end)  # "on the count of three"
    if before in _FEET and atoms[place - 2].kind in ("digit", "num") and (height := _bare_number(atoms, place)):
        return Match(height.end)  # "six foot two"
    if before in _NOT_THESE and is_small(atoms[place]) and (number := _bare_number(atoms, place)):
        return Match(number.end)
    return _year(atoms, place)


def _is_share_of_many(atoms: Atoms, place: int) -> int | None:
    """The place after "one in two hundred thousand", "a one in three chance"."""
    number = read_cardinal(atoms, place + 2) if atoms[place + 1].word == "in" else None
    if number is None or read_unit(atoms, number.end):
        return None
    return number.end if number.value >= _FIRST_OF_MANY or atoms[number.end].word in ("chance", "risk", "odds") else None


def _is_list_number(atoms: Atoms, place: int) -> bool:
    """As in "1. Repair of the ligament" at the beginning of a line or after a colon."""
    opens = atoms[place - 1].word in ("\n", ":") or place == 0
    return opens and atoms[place].kind == "num" and len(atoms[place].word) <= 2 and atoms[place + 1].word == "." and place + 2 < len(atoms)


def _is_pronoun_before_figure(atoms: Atoms, place: int) -> bool:
    """As in "reamed that one seven": the figure after "one" is the number, unless a unit makes it 1.7."""
    if atoms[place - 1].word not in ("that", "this", "other", "each", "which") or not is_small(atoms[place + 1]):
        return False
    number = read_number(atoms, place)
    return number is not None and bool(number.readings) and read_unit(atoms, number.end) is None


def _is_pronoun(atoms: Atoms, place: int) -> bool:
    """Whether "one" stands for a thing ("this one") and counts none."""
    number = read_number(atoms, place)
    if number is None or number.end > place + 1 or read_unit(atoms, number.end):
        return False
    before, after = atoms[place - 1], atoms[place + 1]
    if (after.word in ("or", "to") and is_small(atoms[place + 2])) or after.kind == "by":
        return False
    if after.word in v.FRACTION_WORDS or after.word in v.SHARES or after.word in ("couple", "plus", "+"):
        return False
    if before.word in _BEFORE_ONE or after.word in _AFTER_ONE or after.joined:
        return not (before.word in _ONE_AFTER and after.kind in ("stop", "comma"))
    return after.kind in ("stop", "comma") and before.word not in _ONE_AFTER


def _year(atoms: Atoms, place: int) -> Match | None:
    """A year alone; 2000 is one only after "in" and its like."""
    number = read_number(atoms, place)
    if number is None or not number.year or not 1950 <= number.value < 2080 or read_unit(atoms, number.end):
        return None
    if number.value == 2000 and atoms[place - 1].word not in ("in", "since", "of", "year", "from"):
        return None
    if atoms[number.end].kind == "by" or atoms[number.end].word in v.POINTS:
        return None
    return Match(number.end)
