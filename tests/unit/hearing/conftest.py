"""A lexicon loaded once, and a short way from a phrase to what is heard."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from opnote.hearing import Heard, hear
from opnote.lexicon import Lexicon, load
from opnote.transcript.model import Segment, Transcript


@pytest.fixture(scope="session")
def lexicon() -> Lexicon:
    return load()


@pytest.fixture(scope="session")
def heard(lexicon: Lexicon) -> Callable[[str], Heard]:
    return lambda text: hear(Transcript("dictation", "test", "", "text", text, (Segment(0, len(text)),)), lexicon)
