"""The commands: what they print and where, their exit statuses, and one clear line for whatever cannot be used."""

from __future__ import annotations

import io
import json
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from opnote.cli import main
from opnote.record.model import Record
from opnote.transcript import LIMIT_BYTES

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "sample_dictations" / "acl-patellar-tendon-theatre"
DICTATION, SHEET = str(SAMPLE / "transcript.json"), str(SAMPLE / "case-sheet.toml")
COMMANDS = (
    *(["draft"], ["facts"], ["check"], ["explain"], ["trace"], ["transcript"]),
    *(["lexicon", "check"], ["lexicon", "find"], ["lexicon", "quantities"]),
)

PATIENT = "Quillerbeck"  # a name that must never reach an error line

Result = SimpleNamespace
Opnote = Callable[..., Result]


@pytest.fixture
def opnote(capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Opnote:
    """``opnote("facts", FILE, stdin=b"...")`` runs a command here and returns its status, standard output and standard error."""

    def run(*arguments: str, stdin: bytes = b"") -> Result:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(stdin)))
        capfd.readouterr()
        with pytest.raises(SystemExit) as left:
            main(list(arguments))
        out, err = capfd.readouterr()
        return SimpleNamespace(status=left.value.code, out=out, err=err)

    return run


def _process(*arguments: str, **options: Any) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, *arguments], capture_output=True, text=True, encoding="utf-8", check=False, **options)


# --- what commands print -----------------------------------------------------------------------------------------------------------


def test_draft_prints_the_note_and_apart_from_it_the_worksheet(opnote: Opnote) -> None:
    result = opnote("draft", DICTATION, "--case", SHEET)
    assert result.status == 0
    assert result.out.startswith("OPERATIVE NOTE\n")
    assert result.err.startswith("WORKSHEET\n")
    assert "Gareth Marchpane" in result.out
    assert "Questions" not in result.out


def test_draft_prints_the_worksheet_alone(opnote: Opnote) -> None:
    result = opnote("draft", DICTATION, "--worksheet")
    assert result.out.startswith("WORKSHEET\n")
    assert result.err == ""


def test_an_immediate_note_is_shorter(opnote: Opnote) -> None:
    result = opnote("draft", DICTATION, "--kind", "immediate")
    assert result.out.startswith("IMMEDIATE POST-OPERATIVE NOTE\n")


def test_out_writes_five_files_and_prints_no_note(opnote: Opnote, tmp_path: Path) -> None:
    result = opnote("draft", DICTATION, "--out", str(tmp_path / "drafts"))
    names = {path.name for path in (tmp_path / "drafts").iterdir()}
    assert names == {"note.md", "note.txt", "note.html", "worksheet.html", "record.json"}
    assert result.out == ""
    assert len(result.err.splitlines()) == 5
    Record.model_validate_json((tmp_path / "drafts" / "record.json").read_text(encoding="utf-8"))


def test_facts_prints_a_record_that_its_schema_describes(opnote: Opnote) -> None:
    record = Record.model_validate_json(opnote("facts", DICTATION, "--case", SHEET).out)
    assert [source.kind for source in record.sources] == ["dictation", "case sheet"]
    assert record.findings


def test_facts_of_standard_input_are_those_of_the_file(opnote: Opnote) -> None:
    piped = json.loads(opnote("facts", "-", stdin=Path(DICTATION).read_bytes()).out)
    filed = json.loads(opnote("facts", DICTATION).out)
    assert piped["sources"][0].pop("name") == "standard input"
    assert filed["sources"][0].pop("name") == "transcript.json"
    assert piped == filed


def test_the_schema_lists_the_parts_of_a_record(opnote: Opnote) -> None:
    schema = json.loads(opnote("facts", "--schema").out)
    assert set(schema["properties"]) == set(Record.model_fields)


def test_an_addendum_is_a_source_of_its_own(opnote: Opnote, tmp_path: Path) -> None:
    later = tmp_path / "later.txt"
    later.write_text("[0:02] Addendum. Estimated blood loss was fifty millilitres.\n", encoding="utf-8")
    record = Record.model_validate_json(opnote("facts", DICTATION, "--addendum", str(later)).out)
    loss = record.of("case")[0].attributes["ebl_mL"]
    assert (loss.value, [words.source for words in loss.evidence]) == (50.0, ["addendum-1"])


def test_check_leaves_with_1_when_a_finding_stops_the_note(opnote: Opnote, tmp_path: Path) -> None:
    sides = tmp_path / "sides.txt"
    sides.write_text("[0:02] Procedure: left ACL reconstruction.\n[0:09] Diagnosis: right ACL tear.\n", encoding="utf-8")
    result = opnote("check", str(sides), "--format", "json")
    assert result.status == 1
    assert "stop" in {finding["severity"] for finding in json.loads(result.out)}


def test_check_leaves_with_0_when_nothing_stops_the_note(opnote: Opnote, tmp_path: Path) -> None:
    plain = tmp_path / "plain.txt"
    plain.write_text("[0:02] Left knee, supine.\n", encoding="utf-8")
    result = opnote("check", str(plain))
    assert result.status == 0
    assert "GAP01" in result.out


def test_fewer_standards_ask_for_less(opnote: Opnote) -> None:
    assert "KNEE-1" in opnote("check", DICTATION).out
    assert "KNEE-1" not in opnote("check", DICTATION, "--profile", "cms").out


def test_explain_prints_a_rules_page(opnote: Opnote) -> None:
    result = opnote("explain", "side01")
    assert result.status == 0
    assert result.out.startswith("SIDE01 ")


def test_a_dictation_in_several_files_is_one(opnote: Opnote, tmp_path: Path) -> None:
    first, second = tmp_path / "first.txt", tmp_path / "second.txt"
    first.write_text("[0:01] Left knee. [0:04] The femoral tunnel was reamed to nine millimetres.\n", encoding="utf-8")
    second.write_text("[0:02] The tibial tunnel was reamed to ten millimetres.\n", encoding="utf-8")
    done = opnote("facts", str(first), str(second))
    assert done.status == 0, done.err
    [source] = json.loads(done.out)["sources"]
    assert source["name"] == "first.txt, second.txt"
    assert {mend["what"].partition(";")[0] for mend in source["mends"]} == {"second.txt: its seconds begin anew"}
    tunnels = [entity["attributes"]["diameter_mm"] for entity in json.loads(done.out)["entities"] if entity["type"] == "tunnel"]
    assert sorted((tunnel["value"], tunnel["evidence"][0]["start_s"] >= 6) for tunnel in tunnels) == [(9, False), (10, True)]
    assert opnote("transcript", str(first), str(second)).out.splitlines()[-1].startswith("[0:06] The tibial")
    twice = opnote("draft", str(first), str(first))
    assert (twice.status, "the same file" in twice.err) == (2, True)


def test_transcript_in_another_form_reads_the_same(opnote: Opnote) -> None:
    cues = opnote("transcript", DICTATION, "--to", "vtt").out
    assert opnote("transcript", "-", "--to", "text", stdin=cues.encode()).out == opnote("transcript", DICTATION, "--to", "text").out


def test_output_is_the_same_in_every_run() -> None:
    """Across processes, so that the order of hashed sets would show."""
    seeds = ({**os.environ, "PYTHONHASHSEED": seed} for seed in ("1", "2"))
    first, second = (_process("-m", "opnote", "facts", DICTATION, "--case", SHEET, env=env) for env in seeds)
    assert first.stdout == second.stdout
    assert first.returncode == second.returncode == 0


def test_a_reader_that_goes_away_is_no_error() -> None:
    command = f'"{sys.executable}" -m opnote facts "{DICTATION}" | head -c 10'
    result = subprocess.run(["bash", "-c", f"set -o pipefail; {command}"], capture_output=True, text=True, check=False)
    assert (result.returncode, result.stdout, result.stderr) == (0, '{\n  "forma', "")


# --- help ------------------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("command", [[], *COMMANDS], ids=" ".join)
def test_help_shows_a_worked_example(command: list[str], opnote: Opnote) -> None:
    result = opnote(*command, "--help")
    assert result.status == 0
    assert f"Example: opnote {' '.join(command)}".rstrip() in result.out


@pytest.mark.parametrize("command", [[], *COMMANDS], ids=" ".join)
def test_the_example_of_a_help_page_runs(command: list[str], opnote: Opnote, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    [example] = re.findall(r"^ *Example: opnote (.*)$", opnote(*command, "--help").out, re.MULTILINE)
    (tmp_path / "sample_dictations").symlink_to(ROOT / "sample_dictations")
    monkeypatch.chdir(tmp_path)
    result = opnote(*shlex.split(example))
    assert result.status in ((0, 1) if example.startswith("check") else (0,)), result.err
    assert result.out or "drafts" in example


@pytest.mark.parametrize("arguments", [["--help"], ["draft", "--help"], ["draft"], ["facts", "--nope"], ["nope"], []], ids=" ".join)
def test_help_and_wrong_usage_import_no_stage(arguments: list[str]) -> None:
    heavy = ("spacy", "numpy", "jinja2", "opnote.pipeline", "opnote.lexicon", "opnote.transcript", "opnote.record")
    code = (
        "import sys\nfrom opnote.cli import main\n"
        f"try:\n    main({arguments!r})\nexcept SystemExit:\n    pass\n"
        f"sys.exit(', '.join(sorted(set({heavy!r}) & set(sys.modules))) or 0)"
    )
    assert _process("-c", code).returncode == 0, _process("-c", code).stderr


# --- what cannot be used ---------------------------------------------------------------------------------------------------------

UNUSABLE = {
    "empty.txt": b"",
    "blank.txt": b" \n\n",
    "report.pdf": b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n",
    "photo.png": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
    "other.json": b'{"rows": [1, 2, 3]}',
    "broken.json": b'{"segments": [{"text": "Quillerbeck"',
    "bytes.txt": b"Quillerbeck \xff\xfe\xfa \x00\x01",
    "word.vtt": b"WEBVTT\n\n00:01.000 --> 00:02.000\nQuillerbeck left graft\n\n00:02.000 --> 00:03.000\nthe left graf",
    "tag.vtt": b"WEBVTT\n\n00:01.000 --> 00:02.000\n<v Quillerbeck>left graft</v>\n\n00:02.000 --> 00:03.000\n<v Quil",
    "cut.srt": b"1\n00:00:01,000 --> 00:00:02,000\nQuillerbeck left knee\n\n2\n00:00:02,000 --> 00:0",
    "cut.ttml": b'<tt xmlns="http://www.w3.org/ns/ttml"><body><p begin="1s" end="2s">Quillerbeck left</p><p beg',
    "cut.ctm": b"Quillerbeck A 0.1 0.2 left 0.9\n" * 10 + b"Quillerbeck A 3.1",
    "cut.vtt": b"WEBVTT\n\n00:01.000 --> 00:02.000\nQuillerbeck left knee\n\n00:02.000 --> 00:0",
}


def _is_one_clear_line(result: Result) -> bool:
    lines = result.err.splitlines()
    return result.status == 2 and result.out == "" and len(lines) == 1 and lines[0].startswith("opnote") and PATIENT not in lines[0]


@pytest.mark.parametrize("command", ["draft", "facts", "check", "trace"])
@pytest.mark.parametrize("name", sorted(UNUSABLE))
def test_an_unusable_file_is_one_clear_line(name: str, command: str, opnote: Opnote, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(UNUSABLE[name])
    result = opnote(command, str(tmp_path / name))
    assert _is_one_clear_line(result), result
    assert name in result.err


def test_what_can_be_read_of_a_file_that_was_cut_can_be_kept(opnote: Opnote) -> None:
    whole = opnote("transcript", "-", "--to", "vtt", stdin=UNUSABLE["cut.vtt"])
    assert "stops in the middle of a cue" in whole.err
    assert opnote("facts", "-", stdin=whole.out.encode()).status == 0


def test_a_file_of_50_mb_is_refused_unread(opnote: Opnote, tmp_path: Path) -> None:
    with (tmp_path / "day.txt").open("wb") as file:
        file.truncate(LIMIT_BYTES)
    assert _is_one_clear_line(result := opnote("draft", str(tmp_path / "day.txt"))), result


@pytest.mark.parametrize("where", ["nowhere.vtt", "."])
def test_a_file_that_is_not_there(where: str, opnote: Opnote, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert _is_one_clear_line(result := opnote("check", where)), result


def test_a_folder_that_cannot_be_written(opnote: Opnote, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    result = opnote("draft", DICTATION, "--out", str(tmp_path / "file" / "drafts"))
    assert _is_one_clear_line(result), result
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


@pytest.mark.parametrize(
    "arguments",
    [
        ("draft", DICTATION, "--kind", "brief"),
        ("draft", DICTATION, "--lexicons", "no-such-folder"),
        ("draft", "-", "--addendum", "-"),
        ("draft", DICTATION, "--case", "no-such-sheet.toml"),
        ("check", DICTATION, "--format", "xml"),
        ("check", DICTATION, "--profile", "nobody"),
        ("explain", "SIDE99"),
        ("facts",),
        ("trace", DICTATION, "--at", "soon"),
        ("trace", DICTATION, "--at", "99:00:00"),
        ("trace", DICTATION, "--at", "0:09", "--word", "knee"),
        ("trace", DICTATION, "--value", "graft.colour"),
        ("trace", DICTATION, "--word", "Quillerbeckian"),
        ("transcript", DICTATION, "--to", "docx"),
        ("lexicon", "find", "Quillerbeckian"),
        ("lexicon", "find", ""),
        ("lexicon", "find", " "),
        ("lexicon", "find", "staple", "--lexicons", "no-such-folder"),
        ("lexicon", "quantities", ""),
        ("lexicon", "quantities", " "),
        ("lexicon", "check", ""),
        ("lexicon", "check", "one", "two"),
        ("draft", ""),
        ("draft", DICTATION, "more"),
        ("draft", DICTATION, "--out", ""),
        ("draft", DICTATION, "--lexicons", ""),
        ("draft", DICTATION, "--lexicons", SHEET),
        ("draft", DICTATION, "--case"),
        ("draft", DICTATION, "--case", "."),
        ("draft", DICTATION, "--case", DICTATION),
        ("draft", DICTATION, "--addendum", SHEET),
        ("draft", SHEET),
        ("explain", "side1"),
        ("trace", DICTATION, "--value", ""),
        ("trace", DICTATION, "--word", " "),
        ("facts", "--nope"),
        ("nope",),
    ],
    ids=" ".join,
)
def test_wrong_use_is_one_clear_line(arguments: tuple[str, ...], opnote: Opnote) -> None:
    result = opnote(*arguments)
    assert result.status == 2
    assert result.out == ""
    assert result.err.startswith("opnote")
    assert len(result.err.splitlines()) == 1, result.err


def test_an_unknown_folder_is_told_by_the_check_of_the_lexicons(opnote: Opnote) -> None:
    result = opnote("lexicon", "check", "no-such-folder")
    assert (result.status, result.out, result.err.count("\n")) == (2, "", 1)


def test_a_phrase_without_quantities_says_so(opnote: Opnote) -> None:
    result = opnote("lexicon", "quantities", "nothing of the kind")
    assert (result.status, result.out) == (0, "no quantities\n")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_an_output_that_is_full_is_one_clear_line() -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "opnote", "explain", "SIDE01"], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert done.stderr.startswith("opnote: standard output: cannot write there: ")


def test_an_empty_case_sheet_is_one_clear_line(opnote: Opnote, tmp_path: Path) -> None:
    (tmp_path / "empty.toml").write_text("", encoding="utf-8")
    assert _is_one_clear_line(result := opnote("draft", DICTATION, "--case", str(tmp_path / "empty.toml"))), result
    assert "empty.toml: the case sheet says nothing" in result.err


def test_seconds_that_cannot_be_true_are_told_by_check(opnote: Opnote) -> None:
    absurd = (
        b'{"segments": [{"start": 9, "end": 2, "text": "left knee"}, {"start": -3, "text": "supine"}, {"start": NaN, "text": "general"}]}'
    )
    assert "FILE01" in opnote("check", "-", stdin=absurd).out


def test_a_fault_of_the_program_is_named_without_words_of_the_dictation(opnote: Opnote, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> None:
        raise KeyError(PATIENT)

    monkeypatch.setattr("opnote.pipeline.run", fail)
    result = opnote("facts", DICTATION)
    assert _is_one_clear_line(result), result
    assert "KeyError in case.py, line" in result.err
