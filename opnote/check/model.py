"""What a check is and what it yields; the decorator that marks a function as one."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from opnote.record.model import About, Evidence, FindingKind, Record, Severity

if TYPE_CHECKING:
    from opnote.check.knowledge import Knowledge

MARK = "__opnote_check__"


@dataclass(frozen=True, slots=True)
class Doubt:
    """A question a check raises: one sentence, the words that clash, and what they are about.

    ``severity`` and ``kind`` are given only where they differ from the check's own. ``evidence`` is empty when the words are
    missing; ``about`` is never empty.
    """

    message: str
    about: tuple[About, ...]
    evidence: tuple[Evidence, ...] = ()
    severity: Severity | None = None
    kind: FindingKind | None = None

    def __post_init__(self) -> None:
        if not self.about:
            raise ValueError("a doubt is about something")


Function = Callable[[Record, "Knowledge"], Iterable[Doubt]]


@dataclass(frozen=True, slots=True)
class Mark:
    """What the decorator leaves on a function; the registry makes a ``Check`` of it."""

    id: str
    slug: str
    severity: Severity
    kind: FindingKind
    source: str


@dataclass(frozen=True, slots=True)
class Check:
    """A rule of the book: its id, its page (title, why, silent when, source) and the function that computes it."""

    id: str
    slug: str
    severity: Severity
    kind: FindingKind
    source: str
    title: str
    why: str
    silent_when: str
    family: str
    function: Function


def check(id: str, slug: str, *, severity: Severity, kind: FindingKind, source: str) -> Callable[[Function], Function]:
    """Mark a function as a check. Nothing is registered here: ``opnote.check.registry`` finds the mark.

    The docstring is the rule's page: a first line that states the doubt, then the paragraphs ``Why:`` and ``Silent when:``.
    """

    def mark(function: Function) -> Function:
        setattr(function, MARK, Mark(id, slug, severity, kind, source))
        return function

    return mark
