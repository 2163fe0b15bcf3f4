"""The rule book as text: one rule (`opnote explain`), and the whole of it (``opnote/check/README.md``)."""

from __future__ import annotations

from itertools import groupby

from opnote.check.model import Check
from opnote.check.registry import checks
from opnote.check.run import find

HEAD = """\
# The rule book

Generated from the checks by `python -m opnote.check`; a test fails when it is stale. Do not edit it by hand.

`stop`: not fit to sign as it stands. `ask`: the author decides. `info`: worth knowing, no answer needed. A rule may speak more softly,
or more sharply, than its own severity where its page says so. Ranges and limits stand in `lexicons/procedures/`, required elements in
`lexicons/profiles/`, each with its source; *(from memory)* marks what nobody has yet read in its source.
"""
MEANS = {"stop": "not fit to sign as it stands", "ask": "the author decides", "info": "worth knowing"}


def explain(name: str) -> str:
    """The page of one check, by id or slug, as plain text. Raises ``OpnoteError`` for a check that does not exist."""
    check = find(name)
    rows = (
        f"{check.id}  {check.slug}",
        check.title,
        "",
        f"Severity: {check.severity} ({MEANS[check.severity]})",
        f"Kind: {check.kind}",
        f"Why: {check.why}",
        f"Silent when: {check.silent_when}",
        f"Source: {check.source}",
    )
    return "\n".join(rows) + "\n"


def page() -> str:
    """The rule book as Markdown: a table, then each family's rules."""
    rows = [f"| [{c.id}](#{c.id.lower()}-{c.slug}) | {c.severity} | {c.kind} | {c.title} |" for c in checks()]
    parts = [HEAD, "\n".join(["| id | severity | kind | doubt |", "|---|---|---|---|", *rows]) + "\n"]
    families = groupby(sorted(checks(), key=lambda c: (c.family, c.id)), key=lambda c: c.family)
    for family, members in families:
        parts.append(f"## {family.replace('_', ' ').capitalize()}\n")
        parts += [_section(check) for check in members]
    return "\n".join(parts)


def _section(check: Check) -> str:
    return (
        f"### {check.id} {check.slug}\n\n{check.title}\n\n- **Severity** {check.severity}; **kind** {check.kind}\n- **Why** {check.why}\n"
        f"- **Silent when** {check.silent_when}\n- **Source** {check.source}\n"
    )
