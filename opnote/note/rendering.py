"""Note and Worksheet -> text: the only module that uses Jinja2.

Context of the templates: ``note`` (``opnote.note.model.Note``) in ``note.*.j2``, ``sheet`` (``Worksheet``) in ``worksheet.*.j2``.
Asking for anything else is an error, never an empty string.
"""

from __future__ import annotations

import re
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, TemplateNotFound, TemplateSyntaxError, UndefinedError
from markupsafe import Markup, escape

from opnote.errors import TemplateError
from opnote.note.labels import capitalised
from opnote.note.model import Form, Note, Worksheet
from opnote.note.sheet import rows_by_thing
from opnote.resources import templates_dir


def render(view: Note | Worksheet, *, form: Form, folder: Path | None = None) -> str:
    """A note or a worksheet as Markdown ("md"), plain text ("txt") or a self-contained page ("html").

    ``folder`` holds other templates than the built-in ones. Raises ``TemplateError`` for a form without a template and for a template
    that asks for what the view does not hold.
    """
    word, context = ("note", {"note": view}) if isinstance(view, Note) else ("worksheet", {"sheet": view})
    folder, name = folder or templates_dir(), f"{word}.{form}.j2"
    try:
        return _environment(folder).get_template(name).render(context)
    except TemplateNotFound as error:
        raise TemplateError("no such template", where=str(folder / str(error)), hint="forms are md, txt and html") from None
    except TemplateSyntaxError as error:
        raise TemplateError(error.message or "not a template", where=error.filename or name, line=error.lineno) from None
    except UndefinedError as error:
        raise TemplateError(f"asks for what the {word} does not hold: {error.message}", where=str(folder / name)) from None


def _environment(folder: Path) -> Environment:
    environment = Environment(
        loader=FileSystemLoader(folder),
        undefined=StrictUndefined,
        autoescape=lambda name: bool(name and ".html" in name),
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters.update(md=markdown, css_string=css_string, cap=capitalised, unbroken=unbroken)
    environment.filters["by_thing"] = lambda rows: tuple(rows_by_thing(rows))
    return environment


def markdown(text: str) -> str:
    r"""Text whose marks mean nothing in Markdown, safe in a table's cell.

    >>> markdown("lot A*3 | [not dictated]")
    'lot A\\*3 \\| [not dictated]'
    """
    text = re.sub(r"([\\`*_<>|~])", r"\\\1", text).replace("](", "]\\(")
    return re.sub(r"^(\s*)(?:([#+-])|(\d+)([.)]))(?=\s)", _escaped_start, text)


def _escaped_start(found: re.Match[str]) -> str:
    blank, mark, count, end = found.groups()
    return f"{blank}\\{mark}" if mark else f"{blank}{count}\\{end}"


_MEASURED = re.compile(
    r"((?:(?<![^\s,])[A-Z][a-z]+ (?=\d+(?:,|$)))?\S*\d\S*(?: × \S+)*(?: (?:mm|N|mL|mmHg|min|weeks?|days?)(?![^\s,\])]))?)"
)


def unbroken(text: str) -> Markup:
    """Text as HTML in which no identifier, date, number with its unit or numbered thing ("Tunnel 1") is broken at the end of a line.

    >>> str(unbroken("lot K4-1 & 8 mm"))
    'lot <span class="whole">K4-1</span> &amp; <span class="whole">8 mm</span>'
    """
    whole = Markup('<span class="whole">{}</span>')
    parts = (whole.format(part) if index % 2 else escape(part) for index, part in enumerate(_MEASURED.split(text)))
    return Markup("").join(parts)


def css_string(text: str) -> str:
    """Text for use between the quotes of a CSS string: all but letters, digits, blanks and plain marks as escapes."""
    return "".join(char if char.isalnum() or char in " -.,:/" else f"\\{ord(char):x} " for char in text)
