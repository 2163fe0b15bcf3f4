"""The phrase files of ``tests/corpus``: what is said, and what it must mean.

A file holds tables, each with ``said``, a list of phrases:

``[[example]]``        ``means``: every quantity of the phrase (ordinals may be left out), in order, as ``KIND VALUE [UNIT] [(SAID)]``:
                       ``length 8.5 mm`` · ``angle 20..30 deg`` (a range) · ``length ~2 mm`` (approximate) · ``number 9.5|95`` (readings,
                       likelier first) · ``pair 8 x 28 mm`` · ``force 66.72 N (15 [lbf_av])`` (as said) · ``number 852 @clock=08:52``
                       (a note in ``why``) · ``date ?`` (no value: a doubt) · ``date ?|2026-03-04|2026-04-03`` (between days) ·
                       ``pair 2.7|27|7 x 20`` (readings of a part)
``[[never]]``          nothing is found except suture sizes, ages and ordinals; ``but`` names those that must be; ``why`` says why
``[[known_failure]]``  ``means`` is what should be found and is not yet, with its ``reason``
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import spacy
from spacy.language import Language

from opnote.language.model import Quantity
from opnote.language.quantities import find_quantities

CORPUS = Path(__file__).parents[2] / "corpus"
HARMLESS = frozenset({"suture size", "age", "ordinal"})


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase and the quantities it must give; ``means`` is None for one that must give none but ``HARMLESS`` ones."""

    said: str
    means: tuple[str, ...] | None
    table: str
    reason: str = ""


@cache
def _tokenizer() -> Language:
    return spacy.blank("en")


def tokens(text: str) -> list[str]:
    """The token texts that the pipeline would see."""
    return [token.text for token in _tokenizer()(text) if not token.is_space or "\n" in token.text]


def found_in(text: str) -> tuple[Quantity, ...]:
    """The quantities of ``text``."""
    return find_quantities(tokens(text))


def phrases(pattern: str) -> Iterator[Phrase]:
    """Every phrase of the corpus files whose name matches ``pattern``."""
    for path in sorted(CORPUS.glob(pattern)):
        yield from _phrases_of(tomllib.loads(path.read_text(encoding="utf-8")), path.name)


def _phrases_of(tables: dict[str, list[dict[str, object]]], file: str) -> Iterator[Phrase]:
    for table, entries in tables.items():
        for entry in entries:
            said, means, reason = entry["said"], entry.get("means", entry.get("but")), entry.get("reason") or entry.get("why") or ""
            if not isinstance(said, list) or (table != "example" and not reason):
                raise ValueError(f"{file}: [[{table}]] needs a list of phrases, and a reason: {entry}")
            yield from (Phrase(text, tuple(means) if isinstance(means, list) else None, table, str(reason)) for text in said)


def is_right(phrase: Phrase, found: tuple[Quantity, ...]) -> bool:
    """Whether ``found`` is what the phrase means: nothing missing, nothing more."""
    if phrase.means is None:
        return all(quantity.kind in HARMLESS for quantity in found)
    if not any(means.startswith("ordinal") for means in phrase.means):
        found = tuple(quantity for quantity in found if quantity.kind != "ordinal")
    return len(found) == len(phrase.means) and all(agrees(means, quantity) for means, quantity in zip(phrase.means, found, strict=True))


def is_dangerous(phrase: Phrase, found: tuple[Quantity, ...]) -> bool:
    """Whether a found number is wrong and looks right: the kind and unit that were meant, with another number."""
    wanted = [match for means in phrase.means or () if (match := NOTATION.fullmatch(means))]
    right = {(match["kind"], match["unit"]) for match in wanted}
    measured = [quantity for quantity in found if quantity.unit is not None and (quantity.kind, quantity.unit) in right]
    return any(
        not any(match["kind"] == quantity.kind and _same_value(match["value"], quantity) for match in wanted) for quantity in measured
    )


NOTATION = re.compile(
    r"(?P<kind>suture size|[a-z]+) (?P<about>~?)(?P<value>.+?)(?P<readings>(\|[\d.-]+)*)"
    r"(?: (?P<unit>mm|deg|N|mm\[Hg\]|mL|g|mg|ug|kg|min|wk|mo|a|%|times))?(?: \((?P<said>.+)\))?(?: @(?P<note>.+))?"
)


def agrees(means: str, quantity: Quantity) -> bool:
    """Whether ``quantity`` is what the notation ``means`` says."""
    match = NOTATION.fullmatch(means)
    if match is None:
        raise ValueError(f"not in the notation: {means}")
    return (
        match["kind"] == quantity.kind
        and bool(match["about"]) == quantity.approximate
        and match["unit"] == quantity.unit
        and _same_value(match["value"], quantity)
        and (not match["readings"] or quantity.readings == _readings(match["value"] + match["readings"]))
        and (not match["said"] or _said(quantity) == match["said"])
        and (not match["note"] or match["note"] in quantity.why)
    )


def _readings(text: str) -> tuple[float | str, ...]:
    """The readings of a number, likelier first, or of a date, which has no likelier one."""
    first, *others = text.split("|")
    return tuple(others) if first == "?" else tuple(map(float, (first, *others)))


def _same_value(text: str, quantity: Quantity) -> bool:
    if text == "?":
        return quantity.value is None and quantity.low is None
    if quantity.kind == "pair":
        said = text.split(" x ")
        return len(said) == len(quantity.parts) and all(_same_part(*both) for both in zip(said, quantity.parts, strict=True))
    if ".." in text:
        low, _, high = text.partition("..")
        return quantity.value is None and (quantity.low, quantity.high) == (float(low), float(high))
    if isinstance(quantity.value, str):
        return quantity.value == text
    return quantity.value is not None and quantity.value == float(text)


def _same_part(text: str, part: Quantity) -> bool:
    """Whether one part of a pair is as said; readings count where the notation gives them."""
    return part.value == float(text.split("|")[0]) and ("|" not in text or part.readings == _readings(text))


def _said(quantity: Quantity) -> str:
    return f"{quantity.said[0]:g} {quantity.said[1]}" if quantity.said else ""
