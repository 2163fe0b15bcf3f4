"""Stage 2: what the dictated words may be, as edits that replay and as readings for a later stage to pick from."""

from opnote.hearing.hear import hear
from opnote.hearing.model import Edit, Heard, Reading, replay

__all__ = ["Edit", "Heard", "Reading", "hear", "replay"]
