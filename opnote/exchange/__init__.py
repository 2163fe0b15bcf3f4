"""Stage 8: record, findings, transcript and rendered pages -> files and text for other programs."""

from opnote.exchange.files import write_outputs
from opnote.exchange.findings import findings_json, findings_text
from opnote.exchange.json_text import pretty, record_json, schema_json
from opnote.exchange.transcripts import TRANSCRIPT_FORMS, lost, transcript_text

__all__ = [
    "TRANSCRIPT_FORMS",
    "findings_json",
    "findings_text",
    "lost",
    "pretty",
    "record_json",
    "schema_json",
    "transcript_text",
    "write_outputs",
]
