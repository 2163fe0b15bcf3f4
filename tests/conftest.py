"""What all tests share: snapshots as plain files, refreshed only by ``pytest --update-snapshots``."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

SNAPSHOTS = Path(__file__).parent / "snapshots"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-snapshots", action="store_true", help="write the snapshots instead of comparing with them")


@pytest.fixture
def snapshot(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """``snapshot(name, text)`` compares text with ``tests/snapshots/NAME``, or writes it there with ``--update-snapshots``."""
    update = request.config.getoption("--update-snapshots")

    def check(name: str, text: str) -> None:
        path = SNAPSHOTS / name
        if update:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode("utf-8"))
        if not path.exists():
            pytest.fail(f"no snapshot {name}: run `pytest --update-snapshots`, then read it before it is committed")
        assert text == path.read_bytes().decode("utf-8"), f"{name} differs; if that is meant, run `pytest --update-snapshots`"

    return check
