"""The samples: the note that each dictation makes, read in review like code, and how the records stand against their gold."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from opnote.case import read_case
from opnote.note import render
from tests.corpora import DICTATIONS, SAMPLES, SEALED, sheet_of, transcript_of
from tests.score import Score, score_case, total

FLOOR = 0.85  # no record of ours is less right than this


KNOWN_FAILURES: dict[str, str] = {}  # strict: a case that comes up to the floor must leave this list


def _case(path: Path, *, floor: bool = False) -> Any:
    reason = KNOWN_FAILURES.get(path.name) if floor else None
    return pytest.param(path, id=path.name, marks=[pytest.mark.xfail(strict=True, reason=reason)] if reason else [])


@pytest.mark.parametrize("case", [_case(path) for path in SAMPLES])
def test_the_note_of_a_sample(case: Path, snapshot: Callable[[str, str], None]) -> None:
    sheet = sheet_of(case)
    note = read_case(str(transcript_of(case)), sheet=str(sheet) if sheet else None).note()
    snapshot(f"../../sample_dictations/{case.name}/note.txt", render(note, form="txt"))


@pytest.mark.parametrize("case", [_case(path, floor=True) for path in (*SAMPLES, *DICTATIONS)])
def test_a_record_is_mostly_right(case: Path) -> None:
    result = score_case(case)
    assert result.precision >= FLOOR, result.wrong


def test_the_scores(snapshot: Callable[[str, str], None]) -> None:
    """What each dictation gains or loses by a change stands in the difference of this snapshot; of the sealed ones only their sum."""
    seen = "".join(_rows(case.name, score_case(case)) for case in (*SAMPLES, *DICTATIONS) if case.name not in SEALED)
    sealed = total(score_case(case) for case in DICTATIONS if case.name in SEALED)
    snapshot("scores.txt", seen + _head(f"{len(SEALED)} sealed", sealed))


def _rows(name: str, result: Score) -> str:
    marked = ((mark, line) for mark, lines in (("-", result.wrong), ("+", result.missed), ("!", result.traps)) for line in lines)
    return _head(name, result) + "".join(f"  {mark} {line}\n" for mark, line in marked)


def _head(name: str, result: Score) -> str:
    return f"{name}: {len(result.right)} right, {len(result.wrong)} wrong, {len(result.missed)} missed, {len(result.traps)} traps sprung\n"
