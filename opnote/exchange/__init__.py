"""Note -> files."""

from opnote.exchange.files import write_outputs
from opnote.exchange.findings import findings_json, findings_text
from opnote.exchange.json_text import pretty, record_json, schema_json

__all__ = ["findings_json", "findings_text", "pretty", "record_json", "schema_json", "write_outputs"]
