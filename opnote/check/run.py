"""Runs the checks on a record."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from opnote.check.knowledge import Knowledge, built_in
from opnote.check.model import Check, Doubt
from opnote.check.profiles import RANK
from opnote.check.registry import checks
from opnote.errors import OpnoteError
from opnote.lexicon.plain import nearest
from opnote.lexicon.spelling import Speller
from opnote.record.model import Finding, Record

DEFAULT_PROFILES = ("cms", "joint-commission", "knee-ligament")


def run(
    record: Record, *, profiles: Collection[str] = DEFAULT_PROFILES, off: Collection[str] = (), knowledge: Knowledge | None = None
) -> tuple[Finding, ...]:
    """The findings on a record, the gravest first: a function of its arguments, and of the lexicons, alone.

    ``profiles`` are the standards whose elements are asked for, ``off`` the checks (by id or slug) that are left out,
    ``knowledge`` what stands in place of the built-in lexicons. Raises ``OpnoteError`` for a profile or check that does not exist.
    """
    known = knowledge or built_in()
    known = replace(known, profiles=known.profiles.select(profiles))
    left_out = set(rules_off(known, off))
    speller = known.lexicon.speller(row.quote for row in record.account)
    found = [_finding(check, doubt, speller) for check in checks() if check.id not in left_out for doubt in check.function(record, known)]
    return tuple(sorted(found, key=_order))


def rules_off(knowledge: Knowledge, off: Collection[str] = ()) -> tuple[str, ...]:
    """The ids of the checks that are left out, by the site's lexicon or by name, for the note to say so."""
    return tuple(sorted({find(name).id for name in (*knowledge.off, *off)}))


def find(name: str) -> Check:
    """The check of an id or slug, in any case. Raises ``OpnoteError`` naming the ids there are."""
    for check in checks():
        if name.upper() == check.id or name.lower() == check.slug:
            return check
    raise OpnoteError(f'no rule "{name}"', hint=nearest(name.upper(), _ids()))


def _ids() -> Iterator[str]:
    return (check.id for check in checks())


def _finding(check: Check, doubt: Doubt, speller: Speller) -> Finding:
    return Finding(
        rule=check.id,
        kind=doubt.kind or check.kind,
        severity=doubt.severity or check.severity,
        message=speller.spelled(doubt.message),
        evidence=tuple(dict.fromkeys(doubt.evidence)),
        about=tuple(dict.fromkeys(doubt.about)),
    )


def _order(finding: Finding) -> tuple[int, str, tuple[int, int], str]:
    first = min((words.chars for words in finding.evidence), default=(0, 0))
    return RANK[finding.severity], finding.rule, first, finding.message
