"""One spelling within a note: British or American, as the house wants it or as the dictation is written."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from opnote.lexicon.declared import House, Spelling

Written = Literal["British", "American"]

_QUOTE = re.compile(r"(“[^”]*”)")
_WORD = re.compile(r"[A-Za-z]+")


@dataclass(frozen=True)
class Speller:
    """Writes words in one of the two spellings."""

    written: Written
    spellings: tuple[Spelling, ...]

    @classmethod
    def of(cls, texts: Iterable[str], *, house: House, spellings: tuple[Spelling, ...]) -> Speller:
        """The speller that ``house`` wants for a dictation with these texts: of its own words' spelling, the more frequent one."""
        if house.spelling != "as dictated":
            return cls(house.spelling, spellings)
        british = {word for entry in spellings for word in entry.british}
        american = {word for entry in spellings for word in entry.american}
        words = [word.lower() for text in texts for word in _WORD.findall(text)]
        balance = sum((word in british) - (word in american) for word in words)
        return cls(house.otherwise if balance == 0 else "British" if balance > 0 else "American", spellings)

    @cached_property
    def _instead(self) -> dict[str, str]:
        pairs = [pair for entry in self.spellings for pair in zip(entry.british, entry.american, strict=True)]
        return dict(pairs) if self.written == "American" else {other: one for one, other in pairs}

    def spelled(self, text: str) -> str:
        """``text`` in the one spelling; what stands between “ and ” is a quote and stays as it is.

        >>> from opnote.lexicon.declared import Spelling
        >>> pair = Spelling(id="x", british=("anaesthesia",), american=("anesthesia",), source="x")
        >>> Speller("British", (pair,)).spelled("Anesthesia was said as “general anesthesia”")
        'Anaesthesia was said as “general anesthesia”'
        """
        parts = _QUOTE.split(text)
        return "".join(part if part.startswith("“") else _WORD.sub(self._one, part) for part in parts)

    def _one(self, found: re.Match[str]) -> str:
        word = found.group()
        instead = self._instead.get(word.lower(), word)
        return instead.capitalize() if instead != word and word[:1].isupper() else instead
