"""Places in text, as two types that must not be mixed.

A ``RawSpan`` counts characters of a transcript as it was dictated; a ``TextSpan`` counts characters of the text as it was
read after hearing's edits. Only ``opnote.hearing`` converts one into the other.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class RawSpan:
    """Characters ``start`` (included) to ``end`` (excluded) of ``Transcript.text``."""

    start: int
    end: int

    def __post_init__(self) -> None:
        if not 0 <= self.start <= self.end:
            raise ValueError(f"a span runs forward from 0: {self.start}..{self.end}")


@dataclass(frozen=True, slots=True, order=True)
class TextSpan:
    """Characters ``start`` (included) to ``end`` (excluded) of ``Heard.text``."""

    start: int
    end: int

    def __post_init__(self) -> None:
        if not 0 <= self.start <= self.end:
            raise ValueError(f"a span runs forward from 0: {self.start}..{self.end}")
