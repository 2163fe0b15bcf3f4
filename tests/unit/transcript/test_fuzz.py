"""A few hundred broken files of each format; ``python -m tests.fuzz`` tries as many as one likes."""

from __future__ import annotations

import pytest

from opnote.transcript.sniff import READERS
from tests.fuzz import SEEDS, fuzz


@pytest.mark.parametrize("name", SEEDS)
def test_broken_files_are_read_or_refused(name: str) -> None:
    count = fuzz(name, tries=100, seed_number=1)
    assert count.tried >= 100
    assert count.read


def test_every_format_is_broken() -> None:
    assert {name.replace(" ", "-") for name in READERS} - {"recogniser-json"} <= SEEDS.keys()
