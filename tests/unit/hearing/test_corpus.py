"""Phrases by rule: what is read otherwise, and what stays as it was dictated."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from opnote.hearing import Heard

CORPUS = Path(__file__).parents[2] / "corpus"
FILES = sorted(CORPUS.glob("hearing_*.toml"))
RULES: list[tuple[str, dict[str, Any]]] = [
    (path.stem, rule) for path in FILES for rule in tomllib.loads(path.read_text(encoding="utf-8"))["rule"]
]
HEARD = [pytest.param(*pair, rule.get("ask", False), id=f"{stem}: {pair[0][:50]}") for stem, rule in RULES for pair in rule["heard"]]
LEAVE = [pytest.param(text, id=f"{stem}: {text[:50]}") for stem, rule in RULES for text in rule["leave"]]


@pytest.mark.parametrize(("text", "read_as", "ask"), HEARD)
def test_is_read_otherwise(text: str, read_as: str, ask: bool, heard: Callable[[str], Heard]) -> None:
    result = heard(text)
    assert result.text == read_as
    assert any(edit.ask for edit in result.edits) is ask


@pytest.mark.parametrize("text", LEAVE)
def test_is_left_as_dictated(text: str, heard: Callable[[str], Heard]) -> None:
    result = heard(text)
    assert result.text == text
    assert result.edits == ()


@pytest.mark.parametrize(("stem", "rule"), [pytest.param(*row, id=f"{row[0]}: {row[1]['name']}") for row in RULES])
def test_each_rule_has_two_silent_phrases(stem: str, rule: dict[str, Any]) -> None:
    assert rule["heard"]
    assert len(rule["leave"]) >= 2
