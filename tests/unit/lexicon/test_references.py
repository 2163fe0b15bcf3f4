"""Every name that an entry uses and no entry has is told, with file, entry and field, and with what to try."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest

import opnote.check
from opnote import keeper
from opnote.check.entries import TABLES as PROCEDURES
from opnote.check.profiles import PROFILE_TABLES
from opnote.check.references import LIMIT_FAMILIES
from opnote.language.model import QuantityKind
from opnote.lexicon import load
from opnote.lexicon.load import READ_ELSEWHERE, TABLES
from opnote.lexicon.references import QUANTITIES, SUFFIXES, UNITS
from opnote.note.layout import EVERYTHING, load_layout
from opnote.note.wording import suffix_unit

GOOD: dict[str, str] = {
    "term": 'id = "x"\nkind = "implant kind"\nvalue = "staple"\nsaid = ["bridge clamp"]',
    "attribute": 'type = "implant"\nname = "hue"\nlabel = "x"\nvalue = "quantity"\nquantities = ["length"]\nunit = "mm"\nnear = ["@bone"]',
    "thing": 'id = "isometry"\nopened_by = ["isometry result"]\nin_a_test = []\nnot_in = ["plan"]\nlent = ["structure"]',
    "cue": 'id = "x"\nstance = "option"\nsaid = ["conceivably"]\nscope = "statement"\nexample = "conceivably a staple"',
    "section": 'id = "x"\nsection = "plan"\nsaid = ["then at home"]',
    "words": 'id = "screws"\nnote = "n"\nof = ["implant kind"]\nwords = ["bone screw"]',
    "structure": 'id = "ACL"\ncompartment = "central"\nbones = ["femur"]',
    "range": 'id = "x"\ntype = "implant"\nattribute = "diameter_mm"\nusual = [1, 2]',
    "limit": 'id = "backwards"\nhigh = 2',
    "order": 'id = "x"\nfirst = "incision"\nthen = "closure"',
    "list": 'id = "full-loading"\nof = "weight bearing"\nmembers = ["full"]',
    "off": 'id = "FIT02"',
    "row": 'id = "x"\nprofile = "cms"\nelements = ["ebl"]',
    "element": 'id = "x"\nlabel = "x"\nof = "implant"\nany_of = ["lot"]\nseverity = "ask"\nquestion = "lot"',
}  # fmt: skip
SOURCELESS = ("row", "element")

LOOSE = [  # table, what stands in place of what, the field that is told, and what to try
    ("term", 'kind = "implant kind"', 'kind = "implant kinds"', "kind", 'did you mean "implant kind"?'),
    ("term", 'value = "staple"\n', "", "value", "is needed"),
    ("term", 'value = "staple"', 'value = "Staple"', "value", 'is written "staple" elsewhere'),
    ("term", 'value = "staple"', 'value = "staple"\neach = ["stapel"]', "each", 'did you mean "staple"?'),
    ("term", 'kind = "implant kind"', 'kind = "opens"', "value", 'no such thing: "staple"'),
    ("term", 'kind = "implant kind"', 'kind = "strands"', "value", "a number in quotes is expected"),
    ("term", 'kind = "implant kind"', 'kind = "something else"', "value", "leave the field out"),
    ("attribute", 'type = "implant"', 'type = "implnt"', "type", 'did you mean "implant"?'),
    ("attribute", '"@bone"', '"@bones"', "near", 'did you mean "bone"?'),
    ("attribute", '["length"]', '["lenght"]', "quantities", 'did you mean "length"?'),
    ("attribute", 'unit = "mm"', 'unit = "millimetres"', "unit", "known: "),
    ("attribute", 'name = "hue"', 'name = "hue_deg"', "unit", 'which is "deg"'),
    ("thing", '["isometry result"]', '["isometry results"]', "opened_by", 'did you mean "isometry result"?'),
    ("thing", "in_a_test = []", 'in_a_test = ["stress"]', "in_a_test", "known: isometry result"),
    ("thing", 'not_in = ["plan"]', 'not_in = ["plans"]', "not_in", 'did you mean "plan"?'),
    ("thing", 'not_in = ["plan"]', 'hardly_in = ["plans"]', "hardly_in", 'did you mean "plan"?'),
    ("thing", 'lent = ["structure"]', 'lent = ["structures"]', "lent", 'did you mean "structure"?'),
    ("thing", 'lent = ["structure"]', 'second = "structures"', "second", 'did you mean "structure"?'),
    ("cue", '["conceivably"]', '["conceivably <persn>"]', "said", 'no such word class: "persn"'),
    ("cue", 'stance = "option"', 'stance = "options"', "stance", 'did you mean "option"?'),
    ("cue", 'scope = "statement"', 'scope = "sentence"', "scope", "known: ahead, backward, before"),
    ("section", 'section = "plan"', 'section = "aftercare"', "section", "known: anesthesia, description"),
    ("section", 'section = "plan"', 'section = "plan"\nwhile_named = "actions"', "while_named", 'did you mean "action"?'),
    ("words", 'id = "screws"', 'id = "screw"', "id", 'did you mean "screws"?'),
    ("words", '["bone screw"]', '["bone screws"]', "words", 'did you mean "bone screw"?'),
    ("words", 'of = ["implant kind"]', 'of = ["implant"]', "of", 'no such vocabulary: "implant"'),
    ("structure", 'id = "ACL"', 'id = "popliteuss"', "id", 'did you mean "popliteus"?'),
    ("structure", '["femur"]', '["femr"]', "bones", 'did you mean "femur"?'),
    ("structure", "compartment", 'stress = "valgum"\ncompartment', "stress", 'did you mean "valgus"?'),
    ("structure", "compartment", 'never_stress = ["valgum"]\ncompartment', "never_stress", 'did you mean "valgus"?'),
    ("structure", "compartment", 'never_rotation = ["inner"]\ncompartment', "never_rotation", "known: external"),
    ("structure", "compartment", 'exam = "lachmann"\ncompartment', "exam", 'did you mean "Lachman"?'),
    ("structure", "compartment", 'never_landmark = ["jointline"]\ncompartment', "never_landmark", 'did you mean "joint line"?'),
    ("structure", "compartment", 'but_landmark = ["joint line"]\ncompartment', "but_landmark", 'did you mean "tibia joint line"?'),
    ("range", 'type = "implant"', 'type = "implnt"', "type", 'did you mean "implant"?'),
    ("range", '"diameter_mm"', '"diameter"', "attribute", 'did you mean "diameter_mm"?'),
    ("range", '"diameter_mm"', '"kind"', "attribute", "holds no number"),
    ("range", "usual", 'where = { kinds = ["staple"] }\nusual', "where", 'did you mean "kind"?'),
    ("range", "usual", 'where = { kind = ["stapel"] }\nusual', "where.kind", 'did you mean "staple"?'),
    ("limit", '"backwards"', '"backward"', "id", 'did you mean "backwards"?'),
    ("limit", '"backwards"', '"dose-g-cefazoline"', "id", 'did you mean "cefazolin"?'),
    ("order", '"incision"', '"incison"', "first", 'did you mean "incision"?'),
    ("order", '"closure"', '"closing"', "then", "known: antibiotic given"),
    ("list", '"full-loading"', '"full-load"', "id", 'did you mean "full-loading"?'),
    ("list", '["full"]', '["all of it"]', "members", "known: as tolerated, full"),
    ("list", '"weight bearing"', '"weight-bearing"', "of", 'did you mean "weight bearing"?'),
    ("off", '"FIT02"', '"FIT2"', "id", 'did you mean "FIT02"?'),
    ("row", '"cms"', '"cmss"', "profile", 'did you mean "cms"?'),
    ("row", '["ebl"]', '["eble"]', "elements", 'did you mean "ebl"?'),
    ("element", 'question = "lot"', 'question = "lots"', "question", 'did you mean "lot"?'),
    ("element", 'of = "implant"', 'of = "implants"', "of", 'did you mean "implant"?'),
    ("element", '["lot"]', '["lots"]', "any_of", 'did you mean "lot"?'),
    ("element", "severity", 'where = { kind = ["stapel"] }\nseverity', "where.kind", 'did you mean "staple"?'),
    ("element", "severity", 'unless = { kind = ["stapel"] }\nseverity', "unless.kind", 'did you mean "staple"?'),
    ("element", "severity", 'per = { type = "grft", same = "structure" }\nseverity', "per.type", 'did you mean "graft"?'),
    ("element", "severity", 'per = { type = "graft", same = "structur" }\nseverity', "per.same", 'did you mean "structure"?'),
]  # fmt: skip


def _faults(folder: Path, table: str, fields: str) -> tuple[str, ...]:
    home = folder / next((name for name, tables in READ_ELSEWHERE.items() if table in tables), "ours")
    home.mkdir(exist_ok=True)
    source = "" if table in SOURCELESS else 'source = "a test"\n'
    (home / "ours.toml").write_text(f"[[{table}]]\n{source}{fields}\n", encoding="utf-8")
    return keeper.faults([folder], examples=False)


@pytest.mark.parametrize("table", GOOD)
def test_an_entry_whose_names_are_known_has_no_fault(table: str, tmp_path: Path) -> None:
    assert _faults(tmp_path, table, GOOD[table]) == ()


@pytest.mark.parametrize(("table", "known", "loose", "field", "hint"), LOOSE)
def test_a_name_that_nothing_has_is_told(table: str, known: str, loose: str, field: str, hint: str, tmp_path: Path) -> None:
    assert known in GOOD[table]
    faults = _faults(tmp_path, table, GOOD[table].replace(known, loose, 1))
    told = [fault for fault in faults if f": {field}: " in fault]
    assert len(told) == 1, faults
    assert hint in told[0]
    assert re.match(rf"(\w+/)?ours\.toml: {table} \S+: ", told[0])


def test_all_loose_names_are_told_at_once(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(
        '[[term]]\nid = "x"\nkind = "no kind"\nvalue = "v"\nsaid = ["x y z"]\nsource = "s"\n'
        '[[term]]\nid = "y"\nkind = "implant kind"\nvalue = "v"\nsaid = []\nsource = "s"\n',
        encoding="utf-8",
    )
    (tmp_path / "procedures").mkdir()
    (tmp_path / "procedures" / "b.toml").write_text('[[off]]\nid = "NONE99"\nsource = "s"\n', encoding="utf-8")
    assert [fault.split(": ")[:3] for fault in keeper.faults([tmp_path])] == [
        ["a.toml", "term y", "said"],
        ["a.toml", "term x", "kind"],
        ["procedures/b.toml", "off NONE99", "id"],
    ]


def test_what_names_a_broken_entry_is_no_fault_besides(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(
        '[[vocabulary]]\nid = "hue"\nsource = "s"\n\n[[term]]\nid = "hue-red"\nkind = "hue"\nvalue = "red"\nsaid = ["red"]\nsource = "s"\n',
        encoding="utf-8",
    )
    assert [fault.split(": ")[1:3] for fault in keeper.faults([tmp_path])] == [["vocabulary hue", "note"]]


# --- the lists that the lint compares with are the program's ---------------------------------------------------------------------------


def test_the_kinds_of_quantity_are_those_of_the_language_stage() -> None:
    assert set(QUANTITIES) == set(get_args(QuantityKind))


def test_the_units_that_names_end_in_are_those_of_the_note() -> None:
    assert {suffix: suffix_unit(f"x_{suffix}") for suffix in SUFFIXES} == SUFFIXES
    assert set(SUFFIXES.values()) <= set(UNITS)
    assert {entry.unit for entry in load().attributes.values() if entry.unit} <= set(UNITS)


def test_the_tables_of_the_other_folders_are_known() -> None:
    assert {"procedures": set(PROCEDURES), "profiles": set(PROFILE_TABLES)} == {
        name: set(tables) for name, tables in READ_ELSEWHERE.items()
    }
    assert TABLES.keys().isdisjoint([*PROCEDURES, *PROFILE_TABLES])


def test_the_families_of_limits_are_those_that_checks_ask_for() -> None:
    source = "\n".join(path.read_text(encoding="utf-8") for path in Path(opnote.check.__file__).parent.glob("*.py"))
    assert set(re.findall(r'limits\.get\(f"([a-z-]+){', source)) == set(LIMIT_FAMILIES)


def test_every_limit_and_list_that_a_check_asks_for_is_there() -> None:
    source = "\n".join(path.read_text(encoding="utf-8") for path in Path(opnote.check.__file__).parent.glob("*.py"))
    known = opnote.check.built_in()
    assert set(re.findall(r'members\("([a-z-]+)"', source)) == set(known.lists)
    limits = {name for name in known.limits if not name.startswith(tuple(LIMIT_FAMILIES))}
    assert all(f'"{name}"' in source for name in limits)


def test_the_note_shows_only_parts_of_a_dictation_that_there_are() -> None:
    layout = load_layout()
    named = {name for plan in layout.section for name in plan.text} | set(layout.header_text)
    assert named - {EVERYTHING} <= {part.id for part in load().parts}


@pytest.mark.parametrize("part", sorted({part.id for part in load().parts}))
def test_every_part_of_a_dictation_has_a_heading(part: str) -> None:
    assert part in {section.section for section in load().sections}


@pytest.mark.parametrize("kind", sorted(entry.id for entry in load().vocabularies))
def test_every_vocabulary_has_terms(kind: str) -> None:
    assert kind in {term.kind for term in load().terms}
