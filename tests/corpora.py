"""The dictations that stand in the repository, for the tests that hold on all of them."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parent.parent
SAMPLES = tuple(sorted(path for path in (ROOT / "sample_dictations").iterdir() if (path / "gold.json").exists()))
DICTATIONS = tuple(sorted(path for path in (ROOT / "tests" / "corpus" / "dictations").iterdir() if (path / "gold.json").exists()))
SEALED = frozenset((ROOT / "tests" / "corpus" / "dictations" / "sealed.txt").read_text(encoding="utf-8").split())
"""Names of the dictations that nobody reads while lexicons and mechanism are written: only their sums are looked at."""


def transcript_of(case: Path) -> Path:
    """The one transcript in a case's folder."""
    [path] = case.glob("transcript.*")
    return path


def sheet_of(case: Path) -> Path | None:
    """The case sheet in a case's folder, if there is one."""
    path = case / "case-sheet.toml"
    return path if path.exists() else None
