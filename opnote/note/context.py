"""The words around a quote, so that a surgeon sees what "250" was said about."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass, field
from itertools import groupby

from opnote.record.model import Evidence, Record

_WORDS = 6
_WORD, _GAP_WORD = re.compile(r"\S+\s*"), re.compile(r"\s*\S+")


@dataclass(frozen=True)
class Surroundings:
    """The text of each accounted source and where its statements begin and end."""

    texts: dict[str, str] = field(repr=False)
    statements: dict[str, list[tuple[int, int]]] = field(repr=False)

    @classmethod
    def of(cls, record: Record) -> Surroundings:
        """The surroundings in a record's account."""
        texts: dict[str, str] = {}
        found: dict[str, list[tuple[int, int]]] = {}
        for (source, _), group in groupby(record.account, key=lambda row: (row.source, row.statement)):
            rows = tuple(group)
            found.setdefault(source, []).append((rows[0].chars[0], rows[-1].chars[1]))
            for row in rows:
                texts[source] = texts.get(source, "").ljust(row.chars[0]) + row.quote
        return cls(texts, found)

    def around(self, evidence: Evidence) -> tuple[str, str]:
        """At most six words before and after a quote, from the statement it stands in, with the blanks between.

        Nothing for a source without account.
        """
        text, (start, end) = self.texts.get(evidence.source, ""), evidence.chars
        if text[start:end] != evidence.quote:
            return "", ""
        before = text[self._statement(evidence.source, start)[0] : start]
        after = text[end : self._statement(evidence.source, max(start, end - 1))[1]]
        return "".join(_WORD.findall(before)[-_WORDS:]), "".join(_GAP_WORD.findall(after)[:_WORDS])

    def _statement(self, source: str, char: int) -> tuple[int, int]:
        places = self.statements[source]
        return places[max(0, bisect_right(places, (char, len(self.texts[source]) + 1)) - 1)]
