"""A long word that is no word at all, and close to one single term of the trade, is read as that term ("popliteous").

Precision first: only words of seven letters and more, never one that is in any vocabulary, never towards a drug, a number, a side or
another word with an opposite, never a name, and not where two terms are about as close.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rapidfuzz import fuzz

from opnote.hearing.edits import Change, cased
from opnote.hearing.protected import TITLES, is_number, prefix
from opnote.hearing.words import Word
from opnote.lexicon import Lexicon
from opnote.lexicon.models import Term
from opnote.lexicon.right_words import right_words

_SHORTEST = 7
_SCORE = 88.0
"""Least similarity in per cent (share of letters in common order); below it other medical words come into reach (own trial on SCOWL)."""
_LEAD = 6.0
"""By how much the second term must be less similar."""
_KINDS = frozenset(
    (
        "action",
        "anesthesia",
        "approach",
        "bone",
        "exam",
        "implant kind",
        "isometry result",
        "landmark",
        "material",
        "opens",
        "position",
        "structure",
        "tissue",
    )
)
"""Vocabularies whose words may be read into; drugs, sides, stresses, rotations, cortices and results are not among them."""


@dataclass(frozen=True, slots=True)
class LongTerms:
    """The words that may be read into, by first letter, each with the id of its term; all others are left alone."""

    by_letter: dict[str, tuple[tuple[str, str], ...]]
    known: frozenset[str]
    right: frozenset[str]
    guarded: frozenset[str]


def long_terms(lexicon: Lexicon) -> LongTerms:
    """The long words of the terms of ``lexicon`` that are no ordinary English, no name and have no opposite."""
    right = right_words()
    found: dict[str, str] = {}
    for term in lexicon.terms:
        for word in _candidates(term, lexicon.guarded):
            if word not in right:
                found.setdefault(word, term.id)
    by_letter: dict[str, list[tuple[str, str]]] = {}
    for word, owner in sorted(found.items()):
        by_letter.setdefault(word[0], []).append((word, owner))
    return LongTerms({letter: tuple(rows) for letter, rows in by_letter.items()}, lexicon.vocabulary, right, lexicon.guarded)


def _candidates(term: Term, guarded: frozenset[str]) -> list[str]:
    if term.kind not in _KINDS:
        return []
    words = [word for said in term.said for word in said.replace("-", " ").split()]
    return [word for word in words if len(word) >= _SHORTEST and word.isalpha() and word.islower() and word not in guarded]


def longterms(text: str, words: Sequence[Word], terms: LongTerms) -> list[Change]:
    """The repairs of all long words that are misspelled terms, in order."""
    meant: dict[str, str] = {}
    changes: list[Change] = []
    for index, word in enumerate(words):
        if len(word.low) < _SHORTEST or not word.apart or _names(words, index):
            continue
        if word.low not in meant:
            meant[word.low] = closest(word.low, terms)
        if meant[word.low]:
            changes.append(Change(word.start, word.end, cased(text[word.start : word.end], meant[word.low]), "repair", "close-to-term"))
    return changes


def closest(word: str, terms: LongTerms) -> str:
    """The one term that ``word`` (small letters) must be, or "".

    Endings are not corrected ("allografts", "isometrically"), nor are prefixes that turn the meaning ("hypo-" for "hyper-").
    """
    rivals = terms.by_letter.get(word[0], ())
    if not rivals or word in terms.known or word in terms.right or word in terms.guarded or is_number(word) or not word.isalpha():
        return ""
    scored = sorted(((fuzz.ratio(word, term), term, owner) for term, owner in rivals), reverse=True)
    score, term, owner = scored[0]
    second = next((other for other, _, rival in scored[1:] if rival != owner), 0.0)
    if score < _SCORE or score - second < _LEAD or prefix(word) != prefix(term) or word.startswith(term) or term.startswith(word):
        return ""
    return term


def _names(words: Sequence[Word], index: int) -> bool:
    """A title stands one or two words before: what follows is a name."""
    return any(word.low in TITLES for word in words[max(0, index - 2) : index])
