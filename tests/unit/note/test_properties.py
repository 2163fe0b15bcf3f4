"""What holds for the note of any record."""

from __future__ import annotations

import re
from collections.abc import Iterator

from hypothesis import given, settings
from hypothesis import strategies as st

from opnote.lexicon import load
from opnote.note import compose, render, worksheet
from opnote.note.layout import load_layout
from opnote.note.model import Note
from opnote.record.model import Attribute, Candidate, Entity, Evidence, MadeBy, Record, Source

LEXICON, LAYOUT = load(), load_layout()
EVIDENCE = Evidence(source="dictation", start_s=3.0, end_s=4.0, chars=(0, 6), quote="spoken")
NUMBER = re.compile(r"\d+(?:\.\d+)?")

numbers = st.integers(0, 400) | st.decimals(0, 50, places=2).map(float)
words = st.text(alphabet="abcdefgh XYZ<>&|*_`\"'[](){}%#-", min_size=1, max_size=20).filter(str.strip)
candidates = st.tuples(words | numbers, words | numbers).map(lambda two: tuple(Candidate(value=one, evidence=(EVIDENCE,)) for one in two))
attributes = st.one_of(
    st.builds(Attribute, value=numbers | words | st.booleans(), approximate=st.booleans(), evidence=st.just((EVIDENCE,))),
    st.builds(Attribute, value=st.lists(words, min_size=1, max_size=3).map(tuple), evidence=st.just((EVIDENCE,))),
    st.builds(Attribute, low=numbers, high=numbers, evidence=st.just((EVIDENCE,))),
    st.builds(Attribute, candidates=candidates),
)
names = {kind: [name for owner, name in LEXICON.attributes if owner == kind] for kind, _ in LEXICON.attributes}
kinds = st.sampled_from([kind for kind in names if kind != "case"])


@st.composite
def records(draw: st.DrawFn) -> Record:
    chosen = ["case", *draw(st.lists(kinds, max_size=5)), *draw(st.sampled_from([(), ("nerve status",)]))]
    entities = []
    for number, kind in enumerate(chosen):
        known = st.sampled_from([*names.get(kind, []), "extra_mm", "odd"])
        entities.append(Entity(id=f"e{number}", type=kind, attributes=draw(st.dictionaries(known, attributes, min_size=1, max_size=5))))
    source = Source(id="dictation", kind="dictation", name="d.vtt", sha256="0" * 64, duration_s=10.0)
    return Record(made_by=MadeBy(opnote="0", lexicons="0"), sources=(source,), entities=tuple(entities), account=())


def note_of(record: Record) -> Note:
    return compose(record, lexicon=LEXICON, layout=LAYOUT)


def said(record: Record) -> Iterator[str]:
    """Every single value of a record as the words or digits that must be printed."""
    for entity in record.entities:
        for attribute in (held for name, held in entity.attributes.items() if name not in LAYOUT.not_clinical):
            for held in (attribute, *attribute.candidates):
                for value in (held.value if isinstance(held.value, tuple) else (held.value,), (held.low,), (held.high,)):
                    for one in value:
                        if isinstance(one, bool):
                            yield "yes" if one else "no"
                        elif one is not None:
                            yield " ".join(one.split()) if isinstance(one, str) else f"{one:.12g}"


@settings(max_examples=60, deadline=None)
@given(records())
def test_every_value_of_the_record_stands_in_the_plain_note(record: Record) -> None:
    text = render(note_of(record), form="txt")
    assert [value for value in said(record) if value not in text] == []


@settings(max_examples=60, deadline=None)
@given(records())
def test_every_number_of_the_note_comes_from_the_record(record: Record) -> None:
    held = {number for value in said(record) for number in NUMBER.findall(value)}
    note = note_of(record)
    printed = [value.text for _, line in note.lines() for value in line.values]
    printed += [part.text for section in note.sections for item in section.items for cell in item.cells for part in cell.parts]
    assert {number for text in printed for number in NUMBER.findall(text)} <= held


@settings(max_examples=30, deadline=None)
@given(records())
def test_every_form_of_note_and_worksheet_can_be_made(record: Record) -> None:
    sheet = worksheet(record, lexicon=LEXICON, layout=LAYOUT)
    assert len(sheet.header) + len(sheet.values) == sum(len(entity.attributes) for entity in record.entities)
    for view in (note_of(record), sheet):
        for form in ("txt", "md", "html"):
            assert render(view, form=form) == render(view, form=form)


@settings(max_examples=30, deadline=None)
@given(records())
def test_the_label_of_a_line_and_its_value_can_be_told_apart(record: Record) -> None:
    """No label holds ": ", so that a line of the plain note is read back by its first one."""
    assert all(": " not in line.label for _, line in note_of(record).lines())
