"""Findings as lines for people and as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.exchange.json_text import pretty, said_json
from opnote.moments import place
from opnote.record.model import Evidence, Finding


def findings_json(findings: Sequence[Finding]) -> str:
    """The findings as a JSON list."""
    return pretty([said_json(finding) for finding in findings]) + "\n"


def findings_text(findings: Sequence[Finding]) -> str:
    """A line a finding, the gravest first, with the words that gave rise to it; a line that says so when there is none."""
    if not findings:
        return "no findings\n"
    return "".join(line + "\n" for finding in findings for line in _lines(finding))


def _lines(finding: Finding) -> Iterator[str]:
    yield f"{finding.severity:<4}  {finding.rule}  {finding.message}"
    yield from (f"{'':14}{_cited(words)}" for words in finding.evidence)


def _cited(evidence: Evidence) -> str:
    return f"{evidence.source} {place(evidence.start_s, evidence.line)}: {evidence.quote}"
