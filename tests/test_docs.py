"""What the documents show is true: their commands run, their output is what comes out, their links and paths exist."""

from __future__ import annotations

import importlib
import re
import shlex
import subprocess
import sys
import textwrap
import tomllib
from pathlib import Path
from types import ModuleType

import pytest

from opnote.check import built_in
from opnote.check.registry import collect
from opnote.cli import app
from opnote.transcript.sniff import READERS
from tests.compact import record_of

ROOT = Path(__file__).parent.parent
PAGES = ("README.md", "DEVELOPERS.md", "lexicons/README.md", "lexicons/mishearings/README.md", "sample_dictations/README.md")
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def _blocks(page: str, language: str) -> list[str]:
    return [body for name, body in FENCE.findall((ROOT / page).read_text(encoding="utf-8")) if name == language]


def _shown(page: str) -> list[tuple[str, list[str]]]:
    """Each command of a page's console blocks with the lines of output shown under it."""
    shown: list[tuple[str, list[str]]] = []
    for block in _blocks(page, "console"):
        for line in block.splitlines():
            if line.startswith("$ "):
                shown.append((line[2:], []))
            else:
                shown[-1][1].append(line)
    return shown


CONSOLE = [pytest.param(*row, id=row[0][:60]) for page in PAGES for row in _shown(page) if row[0].startswith("opnote ")]


@pytest.mark.parametrize(("command", "output"), CONSOLE)
def test_a_command_prints_what_the_page_shows(command: str, output: list[str]) -> None:
    """Every line shown comes out, in that order; … stands for anything, within a line and for lines left out."""
    arguments = shlex.split(command)[1:]
    done = subprocess.run(
        [sys.executable, "-m", "opnote", *arguments], cwd=ROOT, capture_output=True, text=True, encoding="utf-8", check=False
    )
    lines = iter([*done.stdout.splitlines(), *done.stderr.splitlines()])
    for shown in output:
        if shown != "…":
            pattern = re.compile(".*".join(map(re.escape, shown.split("…"))))
            assert any(pattern.fullmatch(line) for line in lines), f"not printed, or not in this order: {shown}"


def test_the_python_of_the_readme_runs() -> None:
    [block] = _blocks("README.md", "python")
    done = subprocess.run([sys.executable, "-c", block], cwd=ROOT, capture_output=True, text=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr
    assert done.stdout


def test_the_readme_says_what_the_job_is_and_then_how_to_set_up() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert text.index("operative note") < text.index("## Set up")
    run, develop = _blocks("README.md", "sh")
    assert run.startswith("python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/opnote draft sample_dictations/")
    assert develop.startswith("python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/pytest")
    assert all(len(block.splitlines()) == 1 for block in (run, develop))


def test_the_checks_of_a_change_end_with_the_tests_of_the_readme() -> None:
    [command] = re.findall(r"\.venv/bin/(pytest.*)$", _blocks("README.md", "sh")[1].strip())
    assert (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()[-1].startswith(f'"$work/venv/bin/pytest"{command[6:]}')


@pytest.mark.parametrize("page", PAGES)
def test_links_and_paths_of_a_page_exist(page: str) -> None:
    text = (ROOT / page).read_text(encoding="utf-8")
    here = (ROOT / page).parent
    for target in re.findall(r"\]\(([^)#:]+)\)", text):
        assert (here / target).exists(), target
    for path in re.findall(r"\b(?:opnote|lexicons|templates|tests|sample_dictations)/[\w./-]*\w(?!\w*[*<{])", text):
        assert (ROOT / path).exists() or (ROOT / path).parent.exists(), path


def test_the_readme_names_every_command() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    names = [command.name or command.callback.__name__ for command in app.registered_commands if command.callback]
    names += [str(group.typer_instance.info.name) for group in app.registered_groups if group.typer_instance]
    assert names
    assert [name for name in names if f"`opnote {name}" not in text] == []


def _indented(page: str, language: str) -> str:
    """The one fenced block of a language that stands inside a list."""
    [block] = re.findall(rf"^   ```{language}\n(.*?)^   ```$", (ROOT / page).read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
    return textwrap.dedent(block)


def test_the_check_of_the_walk_through_is_one_and_its_cases_hold() -> None:
    module = ModuleType("sockets")
    exec(_indented("DEVELOPERS.md", "python"), module.__dict__)
    [rule] = collect((module,))
    cases = tomllib.loads(_indented("DEVELOPERS.md", "toml"))
    told = [list(rule.function(record_of(case["record"]), built_in())) for case in (*cases["fires"], *cases["silent"])]
    assert [len(doubts) for doubts in told] == [1, 0, 0]
    assert all(words in told[0][0].message for words in cases["fires"][0]["says"])
    assert [f"{about.type}.{about.attribute}" for about in told[0][0].about] == cases["fires"][0]["about"]


@pytest.mark.parametrize("module", ["reading", "wording"])
def test_the_helpers_of_the_walk_through_are_there(module: str) -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.partition(f"| in `opnote/check/{module}.py` |")[2].partition("\n\n")[0]
    names = [
        name for row in table.splitlines() for name in re.findall(r"`(\w+)`", row.split("|")[1] if row.startswith(("   |", "|")) else "")
    ]
    assert names
    assert [name for name in names if not callable(getattr(importlib.import_module(f"opnote.check.{module}"), name, None))] == []


def test_the_readme_names_every_reader() -> None:
    [told] = re.findall(r"^It reads (.*?) is standard input\.", (ROOT / "README.md").read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
    assert [name for name in READERS if not all(word in told.lower() for word in name.split())] == []


@pytest.mark.parametrize("picture", ["note.png", "worksheet.png"])
def test_a_picture_is_small_enough_to_read_on_the_page(picture: str) -> None:
    assert (ROOT / "sample_dictations" / "pictures" / picture).stat().st_size < 300_000
