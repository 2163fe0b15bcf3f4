"""Record -> Note and Worksheet, and both as text; the only stage that uses Jinja2."""

from opnote.note.drafting import compose
from opnote.note.model import Note, Worksheet
from opnote.note.rendering import render
from opnote.note.sheet import worksheet

__all__ = ["Note", "Worksheet", "compose", "render", "worksheet"]
