"""Record -> Note: the sections of the arrangement filled from the record, and projections of the full note."""

from __future__ import annotations

from opnote import lexicon as lexicons
from opnote.errors import TemplateError
from opnote.lexicon import Lexicon
from opnote.note.items import Shelf, items_of
from opnote.note.labels import Labels
from opnote.note.layout import KindPlan, Layout, SectionPlan, load_layout
from opnote.note.model import Line, Note, Section
from opnote.note.narrative import Narrative, headings_of
from opnote.note.statement import statements
from opnote.record.model import Record


def compose(record: Record, *, kind: str = "full", lexicon: Lexicon | None = None, layout: Layout | None = None) -> Note:
    """The drafted note of a record.

    ``kind`` names a kind of note of ``templates/note.toml`` ("full", "immediate"); every value of a projection stands in the full
    note too. Without ``lexicon`` or ``layout`` the built-in ones are read. Raises ``TemplateError`` for an unknown kind or an
    arrangement that cannot be read, ``LexiconError`` for faulty lexicons.
    """
    layout = layout or load_layout()
    if kind not in layout.kinds:
        raise TemplateError(f"no kind of note is called {kind!r}", hint=f"known: {', '.join(sorted(layout.kinds))}")
    lexicon = lexicon or lexicons.load()
    shelf = Shelf.of(record, labels=Labels.of(record, lexicon), layout=layout)
    narrative = Narrative(layout, statements(record), headings_of(lexicon))
    sections = (_section(plan, shelf, narrative) for plan in layout.section)
    optional = {plan.key for plan in layout.section if plan.optional}
    shown = tuple(section for section in sections if not (section.empty and section.key in optional))
    plan = layout.kinds[kind]
    return Note(kind, plan.title, layout.draft, layout.cautions, _projected(shown, plan), record.made_by)


def _section(plan: SectionPlan, shelf: Shelf, narrative: Narrative) -> Section:
    columns, items = items_of(plan, shelf)
    return Section(plan.key, plan.title, _lines(plan, shelf), columns, items, narrative.paragraphs(plan.text) if plan.text else ())


def _lines(plan: SectionPlan, shelf: Shelf) -> tuple[Line, ...]:
    """The lines of the one entity of a type; gaps that no section names stand with the rest of its attributes."""
    if plan.type is None or not plan.lines:
        return ()
    entity = next(iter(shelf.record.of(plan.type)), None)
    said = entity.attributes if entity else {}
    gaps = shelf.gaps.get((plan.type, None), frozenset()) | (shelf.gaps.get((plan.type, entity.id), frozenset()) if entity else frozenset())
    rest = sorted((said.keys() | gaps) - shelf.layout.named_lines(plan.type) - set(shelf.layout.not_clinical)) if plan.rest else []
    return tuple(
        shelf.line(plan.type, name, said.get(name), entity=entity.id if entity else None)
        for name in (*plan.lines, *rest)
        if name in said or name in plan.expected or name in gaps
    )


def _projected(sections: tuple[Section, ...], plan: KindPlan) -> tuple[Section, ...]:
    if not plan.sections:
        return sections
    return tuple(_fewer_lines(section, plan) for section in sections if section.key in plan.sections)


def _fewer_lines(section: Section, plan: KindPlan) -> Section:
    if section.key not in plan.lines:
        return section
    kept = tuple(line for line in section.lines if line.attribute in plan.lines[section.key])
    return Section(section.key, section.title, kept, section.columns, section.items, section.paragraphs)
