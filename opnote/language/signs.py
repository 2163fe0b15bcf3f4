"""Signs in the talk that tell where it goes: back to the operation, on with a story, yes to a question."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from opnote.language.phrases import Hit
from opnote.lexicon import Sign


class Signs:
    """Where phrases of ``lexicons/stance/signs.toml`` stand; ``free`` words may stand before what begins a statement."""

    def __init__(self, hits: Iterable[Hit], free: frozenset[str]) -> None:
        self._free = free
        self._at: dict[str, dict[int, int]] = {}
        for hit in hits:
            if hit.use == "sign" and isinstance(hit.entry, Sign):
                ends = self._at.setdefault(hit.entry.says, {})
                ends[hit.start] = max(hit.end, ends.get(hit.start, 0))

    def starts(self, says: str) -> Mapping[int, int]:
        """Where phrases of one sort begin, each with its end."""
        return self._at.get(says, {})

    def within(self, says: str, start: int, end: int) -> int | None:
        """The first place in a stretch at which a phrase of one sort begins."""
        places = self.starts(says)
        return next((place for place in range(start, end) if place in places), None) if places else None

    def opens(self, says: str, words: Sequence[str], start: int, end: int) -> int | None:
        """The end of the phrase of one sort with which a stretch begins, small words before it passed over."""
        places = self.starts(says)
        for place in range(start, min(end, start + 3)):
            if place in places:
                return places[place]
            if words[place] not in self._free:
                return None
        return None
