"""The registry refuses what is incomplete, and the book it makes is the one that is printed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

import pytest

import opnote.check
from opnote.check import Knowledge, checks, explain, page
from opnote.check.model import Doubt, check
from opnote.check.registry import collect
from opnote.errors import OpnoteError
from opnote.record.model import Record

GOOD = "A doubt is stated.\n\nWhy: because.\n\nSilent when: it is not so."


def _module(**marks: tuple[str, str]) -> ModuleType:
    """A module with one function for each ``name=(id, docstring)``."""
    module = ModuleType("invented")
    for name, (id, doc) in marks.items():

        def function(record: Record, known: Knowledge) -> Iterator[Doubt]:
            return iter(())

        function.__name__, function.__module__, function.__doc__ = name, "invented", doc
        setattr(module, name, check(id, f"slug-{name}", severity="ask", kind="unclear", source="common practice")(function))
    return module


def test_checks_are_sorted_by_id() -> None:
    ids = [c.id for c in collect((_module(a=("ZED02", GOOD), b=("ABLE01", GOOD)),))]
    assert ids == ["ABLE01", "ZED02"]


@pytest.mark.parametrize(
    ("marks", "fault"),
    [
        ({"a": ("A01", GOOD), "b": ("A01", GOOD)}, "the id A01 is taken"),
        ({"a": ("A01", GOOD.replace("Why:", "Because:"))}, "no `Why:`"),
        ({"a": ("A01", GOOD.replace("Silent when:", "But:"))}, "no `Silent when:`"),
        ({"a": ("A01", "")}, "does not begin with a sentence"),
        ({"a": ("a-1", GOOD)}, "not capitals and two digits"),
    ],
)
def test_an_incomplete_check_is_refused(marks: dict[str, tuple[str, str]], fault: str) -> None:
    with pytest.raises(ValueError, match=fault):
        collect((_module(**marks),))


def test_every_fault_is_told_at_once() -> None:
    with pytest.raises(ValueError, match="cannot be registered") as caught:
        collect((_module(a=("A01", ""), b=("bad", GOOD)),))
    assert str(caught.value).count("invented.") >= 4


def test_ids_in_use(snapshot: Callable[[str, str], None]) -> None:
    snapshot("checks.txt", "".join(f"{c.id} {c.slug}\n" for c in checks()))


def test_explain_prints_what_the_book_says() -> None:
    text = explain("side01")
    assert text == explain("two-sides-for-one-case")
    assert text.startswith("SIDE01  two-sides-for-one-case\nBoth sides are said for one operation.\n")
    for part in ("Severity: stop", "Why: ", "Silent when: ", "Source: "):
        assert part in text


def test_explain_of_an_unknown_rule_names_the_known_ones() -> None:
    with pytest.raises(OpnoteError, match='no rule "SIDE99"; known: CARE01'):
        explain("SIDE99")


def test_the_printed_book_is_not_stale() -> None:
    printed = Path(opnote.check.__file__).with_name("README.md").read_text(encoding="utf-8")
    assert printed == page(), "run `python -m opnote.check`"
