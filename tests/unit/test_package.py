"""The few public names, and what importing them costs."""

from __future__ import annotations

import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

import pytest

import opnote

SAMPLE = Path(__file__).parents[2] / "sample_dictations" / "acl-hamstring-dictated"
DICTATION, SHEET = str(SAMPLE / "transcript.txt"), str(SAMPLE / "case-sheet.toml")


def test_the_version_stands_in_one_place() -> None:
    assert version("opnote") == opnote.__version__
    assert opnote.facts(DICTATION).made_by.opnote == opnote.__version__


@pytest.mark.parametrize("name", opnote.__all__)
def test_every_public_name_is_there(name: str) -> None:
    assert getattr(opnote, name) is not None
    assert name in dir(opnote)


def test_another_name_is_not_there() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'sign'"):
        opnote.sign  # noqa: B018


def test_importing_opnote_imports_nothing_else() -> None:
    code = "import sys; before = set(sys.modules); import opnote; sys.exit(len({m for m in set(sys.modules) - before if 'opnote.' in m}))"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_draft_is_made_of_one_record() -> None:
    case = opnote.draft(DICTATION, sheet=SHEET)
    assert case.record == opnote.facts(DICTATION, sheet=SHEET)
    assert len(case.worksheet.questions) == len(case.record.findings)
    assert case.note.section("case") is not None


def test_a_file_that_cannot_be_used_is_the_one_error_of_the_package() -> None:
    with pytest.raises(opnote.OpnoteError):
        opnote.facts("no-such-file.vtt")
