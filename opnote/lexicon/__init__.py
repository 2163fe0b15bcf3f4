"""The knowledge that people who do not program edit, as data: terms, attributes, cues, mis-hearings, headings."""

from opnote.lexicon.load import Lexicon, load
from opnote.lexicon.models import (
    AttributeEntry,
    Correction,
    Filler,
    Hint,
    Layout,
    Mishearing,
    Opener,
    Section,
    Sign,
    StanceCue,
    Term,
    Thing,
    WordClass,
    Words,
)

__all__ = [
    "AttributeEntry",
    "Correction",
    "Filler",
    "Hint",
    "Layout",
    "Lexicon",
    "Mishearing",
    "Opener",
    "Section",
    "Sign",
    "StanceCue",
    "Term",
    "Thing",
    "WordClass",
    "Words",
    "load",
]
