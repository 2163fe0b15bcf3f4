"""The phrase corpus read by opnote and by two general libraries, quantulum3 and text2num: how many phrases each gets right, and its speed.

Run by hand, with the two libraries installed (``pip install quantulum3 text2num``), from the root of the checkout::

    python -m tests.benchmarks.quantity_parsers

Only phrases whose meaning is numbers with or without units are compared (no identifiers, times, dates, grades). A library is right about a
phrase when it finds the numbers that were said, no more and no fewer; quantulum3 must also have the unit, in whatever unit it likes, and
may give a range as a middle and a margin. text2num only rewrites number words as figures, so only its numbers are looked at.
"""

from __future__ import annotations

import importlib
import re
import sys
import time
import warnings
from collections.abc import Callable, Iterator, Sequence
from typing import Any, NamedTuple

from opnote.language.model import Quantity
from opnote.language.quantities import find_quantities
from tests.unit.language.phrases import HARMLESS, NOTATION, Phrase, phrases, tokens

COMPARED = frozenset({"length", "angle", "force", "pressure", "volume", "mass", "duration", "period", "percent", "number", "pair", "count"})
FACTORS = (1.0, 10.0, 1000.0, 25.4, 4.4482216, 9.80665, 60.0, 1 / 60, 1 / 7)
QUANTULUM_UNITS = {
    "millimetre": ("mm", 1.0), "centimetre": ("mm", 10.0), "inch": ("mm", 25.4), "degree angle": ("deg", 1.0), "newton": ("N", 1.0),
    "pound-mass": ("N", 4.4482216), "pound-force": ("N", 4.4482216), "kilogram-force": ("N", 9.80665),
    "millimeter of mercury": ("mm[Hg]", 1.0), "millilitre": ("mL", 1.0), "cubic centimetre": ("mL", 1.0), "litre": ("mL", 1000.0),
    "gram": ("g", 1.0), "milligram": ("mg", 1.0), "microgram": ("ug", 1.0), "kilogram": ("kg", 1.0), "minute": ("min", 1.0),
    "hour": ("min", 60.0), "second": ("min", 1 / 60), "day": ("wk", 1 / 7), "week": ("wk", 1.0), "month": ("mo", 1.0), "year": ("a", 1.0),
    "percentage": ("%", 1.0), "dimensionless": ("", 1.0),
}  # fmt: skip

Measure = tuple[float, str]


class Score(NamedTuple):
    """A reader's name, phrases right of those compared, phrases of the nevers it finds something in, and milliseconds a phrase."""

    name: str
    right: int
    compared: int
    false_alarms: int
    nevers: int
    milliseconds: float


def measures_meant(phrase: Phrase) -> list[Measure]:
    """The numbers of the corpus's own notation in canonical units, sorted: both ends of a range, each part of a pair."""
    return sorted(measure for means in phrase.means or () for measure in _measures_of(means))


def _measures_of(means: str) -> Iterator[Measure]:
    match = NOTATION.fullmatch(means)
    if match is None:
        return
    for number in re.split(r"\.\.| x ", match["value"]):
        likelier = number.split("|")[0]
        yield round(float(likelier), 2), (match["unit"] or "").replace("times", "")


def measures_found(quantities: Sequence[Quantity]) -> list[Measure]:
    """The numbers that opnote found, in the same form."""
    return sorted(measure for quantity in quantities if quantity.kind != "ordinal" for measure in _numbers(quantity))


def _numbers(quantity: Quantity) -> Iterator[Measure]:
    for part in quantity.parts:
        yield from _numbers(part)
    for value in (quantity.value, quantity.low, quantity.high):
        if isinstance(value, float):
            yield round(value, 2), (quantity.unit or "").replace("times", "")


def quantulum_measures(parser: Any, text: str) -> list[Measure]:
    """What quantulum3 finds, in opnote's canonical units; a margin is given back as the two ends. An error inside it finds nothing."""
    found: list[Measure] = []
    try:
        quantities = parser.parse(text)
    except Exception as error:  # the library raises many kinds of errors on such phrases; a benchmark counts them as nothing found
        print(f"  quantulum3 raised {type(error).__name__} on {text!r}", file=sys.stderr)
        return found
    for quantity in quantities:
        unit, factor = QUANTULUM_UNITS.get(quantity.unit.name, (quantity.unit.name, 1.0))
        margin = quantity.uncertainty or 0.0
        values = {quantity.value - margin, quantity.value + margin}
        found += [(round(value * factor, 2), unit) for value in values]
    return sorted(found)


def text2num_is_right(alpha2digit: Callable[[str, str], str], phrase: Phrase) -> bool:
    """Whether the figures in the text that text2num writes are the numbers meant, in any unit they can have been said in."""
    figures = sorted(_figures(alpha2digit, phrase.said))
    meant = [number for number, _ in measures_meant(phrase)]
    if len(figures) != len(meant):
        return False
    return any(all(abs(figure * factor - number) < 0.01 for figure, number in zip(figures, meant, strict=True)) for factor in FACTORS)


def _figures(alpha2digit: Callable[[str, str], str], text: str) -> list[float]:
    return [float(number) for number in re.findall(r"(?<![\w.])-?\d+(?:\.\d+)?", alpha2digit(text, "en"))]


def _timed(read: Callable[[str], object], texts: list[str]) -> float:
    start = time.perf_counter()
    for text in texts:
        read(text)
    return 1000 * (time.perf_counter() - start) / len(texts)


def scores() -> list[Score]:
    """The three readers over the whole corpus, sealed phrases included; nothing is tuned on them here."""
    warnings.simplefilter("ignore")
    parser, text_to_num = importlib.import_module("quantulum3.parser"), importlib.import_module("text_to_num")
    everything = [phrase for phrase in phrases("*quantities*.toml") if phrase.table != "known_failure"]
    compared = [phrase for phrase in everything if phrase.table == "example" and _is_compared(phrase)]
    nevers = [phrase.said for phrase in everything if phrase.table == "never"]
    texts = [phrase.said for phrase in compared]
    split = {text: tokens(text) for text in texts + nevers}

    def score(name: str, is_right: Callable[[Phrase], bool], finds: Callable[[str], bool], read: Callable[[str], object]) -> Score:
        right = sum(is_right(phrase) for phrase in compared)
        return Score(name, right, len(compared), sum(finds(text) for text in nevers), len(nevers), _timed(read, texts))

    return [
        score(
            "opnote",
            lambda phrase: measures_found(find_quantities(split[phrase.said])) == measures_meant(phrase),
            lambda text: any(quantity.kind not in HARMLESS for quantity in find_quantities(split[text])),
            lambda text: find_quantities(split[text]),
        ),
        score(
            "quantulum3",
            lambda phrase: quantulum_measures(parser, phrase.said) == measures_meant(phrase),
            lambda text: bool(quantulum_measures(parser, text)),
            lambda text: quantulum_measures(parser, text),
        ),
        score(
            "text2num (numbers alone)",
            lambda phrase: text2num_is_right(text_to_num.alpha2digit, phrase),
            lambda text: bool(_figures(text_to_num.alpha2digit, text)),
            lambda text: _figures(text_to_num.alpha2digit, text),
        ),
    ]


def _is_compared(phrase: Phrase) -> bool:
    """Whether the phrase means numbers and units only."""
    return all(means.split()[0] in COMPARED for means in phrase.means or ())


def main() -> None:
    """Prints the comparison."""
    for score in scores():
        share = score.right / score.compared
        print(
            f"{score.name:25} right {score.right:4} of {score.compared} ({share:.3f})   "
            f"something found in {score.false_alarms:3} of {score.nevers} that mean nothing   {score.milliseconds:.3f} ms a phrase"
        )


if __name__ == "__main__":
    main()
