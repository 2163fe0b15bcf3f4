"""Finds the checks: walks the modules of ``opnote.check``, collects the marked functions, refuses what is incomplete."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from functools import cache
from types import ModuleType

from opnote.check.model import MARK, Check, Function, Mark

ID = re.compile(r"[A-Z]+\d\d")
SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
PARTS = ("Why:", "Silent when:")


@cache
def checks() -> tuple[Check, ...]:
    """All checks, sorted by id."""
    package = importlib.import_module("opnote.check")
    names = sorted(module.name for module in pkgutil.iter_modules(package.__path__) if not module.name.startswith("_"))
    return collect(importlib.import_module(f"{package.__name__}.{name}") for name in names)


def collect(modules: Iterator[ModuleType] | tuple[ModuleType, ...]) -> tuple[Check, ...]:
    """The checks of some modules, sorted by id. Raises ``ValueError`` naming every fault at once."""
    faults: list[str] = []
    found: dict[str, Check] = {}
    for module in modules:
        for function, mark in _marked(module):
            where = f"{module.__name__}.{function.__name__}"
            faults += [f"{where}: {fault}" for fault in _faults(function, mark)]
            if mark.id in found:
                faults.append(f"{where}: the id {mark.id} is taken by {found[mark.id].family}.{found[mark.id].function.__name__}")
            found.setdefault(mark.id, _check(function, mark, module.__name__.rpartition(".")[2]))
    slugs = [check.slug for check in found.values()]
    faults += [f"the slug {slug} is used twice" for slug in sorted({slug for slug in slugs if slugs.count(slug) > 1})]
    if faults:
        raise ValueError("checks that cannot be registered\n  " + "\n  ".join(faults))
    return tuple(found[id] for id in sorted(found))


def _marked(module: ModuleType) -> Iterator[tuple[Function, Mark]]:
    for value in vars(module).values():
        mark = getattr(value, MARK, None)
        if isinstance(mark, Mark) and value.__module__ == module.__name__:
            yield value, mark


def _faults(function: Function, mark: Mark) -> Iterator[str]:
    doc = inspect.getdoc(function) or ""
    if not ID.fullmatch(mark.id):
        yield f"the id {mark.id!r} is not capitals and two digits"
    if not SLUG.fullmatch(mark.slug):
        yield f"the slug {mark.slug!r} is not lower-case words joined by hyphens"
    if not mark.source.strip():
        yield "no source"
    if not doc.partition("\n")[0].endswith("."):
        yield "the docstring does not begin with a sentence"
    for part in PARTS:
        if not _part(doc, part):
            yield f"the docstring has no `{part}`"


def _part(doc: str, name: str) -> str:
    """The text of a paragraph that begins with ``name``, on one line."""
    for paragraph in doc.split("\n\n"):
        if paragraph.startswith(name):
            return " ".join(paragraph.removeprefix(name).split())
    return ""


def _check(function: Function, mark: Mark, family: str) -> Check:
    doc = inspect.getdoc(function) or ""
    why, silent = (_part(doc, part) for part in PARTS)
    return Check(mark.id, mark.slug, mark.severity, mark.kind, mark.source, doc.partition("\n")[0], why, silent, family, function)
