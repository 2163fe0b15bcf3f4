"""The data of the checks: every fault is told at once; a later folder replaces entries; what is stated has a source."""

from __future__ import annotations

from pathlib import Path

import pytest

from opnote.check import built_in, knowledge_of, rules_off, run
from opnote.errors import LexiconError
from opnote.lexicon import load
from tests.compact import record_of

BROKEN = """
[[range]]
id = "a"
type = "tunnel"
attribute = "depth_mm"
usual = [30, 20]
source = "common practice"

[[range]]
id = "b"
type = "tunnel"
attribute = "depth_mm"
usual = [20, 30]
colour = "red"
source = ""

[[limit]]
id = "c"
high = 2

[[limt]]
id = "d"
"""


def _folder(root: Path, name: str, text: str) -> Path:
    (root / "procedures").mkdir(parents=True, exist_ok=True)
    (root / "procedures" / name).write_text(text, encoding="utf-8")
    return root


def test_every_fault_of_a_file_is_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(LexiconError) as caught:
        knowledge_of(load(), folders=[_folder(tmp_path, "site.toml", BROKEN)])
    told = "\n".join(caught.value.faults)
    for part in (
        "range a",
        "runs from low to high",
        "range b: colour",
        "range b: source",
        "limit c: source",
        '[[limt]]: no such kind of entry; did you mean "limit"?',
    ):
        assert part in told


def test_a_file_that_is_no_toml_is_a_fault_and_not_a_crash(tmp_path: Path) -> None:
    with pytest.raises(LexiconError, match=r"site\.toml:1: not readable as TOML"):
        knowledge_of(load(), folders=[_folder(tmp_path, "site.toml", "= =")])


def test_an_id_that_stands_twice_is_a_fault(tmp_path: Path) -> None:
    limit = '[[limit]]\nid = "twice"\nhigh = 1\nsource = "common practice"\n'
    with pytest.raises(LexiconError, match=r"limit twice: id: stands already in procedures/site\.toml"):
        knowledge_of(load(), folders=[_folder(tmp_path, "site.toml", limit * 2)])


def test_a_site_changes_a_limit(tmp_path: Path) -> None:
    limit = '[[limit]]\nid = "screw-over-socket"\nhigh = 6\nsource = "the site\'s own habit"\n'
    known = knowledge_of(load(), folders=[_folder(tmp_path, "site.toml", limit)])
    record = record_of(
        [
            {"type": "tunnel", "structure": "sMCL", "bone": "femur", "depth_mm": 25},
            {"type": "implant", "kind": "interference screw", "structure": "sMCL", "bone": "femur", "length_mm": 30},
        ]
    )
    assert "FIT01" in {finding.rule for finding in run(record)}
    assert "FIT01" not in {finding.rule for finding in run(record, knowledge=known)}


def test_a_row_that_names_an_unknown_element_is_a_fault(tmp_path: Path) -> None:
    folder = tmp_path / "profiles"
    folder.mkdir()
    (folder / "site.toml").write_text('[[row]]\nid = "S-1"\nprofile = "site"\nelements = ["nothing"]\n', encoding="utf-8")
    with pytest.raises(LexiconError) as caught:
        knowledge_of(load(), folders=[tmp_path])
    assert [fault.split(": ")[:3] for fault in caught.value.faults] == [
        ["profiles/site.toml", "row S-1", "profile"],
        ["profiles/site.toml", "row S-1", "elements"],
    ]


def test_what_is_usual_is_possible_and_known_structures_fit_their_ranges() -> None:
    known = built_in()
    for bounds in (bounds for found in known.ranges.values() for bounds in found):
        assert set(bounds.where.get("structure", ())) <= set(known.structures)
    for structure in known.structures.values():
        assert structure.stress not in structure.never_stress


def test_every_required_element_is_asked_for_by_a_profile() -> None:
    known = built_in()
    asked = {name for row in known.profiles.rows for name in row.elements}
    assert asked == set(known.profiles.elements)


def test_ranges_with_more_conditions_are_tried_first() -> None:
    for found in built_in().ranges.values():
        conditions = [len(bounds.where) for bounds in found]
        assert conditions == sorted(conditions, reverse=True)


def test_a_site_switches_a_rule_off_and_the_note_can_say_so(tmp_path: Path) -> None:
    off = '[[off]]\nid = "SIDE01"\nsource = "decided by the site"\n'
    known = knowledge_of(load(), folders=[_folder(tmp_path, "site.toml", off)])
    record = record_of([{"type": "case", "side": {"candidates": ["left", "right"]}}])
    assert "SIDE01" not in {finding.rule for finding in run(record, knowledge=known)}
    assert rules_off(known, ("said-two-ways",)) == ("SAID01", "SIDE01")
