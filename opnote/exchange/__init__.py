"""Note -> files."""

from opnote.exchange.files import write_outputs

__all__ = ["write_outputs"]
