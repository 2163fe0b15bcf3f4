"""The knowledge that people who do not program edit, as data: terms, attributes, cues, mis-hearings, headings."""

from opnote.lexicon.load import Lexicon, load
from opnote.lexicon.models import (
    AttributeEntry,
    Correction,
    Filler,
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
