"""What was dictated beside what the case sheet says: one value with both evidences, or a question."""

from __future__ import annotations

import pytest

from opnote.lexicon import Lexicon, load
from opnote.pipeline import run
from opnote.record.model import Attribute, Record
from opnote.record.scheduled import compare
from opnote.record.sheet import read_bytes
from opnote.transcript import read_bytes as transcript_of

LEXICON = load()
DICTATED = (
    "[0:01] Patient number R 22 071. [0:05] Surgeon is Doctor Brandvold. Assistant Ned Fairweather. "
    "[0:12] Operation on the ninth of March 2026. [0:20] Preoperative diagnosis: left ACL tear. "
    "[0:28] Procedure: left ACL reconstruction. [0:40] Estimated blood loss fifty millilitres."
)


def _record(sheet: str, dictated: str = DICTATED) -> Record:
    scheduled = read_bytes(sheet.encode(), name="case.toml", lexicon=LEXICON)
    return run(transcript_of(dictated.encode(), name="dictation.txt"), lexicon=LEXICON, sheet=scheduled).record


def _case(sheet: str, name: str) -> Attribute:
    return _record(sheet).of("case")[0].attributes[name]


def _sources(attribute: Attribute) -> list[str]:
    return [words.source for words in attribute.evidence]


def _candidates(attribute: Attribute) -> list[tuple[object, str]]:
    return [(candidate.value, candidate.evidence[0].source) for candidate in attribute.candidates]


@pytest.mark.parametrize(
    ("sheet", "name", "value"),
    [
        ('surgeon = "Ottilie Brandvold"', "surgeon", "Ottilie Brandvold"),
        ('assistants = ["E. Fairweather"]', "assistants", "E. Fairweather"),
        ('side = "left"', "side", "left"),
        ("date_of_surgery = 2026-03-09", "date_of_surgery", "2026-03-09"),
        ("ebl_mL = 50", "ebl_mL", 50),
        ('preop_diagnosis = ["anterior cruciate ligament rupture, left knee"]', "preop_diagnosis", "left ACL tear"),
    ],
)
def test_what_both_say_has_both_evidences(sheet: str, name: str, value: object) -> None:
    held = _case(sheet, name)
    assert held.value == value
    assert {"case", "dictation"} == set(_sources(held))


@pytest.mark.parametrize(
    ("sheet", "name", "candidates"),
    [
        ('surgeon = "Ottilie Oxenholme"', "surgeon", ["case", "dictation"]),
        ('assistants = ["Ida Marlow"]', "assistants", ["case", "dictation"]),
        ('side = "right"', "side", ["case", "dictation"]),
        ("date_of_surgery = 2026-03-10", "date_of_surgery", ["case", "dictation"]),
        ("ebl_mL = 60", "ebl_mL", ["case", "dictation"]),
        ('preop_diagnosis = ["right ACL tear"]', "preop_diagnosis", ["case", "dictation"]),
    ],
)
def test_what_they_say_differently_is_not_decided(sheet: str, name: str, candidates: list[str]) -> None:
    held = _case(sheet, name)
    assert held.value is None
    assert sorted(source for _, source in _candidates(held)) == candidates


OTHERWISE = [  # dictated, sheet, name, what was said
    ("No assistant.", 'assistants = ["Ida Marlow"]', "assistants", "none"),
    ("Assistants: none.", 'assistants = ["Ida Marlow"]', "assistants", "none"),
    ("It was done without an assistant.", 'assistants = ["Ida Marlow"]', "assistants", "none"),
    ("No antibiotics were given.", 'antibiotic = "cefazolin"', "antibiotic", "none"),
    ("Antibiotics were not given.", 'antibiotic = "cefazolin"', "antibiotic", "none"),
    ("No tourniquet was used.", "tourniquet_mmHg = 250", "tourniquet_mmHg", "none"),
    ("The tourniquet was not inflated.", "tourniquet_min = 60", "tourniquet_min", "none"),
    ("The operation was done without a tourniquet.", "tourniquet_min = 60", "tourniquet_min", "none"),
    ("No known drug allergies.", 'allergies = ["latex"]', "allergies", "none"),
    ("Specimens: none.", 'specimens = "a loose body"', "specimens", "none"),
    ("Spinal anesthesia.", 'anesthesia = ["general"]', "anesthesia", "spinal"),
    ("Patient is Bartholomew Quince, supine.", 'patient_name = "Gareth Marchpane"', "patient_name", "Bartholomew Quince"),
    ("Patient name: Berta Marchpane.", 'patient_name = "Gareth Marchpane"', "patient_name", "Berta Marchpane"),
    ("Date of birth the fourth of March 1970.", "date_of_birth = 1980-02-03", "date_of_birth", "1970-03-04"),
    ("Preoperative diagnosis: MPFL tear.", 'preop_diagnosis = ["ACL tear"]', "preop_diagnosis", "MPFL tear"),
]


@pytest.mark.parametrize(("dictated", "sheet", "name", "said"), OTHERWISE)
def test_no_field_of_the_sheet_stands_against_what_was_said(dictated: str, sheet: str, name: str, said: object) -> None:
    held = _record(sheet, f"[0:01] Left knee. [0:04] {dictated}").of("case")[0].attributes[name]
    assert held.value is None
    assert [value for value, source in _candidates(held) if source == "dictation"] == [said]
    assert "case" in {source for _, source in _candidates(held)}


AGREEING = [
    ("The assistant held the leg.", 'assistants = ["Ida Marlow"]', "assistants"),
    ("We could do it without an assistant.", 'assistants = ["Ida Marlow"]', "assistants"),
    ("No problem with the assistant.", 'assistants = ["Ida Marlow"]', "assistants"),
    ("Next time we would not use a tourniquet.", "tourniquet_mmHg = 250", "tourniquet_mmHg"),
    ("There was no bleeding when the tourniquet came down.", "tourniquet_mmHg = 250", "tourniquet_mmHg"),
    ("No reaction to the antibiotic.", 'antibiotic = "cefazolin"', "antibiotic"),
    ("The patient tolerated the procedure well.", 'patient_name = "Gareth Marchpane"', "patient_name"),
    ("Patient Left Knee Supine.", 'patient_name = "Gareth Marchpane"', "patient_name"),
    ("Patient is Gareth Marchpane.", 'patient_name = "G. Marchpane"', "patient_name"),
    ("Date of birth February third 1980.", "date_of_birth = 1980-02-03", "date_of_birth"),
]


@pytest.mark.parametrize(("dictated", "sheet", "name"), AGREEING)
def test_words_that_do_not_speak_against_the_sheet_leave_its_value(dictated: str, sheet: str, name: str) -> None:
    held = _record(sheet, f"[0:01] Left knee. [0:04] {dictated}").of("case")[0].attributes[name]
    assert (held.value is not None, held.candidates) == (True, ())


def test_a_denial_without_a_sheet_makes_no_value() -> None:
    record = run(transcript_of(b"[0:01] Left knee. No assistant. No tourniquet was used.", name="d.txt"), lexicon=LEXICON).record
    assert not {"assistants", "tourniquet_min", "tourniquet_mmHg"} & record.of("case")[0].attributes.keys()


def test_what_only_the_sheet_says_has_its_evidence() -> None:
    held = _case('allergies = ["latex"]', "allergies")
    assert (held.value, _sources(held), held.evidence[0].line, held.evidence[0].quote) == ("latex", ["case"], 1, "latex")


def test_a_further_name_on_the_sheet_stands_beside_the_dictated_one() -> None:
    held = _case('assistants = ["Ned Fairweather", "Ida Marlow"]', "assistants")
    assert held.value == ("Ned Fairweather", "Ida Marlow")
    assert set(_sources(held)) == {"case", "dictation"}


def test_procedures_take_the_side_of_the_sheet_where_nobody_said_it() -> None:
    record = _record('side = "left"', "[0:01] Procedure: ACL reconstruction with a hamstring autograft.")
    assert [procedure.attributes["side"].value for procedure in record.of("procedure")] == ["left"]


def test_procedures_share_the_doubt_about_the_side() -> None:
    record = _record('side = "right"')
    assert [procedure.attributes["side"].value for procedure in record.of("procedure")] == [None]


def test_a_sheet_alone_makes_a_case() -> None:
    record = _record('side = "left"', "[0:01] Good morning everybody.")
    assert [entity.type for entity in record.entities] == ["case"]


def test_the_account_is_of_spoken_sources_alone() -> None:
    assert {row.source for row in _record('side = "left"').account} == {"dictation"}


def test_the_sheet_changes_nothing_else() -> None:
    alone = run(transcript_of(DICTATED.encode(), name="dictation.txt"), lexicon=LEXICON).record
    beside = _record('site_name = "Harbour Street Hospital"')
    assert [e for e in alone.entities if e.type != "case"] == [e for e in beside.entities if e.type != "case"]
    assert alone.account == beside.account


def _verdict(name: str, said: str, written: str, lexicon: Lexicon = LEXICON) -> str:
    return compare(said, written, lexicon.attributes[("case", name)], lexicon)


@pytest.mark.parametrize(
    ("name", "said", "written", "verdict"),
    [
        ("surgeon", "Dr. Brandvold", "Ottilie Brandvold, MD", "same"),
        ("surgeon", "Zoe Muller", "Zoë Müller", "same"),
        ("surgeon", "Mr O'Neill", "Sean ONeill", "same"),
        ("surgeon", "Brandvold", "Brandt", "clash"),
        ("surgeon", "Jane Brandvold", "Ottilie Brandvold", "clash"),
        ("surgeon", "O. Brandvold", "Ottilie Brandvold", "same"),
        ("surgeon", "Otti Brandvold", "Ottilie Brandvold", "same"),
        ("assistants", "Brandvold", "Brandt", "other"),
        ("patient_id", "R22071", "r-22 071", "same"),
        ("patient_id", "R22071", "R22077", "clash"),
        ("date_of_surgery", "2026-03", "2026-03-09", "same"),
        ("date_of_surgery", "2026-04", "2026-03-09", "clash"),
        ("preop_diagnosis", "ACL tear", "anterior cruciate ligament rupture", "same"),
        ("preop_diagnosis", "ACL tear", "MPFL tear", "other"),
        ("preop_diagnosis", "left ACL tear", "right ACL tear", "clash"),
        ("preop_diagnosis", "instability", "ACL tear", "other"),
        ("complications", "none", "None", "same"),
        ("allergies", "none", "none known", "same"),
        ("allergies", "none", "No known allergies", "same"),
        ("allergies", "none", "latex", "other"),
        ("complications", "none", "a dural leak", "clash"),
    ],
)
def test_a_fair_comparison(name: str, said: str, written: str, verdict: str) -> None:
    assert _verdict(name, said, written) == verdict


AMBIGUOUS = "[0:01] Date of surgery 03/04/2026. [0:20] Preoperative diagnosis: left ACL tear. [0:28] Procedure: left ACL reconstruction."


def test_a_sheet_that_gives_one_reading_of_ambiguous_words_settles_them() -> None:
    held = _record("date_of_surgery = 2026-04-03", AMBIGUOUS).of("case")[0].attributes["date_of_surgery"]
    assert (held.value, held.candidates) == ("2026-04-03", ())
    assert {"case", "dictation"} == set(_sources(held))


@pytest.mark.parametrize("sheet", ['surgeon = "Ottilie Brandvold"', "date_of_surgery = 2026-05-03"])
def test_a_sheet_that_gives_none_of_the_readings_settles_nothing(sheet: str) -> None:
    held = _record(sheet, AMBIGUOUS).of("case")[0].attributes["date_of_surgery"]
    assert held.value is None
    assert [value for value, source in _candidates(held) if source == "dictation"] == ["2026-03-04", "2026-04-03"]
