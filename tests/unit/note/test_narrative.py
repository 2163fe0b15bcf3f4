"""The description keeps the surgeon's own sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pytest

from opnote.lexicon import load
from opnote.note.layout import EVERYTHING, load_layout
from opnote.note.narrative import Narrative, headings_of
from opnote.note.prose import sentence
from opnote.note.statement import statements
from opnote.record.model import AccountRow, Attribute, Entity, Evidence, MadeBy, Record, Source, Status

MARKS = {"comma": ",", "new paragraph": "\n\n"}
Said = tuple[Status, str]


def narrative(talk: Sequence[tuple[str, float, Sequence[Said]]], *, entities: Iterable[tuple[str, str, str]] = ()) -> Narrative:
    """``talk`` holds (section, second, pieces); ``entities`` holds (type, attribute, quote)."""
    rows, at = [], 0
    for number, (section, second, pieces) in enumerate(talk):
        for status, quote in pieces:
            span = (at, at + len(quote))
            read = MARKS.get(quote, "") if status == "filler" else quote
            row = AccountRow(status=status, source="d", start_s=second, end_s=second + 1, chars=span, quote=quote, read=read)
            rows.append(row.model_copy(update={"statement": number, "section": section}))
            at += len(quote) + 1
    text = " ".join(row.quote for row in rows)
    made = [
        Entity(id=kind, type=kind, attributes={name: Attribute(value="x", evidence=(found(text, quote),))})
        for kind, name, quote in entities
    ]
    source = Source(id="d", kind="dictation", name="d.txt", sha256="0" * 64)
    record = Record(made_by=MadeBy(opnote="0", lexicons="0"), sources=(source,), entities=tuple(made), account=tuple(rows))
    return Narrative(load_layout(), statements(record), headings_of(load()))


def found(text: str, quote: str) -> Evidence:
    return Evidence(source="d", chars=(text.index(quote), text.index(quote) + len(quote)), quote=quote)


def texts(found: Narrative, wanted: tuple[str, ...] = (EVERYTHING,)) -> list[str]:
    return [paragraph.text for paragraph in found.paragraphs(wanted)]


@pytest.mark.parametrize(
    ("words", "printed"),
    [
        ("the portal was made", "The portal was made."),
        ("the portal was made .", "The portal was made."),
        ("was it stable ?", "Was it stable?"),
        (", and then the screw ,", "And then the screw."),
        ("reamed , , to eight , .", "Reamed, to eight."),
        ("sMCL was torn", "sMCL was torn."),
        ("lot K4-1 , 2.5 mm ( two )", "Lot K4-1, 2.5 mm ( two)."),
        ("done..", "Done."),
        ("time out at eight, and the", "Time out at eight."),
        ("the screw was put in", "The screw was put in."),
        ("a and b", "A and b."),
        ("the", "The."),
        (" , . ", ""),
        ("", ""),
    ],
)
def test_a_statement_becomes_a_tidy_sentence(words: str, printed: str) -> None:
    assert sentence(words) == printed


def test_words_set_aside_and_fillers_are_not_in_it() -> None:
    found = narrative([("", 0, [("filler", "um"), ("narrative", "reamed to"), ("set aside", "nine no sorry"), ("used", "eight")])])
    assert texts(found) == ["Reamed to eight."]


def test_a_word_nobody_could_place_stays_in_its_sentence() -> None:
    found = narrative([("", 0, [("narrative", "reamed to"), ("unplaced", "eight"), ("narrative", "with care")])])
    assert texts(found) == ["Reamed to eight with care."]


def test_pieces_left_over_of_a_statement_set_aside_are_not_in_it() -> None:
    pieces: list[Said] = [("narrative", "I did"), ("set aside", "think of a tape"), ("narrative", "I am not going to")]
    assert texts(narrative([("", 0, [("narrative", "reamed")]), ("", 2, pieces)])) == ["Reamed."]


@pytest.mark.parametrize(
    "pieces",
    [
        [("set aside", "a tape could be used"), ("narrative", "the wound was then closed over it")],
        [("set aside", "a tape could be used"), ("narrative", "we took"), ("used", "eight")],
    ],
)
def test_a_whole_clause_or_a_value_beside_words_set_aside_is_kept(pieces: list[Said]) -> None:
    assert texts(narrative([("", 0, pieces)]))


@pytest.mark.parametrize("status", ["unplaced", "set aside", "filler"])
def test_a_statement_without_a_standing_word_is_left_out(status: Status) -> None:
    found = narrative([("", 0, [("narrative", "reamed")]), ("", 2, [(status, "thank you for watching")])])
    assert texts(found) == ["Reamed."]


def test_a_new_section_begins_a_paragraph() -> None:
    talk = [
        ("findings", 0, [("narrative", "notch narrow")]),
        ("findings", 2, [("narrative", "meniscus intact")]),
        ("description", 4, [("narrative", "reamed")]),
    ]
    assert texts(narrative(talk)) == ["Notch narrow. Meniscus intact.", "Reamed."]


def test_spoken_marks_are_set() -> None:
    assert texts(narrative([("", 0, [("narrative", "reamed"), ("filler", "comma"), ("narrative", "then tapped")])])) == [
        "Reamed, then tapped."
    ]


def test_a_spoken_new_paragraph_begins_one() -> None:
    talk = [
        ("", 0, [("narrative", "one")]),
        ("", 2, [("narrative", "two"), ("filler", "new paragraph")]),
        ("", 4, [("narrative", "three")]),
    ]
    assert texts(narrative(talk)) == ["One. Two.", "Three."]


def test_a_long_pause_begins_a_paragraph_and_a_short_one_does_not() -> None:
    talk = [("", second, [("narrative", word)]) for second, word in ((0, "one"), (10, "two"), (60, "three"), (100, "four"))]
    assert texts(narrative(talk)) == ["One. Two. Three.", "Four."]


def test_an_endless_talk_is_broken_up() -> None:
    talk = [("", float(second), [("narrative", f"step {second}")]) for second in range(20)]
    assert [text.count(".") for text in texts(narrative(talk))] == [8, 8, 4]


def test_in_a_dictation_with_marks_a_sentence_is_put_together_from_its_parts() -> None:
    talk = [("", 0, [("narrative", "We looked.")]), ("", 2, [("narrative", "It was reamed,")]), ("", 4, [("narrative", "then tapped.")])]
    assert texts(narrative(talk)) == ["We looked. It was reamed, then tapped."]
    assert texts(narrative([("findings", *talk[1][1:]), talk[2], talk[0]])) == ["It was reamed.", "Then tapped. We looked."]


def test_in_a_dictation_without_marks_every_statement_is_a_sentence() -> None:
    talk = [("", 0, [("narrative", "we looked")]), ("", 2, [("narrative", "it was reamed")]), ("", 4, [("narrative", "then tapped.")])]
    assert texts(narrative(talk)) == ["We looked. It was reamed. Then tapped."]


def test_a_header_statement_with_a_word_nobody_could_place_is_kept() -> None:
    talk = [("header", 0, [("narrative", "tourniquet"), ("used", "300"), ("unplaced", "42 minutes")])]
    assert texts(narrative(talk, entities=[("case", "tourniquet_mmHg", "300")])) == ["Tourniquet 300 42 minutes."]


def test_a_statement_that_only_gives_header_lines_is_not_repeated() -> None:
    talk = [("header", 0, [("narrative", "surgeon"), ("used", "doctor Arden")]), ("", 4, [("narrative", "reamed")])]
    found = narrative(talk, entities=[("case", "surgeon", "doctor Arden")])
    assert texts(found) == ["Reamed."]
    assert [statement.raw for statement in found.not_repeated] == ["surgeon doctor Arden"]


def test_a_header_statement_that_says_more_is_kept() -> None:
    more = "was marked by me in the holding area with the patient awake"
    found = narrative([("header", 0, [("used", "right knee"), ("narrative", more)])], entities=[("case", "side", "right knee")])
    assert texts(found) == [f"Right knee {more}."]


def test_a_step_of_the_operation_said_under_a_header_heading_is_kept() -> None:
    found = narrative(
        [("header", 0, [("narrative", "tunnel reamed to"), ("used", "eight")])], entities=[("tunnel", "diameter_mm", "eight")]
    )
    assert texts(found) == ["Tunnel reamed to eight."]


def test_a_diagnosis_that_also_names_the_grafts_ligament_is_not_repeated() -> None:
    talk = [("preop diagnosis", 0, [("narrative", "diagnosis"), ("used", "torn ACL")])]
    assert texts(narrative(talk, entities=[("case", "preop_diagnosis", "torn ACL"), ("graft", "structure", "ACL")])) == []


def test_a_step_that_names_the_side_is_kept() -> None:
    talk = [("", 0, [("narrative", "on this"), ("used", "right knee"), ("narrative", "we ream to"), ("used", "eight")])]
    found = narrative(talk, entities=[("case", "side", "right knee"), ("tunnel", "diameter_mm", "eight")])
    assert texts(found) == ["On this right knee we ream to eight."]


def test_a_bare_heading_is_not_repeated() -> None:
    assert texts(narrative([("header", 0, [("narrative", "estimated blood loss")])])) == []


def test_a_header_line_said_outside_the_header_is_not_repeated() -> None:
    found = narrative([("", 0, [("narrative", "this is a"), ("used", "right knee")])], entities=[("case", "side", "right knee")])
    assert texts(found) == []


def test_aftercare_said_in_the_talk_goes_to_its_part() -> None:
    talk = [("", 0, [("narrative", "closed in layers")]), ("", 4, [("narrative", "weight bearing"), ("used", "partial")])]
    found = narrative(talk, entities=[("postop", "value", "partial")])
    assert texts(found) == ["Closed in layers."]
    assert texts(found, ("plan",)) == ["Weight bearing partial."]


def test_every_sentence_knows_its_second_and_statement() -> None:
    found = narrative([("", 0, [("filler", "um")]), ("", 7, [("narrative", "reamed")])])
    (paragraph,) = found.paragraphs((EVERYTHING,))
    assert [(s.start_s, s.end_s, s.statement, s.source) for s in paragraph.sentences] == [(7, 8, 1, "d")]


def test_a_heading_without_words_under_it_makes_no_section() -> None:
    told = narrative([("indications", 1.0, [("narrative", "Indications:")]), ("findings", 9.0, [("narrative", "The ACL was torn.")])])
    assert texts(told, ("indications",)) == []
    assert [statement.raw for statement in told.not_repeated] == ["Indications:"]


@pytest.mark.parametrize("words", ["Indications: it gave way.", "Knife to skin.", "The findings are below."])
def test_words_that_are_more_than_a_heading_stand(words: str) -> None:
    assert texts(narrative([("indications", 1.0, [("narrative", words)])]), ("indications",)) == [words]
