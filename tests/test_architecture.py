"""The order of the stages, and what each may use, read off the imports."""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "opnote"
STAGES = ("transcript", "hearing", "language", "extract", "record", "check", "note", "exchange")
SHARED = ("lexicon", "resources", "spans", "moments", "errors")
ABOVE = ("pipeline", "case", "trace", "keeper", "terminal", "cli", "__main__")
MODULES = sorted(path.relative_to(PACKAGE).as_posix() for path in PACKAGE.rglob("*.py"))
ONLY_IN = {  # a library and the places that may import it
    "spacy": ("language/", "extract/"),
    "rapidfuzz": ("hearing/",),
    "jinja2": ("note/",),
    "markupsafe": ("note/",),
    "typer": ("cli.py", "terminal.py"),
    "rich": ("terminal.py",),
}
NEVER = ("logging", "random", "secrets", "uuid", "socket", "ssl", "http", "urllib", "requests", "subprocess", "time", "locale")
CLOCKS = ("now", "today", "utcnow")


def _imports(module: str) -> Iterator[tuple[int, str]]:
    """The line and the full name of everything a module imports, wherever the import stands."""
    for node in ast.walk(_tree(module)):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, name.name) for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"opnote/{module}:{node.lineno}: imports are absolute"
            yield from ((node.lineno, f"{node.module}.{name.name}") for name in node.names)


def _tree(module: str) -> ast.Module:
    return ast.parse((PACKAGE / module).read_text(encoding="utf-8"))


def _part(name: str) -> str:
    """The stage or the module of opnote that a dotted name or a path belongs to; "" for none."""
    parts = name.removeprefix("opnote.").replace("/", ".").removesuffix(".py").split(".")
    return parts[0] if name.startswith("opnote.") or "/" in name or name.endswith(".py") else ""


@pytest.mark.parametrize("module", MODULES)
def test_no_module_imports_a_later_stage(module: str) -> None:
    part = _part(module)
    for line, name in _imports(module):
        other = _part(name) if name.startswith("opnote.") else ""
        where = f"opnote/{module}:{line}: {part} imports {name}"
        if part in STAGES:
            assert other not in ABOVE, where
            assert other not in STAGES or STAGES.index(other) <= STAGES.index(part), where
        elif part in SHARED:
            assert other in ("", *SHARED), where


@pytest.mark.parametrize("module", MODULES)
def test_libraries_stay_where_they_belong(module: str) -> None:
    for line, name in _imports(module):
        top = name.split(".")[0]
        assert top not in NEVER, f"opnote/{module}:{line}: a record is a function of its inputs; {top} has no place in it"
        assert top not in ONLY_IN or module.startswith(ONLY_IN[top]), f"opnote/{module}:{line}: {top} belongs to {ONLY_IN[top]}"


@pytest.mark.parametrize("module", MODULES)
def test_the_library_neither_prints_nor_reads_the_clock(module: str) -> None:
    for node in ast.walk(_tree(module)):
        if isinstance(node, ast.Call):
            where, called = f"opnote/{module}:{node.lineno}", node.func
            assert not (isinstance(called, ast.Name) and called.id == "print"), f"{where}: prints"
            assert not (isinstance(called, ast.Attribute) and called.attr in CLOCKS), f"{where}: reads the clock"


@pytest.mark.parametrize("module", MODULES)
def test_no_error_is_swallowed_whole(module: str) -> None:
    """A bare ``except`` and one that only passes hide faults; the one broad handler is the command line's last resort."""
    for node in ast.walk(_tree(module)):
        if isinstance(node, ast.ExceptHandler):
            where = f"opnote/{module}:{node.lineno}"
            assert node.type is not None, f"{where}: a bare except"
            assert not all(isinstance(part, ast.Pass) for part in node.body), f"{where}: an except that only passes"
            broad = isinstance(node.type, ast.Name) and node.type.id in ("Exception", "BaseException")
            assert not broad or module == "terminal.py", f"{where}: a broad except"


def test_every_part_of_the_package_has_its_place_in_the_order() -> None:
    assert {_part(module) for module in MODULES} - {*STAGES, *SHARED, *ABOVE} == {"__init__"}


def test_what_is_imported_is_declared() -> None:
    """Every library the package imports stands among its dependencies, and no dependency is idle."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    declared = {requirement.split(">")[0].strip() for requirement in project["dependencies"]}
    tops = {name.split(".")[0] for module in MODULES for _, name in _imports(module)}
    assert declared == {"pydantic", *ONLY_IN}
    assert declared <= tops
