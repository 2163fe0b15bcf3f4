"""Every check fires where it should and is silent where it should: the cases of ``tests/checks/*.toml``."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from opnote.check import checks, run
from opnote.record.model import Finding
from tests.compact import record_of

FOLDER = Path(__file__).parent
KEYS = {"why", "source", "severity", "about", "says", "record", "repairs", "unsure", "mends"}
CASES = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(FOLDER.glob("*.toml"))}


def _cases(kind: str) -> list[Any]:
    return [
        pytest.param(rule, case, id=f"{rule}-{case['why'].replace(' ', '-')}")
        for rule, file in CASES.items()
        for case in file.get(kind, [])
    ]


def _findings(rule: str, case: dict[str, Any]) -> list[Finding]:
    record = record_of(case["record"], **{name: case[name] for name in ("repairs", "unsure", "mends") if name in case})
    return [finding for finding in run(record) if finding.rule == rule]


@pytest.mark.parametrize(("rule", "case"), _cases("fires"))
def test_fires(rule: str, case: dict[str, Any]) -> None:
    findings = _findings(rule, case)
    assert findings, f"{rule} is silent"
    if "severity" in case:
        findings = [finding for finding in findings if finding.severity == case["severity"]]
    assert findings, f"{rule} has another severity than {case['severity']}"
    named = {f"{about.type}.{about.attribute}" for finding in findings for about in finding.about}
    assert set(case.get("about", ())) <= named
    for words in case.get("says", ()):
        assert any(words in finding.message for finding in findings), [finding.message for finding in findings]


@pytest.mark.parametrize(("rule", "case"), _cases("silent"))
def test_silent(rule: str, case: dict[str, Any]) -> None:
    assert [finding.message for finding in _findings(rule, case)] == []


@pytest.mark.parametrize("rule", [check.id for check in checks()])
def test_each_check_has_one_case_that_fires_and_two_that_are_silent(rule: str) -> None:
    file = CASES.get(rule, {})
    assert len(file.get("fires", ())) >= 1
    assert len(file.get("silent", ())) >= 2


@pytest.mark.parametrize("rule", sorted(CASES))
def test_cases_belong_to_a_check_and_have_known_keys(rule: str) -> None:
    assert rule in {check.id for check in checks()}
    for kind, cases in CASES[rule].items():
        assert kind in ("fires", "silent")
        assert all(set(case) <= KEYS for case in cases)
