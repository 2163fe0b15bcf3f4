"""The arrangement of the note, read from ``templates/note.toml``."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from opnote.errors import TemplateError
from opnote.resources import templates_dir

ColumnForm = Literal["plain", "named", "size", "span", "distance", "weeks"]
EVERYTHING = "*"


class _Closed(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Column(_Closed):
    """A column of a table: the attributes that stand in it and how they are joined."""

    title: str
    attributes: tuple[str, ...] = Field(min_length=1)
    form: ColumnForm = "plain"


class Order(_Closed):
    """An attribute by which the items of a section are put in order, and where those stand that have none."""

    by: str
    unsaid: Literal["first", "last"] = "last"


class SectionPlan(_Closed):
    """A part of the note; the fields are explained at the head of ``note.toml``."""

    key: str
    title: str
    type: str | None = None
    item: str = ""
    lines: tuple[str, ...] = ()
    expected: tuple[str, ...] = ()
    rest: bool = False
    order: tuple[Order, ...] = ()
    text: tuple[str, ...] = ()
    optional: bool = False
    column: tuple[Column, ...] = ()


class KindPlan(_Closed):
    """A kind of note: its title and, for a projection, the sections and lines it keeps (none named: all)."""

    title: str
    sections: tuple[str, ...] = ()
    lines: dict[str, tuple[str, ...]] = {}


class Layout(_Closed):
    """The whole arrangement."""

    draft: str
    cautions: tuple[str, ...] = Field(min_length=1)
    not_clinical: tuple[str, ...] = ()
    moments: tuple[str, ...] = ()
    header_text: tuple[str, ...] = ()
    header_types: tuple[str, ...] = ()
    header_sections: tuple[str, ...] = ()
    kinds: dict[str, KindPlan]
    section: tuple[SectionPlan, ...]

    def shown_types(self) -> frozenset[str]:
        """The entity types that have a section of their own."""
        return frozenset(plan.type for plan in self.section if plan.type and plan.type != EVERYTHING)

    def named_lines(self, kind: str) -> frozenset[str]:
        """The attributes of a type that some section names as a line."""
        return frozenset(name for plan in self.section if plan.type == kind for name in plan.lines)

    def header_lines(self) -> frozenset[tuple[str, str]]:
        """The attributes, each with its type, that the sections of the header show as lines."""
        return frozenset(
            (plan.type, name) for plan in self.section if plan.type and plan.key in self.header_sections for name in plan.lines
        )

    def text_of_type(self) -> dict[str, str]:
        """For a type that is shown together with its sentences ("postop"): the section of the dictation they belong to."""
        return {plan.type: plan.text[0] for plan in self.section if plan.type and plan.text}

    def placed_text(self) -> frozenset[str]:
        """The sections of a dictation whose sentences have a place other than the description."""
        return frozenset(name for plan in self.section for name in plan.text) - {EVERYTHING}


def load_layout(path: Path | None = None) -> Layout:
    """The built-in arrangement, or that of ``path``. Raises ``TemplateError`` when it cannot be read."""
    path = path or templates_dir() / "note.toml"
    try:
        return Layout.model_validate(tomllib.loads(path.read_text(encoding="utf-8")))
    except OSError as error:
        raise TemplateError("the arrangement of the note cannot be read", where=str(path), hint=error.strerror or "") from error
    except tomllib.TOMLDecodeError as error:
        raise TemplateError(f"not readable as TOML: {error}", where=str(path)) from error
    except ValidationError as error:
        faults = "; ".join(f"{'.'.join(map(str, fault['loc']))}: {fault['msg']}" for fault in error.errors())
        raise TemplateError(faults, where=str(path)) from error
