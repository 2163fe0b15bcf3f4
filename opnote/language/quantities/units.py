"""Spoken units, the UCUM code each stands for, and what one of it is worth in the canonical unit of its kind.

The factors are exact by definition (international yard and pound agreement 1959: inch 25.4 mm, pound 0.45359237 kg; standard gravity
9.80665 m/s2, ISO 80000-3) and are compared with pint in ``tests/unit/language/test_units.py``; pint is not imported here, because
its start-up would cost more than reading a whole dictation.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from opnote.language.model import QuantityKind

if TYPE_CHECKING:
    from opnote.language.quantities.atom import Atoms


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as said (``code``, UCUM where UCUM has it) and its canonical unit: ``value * factor`` is in ``canonical``."""

    code: str
    kind: QuantityKind
    canonical: str
    factor: float = 1.0
    decimals: int = 4

    def convert(self, value: float) -> float:
        """``value`` of this unit in the canonical unit, rounded to ``decimals``."""
        return round(value * self.factor, self.decimals)


MM: Final = Unit("mm", "length", "mm")
CM: Final = Unit("cm", "length", "mm", 10.0)
METRE: Final = Unit("m", "length", "mm", 1000.0)
INCH: Final = Unit("[in_i]", "length", "mm", 25.4)
DEGREE: Final = Unit("deg", "angle", "deg")
NEWTON: Final = Unit("N", "force", "N")
POUND: Final = Unit("[lbf_av]", "force", "N", 0.45359237 * 9.80665, 2)
POUND_MASS: Final = Unit("[lb_av]", "mass", "kg", 0.45359237, 2)
KILOGRAM_FORCE: Final = Unit("kgf", "force", "N", 9.80665, 2)
MMHG: Final = Unit("mm[Hg]", "pressure", "mm[Hg]")
ML: Final = Unit("mL", "volume", "mL")
LITRE: Final = Unit("L", "volume", "mL", 1000.0)
GRAM: Final = Unit("g", "mass", "g")
MILLIGRAM: Final = Unit("mg", "mass", "mg")
MICROGRAM: Final = Unit("ug", "mass", "ug")
KILOGRAM: Final = Unit("kg", "mass", "kg")
SECOND: Final = Unit("s", "duration", "min", 1 / 60, 2)
MINUTE: Final = Unit("min", "duration", "min")
HOUR: Final = Unit("h", "duration", "min", 60.0)
DAY: Final = Unit("d", "period", "wk", 1 / 7, 2)
WEEK: Final = Unit("wk", "period", "wk")
FORTNIGHT: Final = Unit("fortnight", "period", "wk", 2.0)
MONTH: Final = Unit("mo", "period", "mo")
YEAR: Final = Unit("a", "period", "a")
PERCENT: Final = Unit("%", "percent", "%")
TIMES: Final = Unit("times", "count", "times")
MIL: Final = Unit("mil", "number", "mil")
TORQUE: Final = Unit("N.m", "number", "N.m")

_SPOKEN: Final[dict[Unit, str]] = {
    MM: "mm|mms|m m|millimeter|millimeters|millimetre|millimetres|milli meter|milli meters|milli metre|milli metres|milimeter|milimeters",
    CM: "cm|cms|c m|centimeter|centimeters|centimetre|centimetres|centi meter|centi meters|centi metre|centi metres",
    METRE: "meter|meters|metre|metres",
    INCH: "inch|inches",
    DEGREE: "degree|degrees|deg|degs|°",
    NEWTON: "newton|newtons|N|newtons of force",
    POUND: "pound|pounds|lb|lbs|lbf|pound force|pounds force|pound of force|pounds of force",
    KILOGRAM_FORCE: "kgf|kilogram force|kilograms force|kilograms of force|kilo of force|kilos of force|kg of force|kilos of tension|"
    "kilograms of tension|kg of tension",
    MMHG: "mmhg|mm hg|mm of hg|mm mercury|mm of mercury|millimeter mercury|millimetre mercury|millimeters mercury|millimetres mercury|"
    "millimeters of mercury|mil of mercury|mils of mercury|mill of mercury|mills of mercury|"
    "millimetres of mercury|millimeter of mercury|millimetre of mercury|millimeters hg|millimetres hg|milli meters of mercury|"
    "milli metres of mercury|of mercury|mercury",
    ML: "ml|mls|m l|cc|ccs|c c|milliliter|milliliters|millilitre|millilitres|milli liter|milli liters|milli litre|milli litres|"
    "cubic centimeter|cubic centimeters|cubic centimetre|cubic centimetres",
    LITRE: "liter|liters|litre|litres|L",
    GRAM: "g|gm|gms|gram|grams|gramme|grammes",
    MILLIGRAM: "mg|mgs|m g|milligram|milligrams|milligramme|milligrammes|milli gram|milli grams",
    MICROGRAM: "mcg|ug|µg|microgram|micrograms|microgramme|microgrammes",
    KILOGRAM: "kg|kgs|k g|kilo|kilos|kilogram|kilograms|kilogramme|kilogrammes",
    SECOND: "second|seconds|sec|secs",
    MINUTE: "minute|minutes|min|mins",
    HOUR: "hour|hours|hr|hrs|h",
    DAY: "day|days",
    WEEK: "week|weeks|wk|wks",
    FORTNIGHT: "fortnight|fortnights",
    MONTH: "month|months",
    YEAR: "year|years|yr|yrs",
    PERCENT: "percent|per cent|%",
    TIMES: "times|cycles|cycle|repetitions|reps|full cycles|complete cycles",
    MIL: "mil|mils|mill|mills",
    TORQUE: "newton meter|newton meters|newton metre|newton metres|nm",
}


ALL: Final = (*_SPOKEN, POUND_MASS)


def _forms() -> dict[str, tuple[tuple[tuple[str, ...], Unit], ...]]:
    """First word to the (words, unit) that begin with it, longest first."""
    table: dict[str, list[tuple[tuple[str, ...], Unit]]] = {}
    for unit, spoken in _SPOKEN.items():
        for form in spoken.split("|"):
            words = tuple(form.lower().split())
            table.setdefault(words[0], []).append((words, unit))
    return {first: tuple(sorted(forms, key=lambda form: -len(form[0]))) for first, forms in table.items()}


_FORMS: Final = _forms()


def is_unit_word(word: str) -> bool:
    """Whether ``word`` alone names a unit."""
    return any(len(words) == 1 for words, _ in _FORMS.get(word, ()))


def read_unit(atoms: Atoms, place: int) -> tuple[Unit, int] | None:
    """The unit said at ``place`` and the place after it, the longest one that fits."""
    first = atoms[place]
    forms = _FORMS.get(first.word)
    if forms is None or first.kind != "word":
        return None
    for words, unit in forms:
        if atoms.words(place, len(words)) == words:
            return None if _is_spelled_word(atoms, place, words) else (unit, place + len(words))
    return None


_FIGURES: Final = frozenset({"digit", "oh", "num"})


def _is_spelled_word(atoms: Atoms, place: int, words: tuple[str, ...]) -> bool:
    """Whether the "unit" is a letter of a word that is spelled ("e b l ten l r") or of an identifier ("five five kilo one")."""
    following = atoms[place + len(words)]
    if words == ("kilo",):
        return following.kind in _FIGURES
    return all(len(word) == 1 for word in words) and len(following.word) == 1 and following.word.isalpha() and following.word not in "ax"
