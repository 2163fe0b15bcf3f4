"""Record -> Note: what stands in it, and what never does."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest

from opnote.errors import TemplateError
from opnote.lexicon import load
from opnote.note import Note, compose, render
from opnote.note.layout import load_layout
from opnote.note.model import Form, Value
from opnote.record.model import About, Attribute, Entity, Evidence, Finding, Record

FORMS: tuple[Form, ...] = ("txt", "md", "html")


def values(note: Note) -> Iterator[Value]:
    for section in note.sections:
        for line in section.lines:
            yield from line.values
        for item in section.items:
            for cell in item.cells:
                yield from cell.parts
            for line in item.lines:
                yield from line.values


def shown(note: Note, key: str) -> dict[str, list[str]]:
    section = note.section(key)
    assert section is not None
    return {line.label: [value.text for value in line.values] for line in section.lines}


def row(note: Note, key: str, number: int) -> dict[str, str]:
    section = note.section(key)
    assert section is not None
    cells = section.items[number - 1].cells
    return {title: ", ".join(part.text for part in cell.parts) for title, cell in zip(section.columns, cells, strict=True)}


@pytest.mark.parametrize("form", FORMS)
def test_the_whole_note(record: Record, form: Form, snapshot: Callable[[str, str], None]) -> None:
    snapshot(f"note/acl.note.{form}", render(compose(record), form=form))


def test_the_immediate_note(record: Record, snapshot: Callable[[str, str], None]) -> None:
    snapshot("note/acl.immediate.txt", render(compose(record, kind="immediate"), form="txt"))


def test_an_empty_dictation_gives_a_note_of_gaps(bare: Record, snapshot: Callable[[str, str], None]) -> None:
    note = compose(bare)
    assert {value.state for value in values(note)} == {"not dictated"}
    snapshot("note/bare.note.txt", render(note, form="txt"))


def test_a_conflict_and_a_gap_are_shown_as_such(record: Record) -> None:
    lines = shown(compose(record), "case")
    assert lines["Side"] == ["[conflict: right / left]"]
    assert lines["Anaesthesia"] == ["[not dictated]"]
    assert lines["Surgeon"] == ["Arden"]


def test_a_missing_finding_makes_a_gap_where_the_value_would_stand(record: Record) -> None:
    assert row(compose(record), "implants", 1)["Identifiers"] == "lot [not dictated]"
    silent = record.model_copy(update={"findings": ()})
    assert row(compose(silent), "implants", 1)["Identifiers"] == ""


def test_a_missing_finding_about_the_case_makes_a_gap_that_the_arrangement_does_not_expect(bare: Record) -> None:
    drug = Finding(rule="X1", kind="missing", severity="ask", message="m", about=(About(type="case", attribute="antibiotic"),))
    own = Finding(rule="X2", kind="missing", severity="ask", message="m", about=(About(type="case", attribute="laterality_check"),))
    doubt = Finding(rule="X3", kind="unclear", severity="ask", message="m", about=(About(type="case", attribute="position"),))
    lines = shown(compose(bare.model_copy(update={"findings": (drug, own, doubt)})), "course")
    assert lines["Antibiotic"] == ["[not dictated]"]
    assert lines["Laterality check"] == ["[not dictated]"]
    assert "Position" not in lines


def test_sizes_ranges_and_abouts(record: Record) -> None:
    note = compose(record)
    assert row(note, "implants", 2)["Size"] == "7 × 25 mm"
    assert row(note, "tensioning", 1)["Flexion"] == "20-30°"
    assert row(note, "tensioning", 1)["Force"] == "about 80 N"


def test_links_are_told_by_name(record: Record) -> None:
    assert row(compose(record), "implants", 2)["Goes with"] == "Tunnel 2"
    assert row(compose(record), "tunnels", 1)["Goes with"] == "Graft 1"


def test_the_aftercare_stands_in_the_order_of_its_weeks(record: Record) -> None:
    note = compose(record)
    assert [row(note, "aftercare", number)["When"] for number in (1, 2, 3)] == ["up to 2 weeks", "up to 6 weeks", "at 10 days"]


def test_events_stand_in_the_order_of_their_clocks(bare: Record) -> None:
    def event(name: str, clock: str | None) -> Entity:
        evidence = (Evidence(source="dictation", chars=(0, 1), quote="x"),)
        said = {"name": name} | ({"clock": clock} if clock else {})
        return Entity(id=name, type="event", attributes={key: Attribute(value=value, evidence=evidence) for key, value in said.items()})

    events = (event("time out", None), event("incision", "08:33"), event("antibiotic given", "07:36"))
    note = compose(bare.model_copy(update={"entities": events}))
    assert [row(note, "times", number)["Event"] for number in (1, 2, 3)] == ["antibiotic given", "incision", "time out"]


def test_attributes_and_types_without_a_place_are_shown_all_the_same(bare: Record) -> None:
    def said(value: str) -> Attribute:
        return Attribute(value=value, evidence=(Evidence(source="dictation", chars=(0, 1), quote="x"),))

    graft = Entity(id="g", type="graft", attributes={"tissue": said("gracilis"), "soaked_in": said("saline")})
    nerve = Entity(id="n", type="nerve status", attributes={"nerve": said("peroneal"), "at_s": said("12")})
    case = Entity(id="c", type="case", attributes={"allergy": said("latex")})
    note = compose(bare.model_copy(update={"entities": (graft, nerve, case)}))
    assert row(note, "grafts", 1)["Further"] == "soaked in saline"
    assert row(note, "further", 1) == {"Further": "nerve peroneal"}
    assert shown(note, "course")["Allergy"] == ["latex"]
    text = render(note, form="txt")
    assert "Nerve status 1\n  Nerve: peroneal\n" in text
    assert "12" not in text


def test_every_clinical_attribute_of_the_table_stands_in_the_plain_note(bare: Record) -> None:
    hidden = load_layout().not_clinical
    clinical = [(kind, name) for kind, name in load().attributes if name not in hidden]
    entities = []
    for number, (kind, name) in enumerate(clinical):
        quote = Evidence(source="dictation", chars=(0, 1), quote="x")
        made = Attribute(value=f"word{number:04d}", evidence=(quote,))
        entities.append(Entity(id=f"{kind}-{number}", type=kind, attributes={name: made}))
    case = {name: made for entity in entities if entity.type == "case" for name, made in entity.attributes.items()}
    others = [entity for entity in entities if entity.type != "case"]
    text = render(compose(bare.model_copy(update={"entities": (Entity(id="c", type="case", attributes=case), *others)})), form="txt")
    for number, (kind, name) in enumerate(clinical):
        assert f": word{number:04d}\n" in text, f"{kind}.{name}"


def test_labels_are_unique_within_a_type_so_that_the_plain_note_can_be_read_back() -> None:
    seen: dict[tuple[str, str], str] = {}
    for (kind, name), entry in load().attributes.items():
        assert seen.setdefault((kind, entry.label.lower()), name) == name


def test_the_arrangement_names_only_attributes_that_the_table_knows() -> None:
    lexicon, layout = load(), load_layout()
    known_types = {kind for kind, _ in lexicon.attributes}
    for plan in layout.section:
        named = {*plan.lines, *plan.expected, *(name for column in plan.column for name in column.attributes)}
        for name in named if plan.type in known_types else ():
            assert (plan.type, name) in lexicon.attributes
    keys = {plan.key for plan in layout.section}
    assert all(set(kind.sections) | set(kind.lines) <= keys for kind in layout.kinds.values())


NUMBER = re.compile(r"\d+(?:\.\d+)?")


def test_every_number_of_the_tables_comes_from_the_record(record: Record) -> None:
    held = set(NUMBER.findall(record.model_dump_json(include={"entities"})))
    names = {item.name for section in compose(record).sections for item in section.items}
    printed = [number for value in values(compose(record)) if value.text not in names for number in NUMBER.findall(value.text)]
    assert len(printed) > 20
    for number in printed:
        assert number in held or f"{number}.0" in held, number


@pytest.mark.parametrize("form", FORMS)
def test_nothing_of_the_worksheet_stands_in_the_note(record: Record, form: Form) -> None:
    text = render(compose(record), form=form)
    own = [finding.message for finding in record.findings] + [finding.rule for finding in record.findings]
    own += ["Lockman", "nine no sorry", "9 mm", "gracilis as well", "thank you for watching", "corrected", "dictated at", "0:05"]
    assert [word for word in own if word in text] == []


@pytest.mark.parametrize("form", FORMS)
def test_the_note_says_that_it_is_a_draft_and_is_never_signed(record: Record, form: Form) -> None:
    text = render(compose(record), form=form)
    assert "Draft, not authenticated" in text
    for caution in compose(record).cautions:
        assert caution in text.replace("&#39;", "'")
    assert re.search(r"\bsign(ed|ature)\b|/s/|\battest", text, re.IGNORECASE) is None


def test_the_immediate_note_is_a_projection_of_the_full_one(record: Record) -> None:
    full, immediate = compose(record), compose(record, kind="immediate")
    assert immediate.title != full.title
    for section in immediate.sections:
        whole = full.section(section.key)
        assert whole is not None
        assert set(section.lines) <= set(whole.lines)
        assert (section.items, section.paragraphs) == (whole.items, whole.paragraphs)
    assert set(shown(immediate, "course")) == {"Estimated blood loss", "Specimens", "Complications"}


def test_the_same_record_gives_the_same_bytes(record: Record) -> None:
    again = Record.model_validate_json(record.model_dump_json())
    for form in FORMS:
        assert render(compose(record), form=form) == render(compose(again), form=form)


def test_an_unknown_kind_of_note_is_refused(record: Record) -> None:
    with pytest.raises(TemplateError, match="known: full, immediate"):
        compose(record, kind="short")
