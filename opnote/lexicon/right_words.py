"""Words that are right as they stand, ordinary or medical, from the two lists in ``lexicons/speech``."""

from __future__ import annotations

from functools import cache

from opnote.resources import lexicons_dir


@cache
def right_words() -> frozenset[str]:
    """All of them, in small letters; kept after the first call: the lists are data of the package, and reading them takes its time."""
    lists = [(lexicons_dir() / "speech" / name).read_text(encoding="utf-8") for name in ("ordinary-words.txt", "medical-words.txt")]
    return frozenset(line for text in lists for line in text.splitlines() if not line.startswith("#"))
