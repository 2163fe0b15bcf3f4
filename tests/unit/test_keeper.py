"""What the keeper of the lexicons is told: faults, places of a word, quantities in a phrase."""

from __future__ import annotations

from pathlib import Path

import pytest

from opnote import keeper

TERM = '[[term]]\nid = "{id}"\nkind = "implant kind"\nvalue = "staple"\nsaid = ["bridge clamp"]\nsource = "invented"\n'
CUE = (
    '[[cue]]\nid = "cue-of-ours"\nstance = "option"\nsaid = ["conceivably"]\nscope = "statement"\nexample = "{example}"\n'
    'counter_example = "{counter}"\nsource = "invented"\n'
)
HEARD = (
    '[[mishearing]]\nid = "ours"\nheard = ["stay pull"]\nmeant = "staple"\notherwise = "replace"\nexample = "{example}"\n'
    'counter_example = "{counter}"\nsource = "invented"\n'
)


def _folder(tmp_path: Path, **files: str) -> Path:
    for name, text in files.items():
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    return tmp_path


def _faults(folder: Path) -> list[str]:
    """The faults of a folder's own files; those of the built-in lexicons are another test's business."""
    ours = tuple(path.relative_to(folder).as_posix() for path in folder.rglob("*.toml"))
    return [fault for fault in keeper.faults([folder]) if fault.startswith(ours)]


def test_the_built_in_lexicons_have_no_fault() -> None:
    assert keeper.faults() == ()


def test_a_good_entry_has_no_fault(tmp_path: Path) -> None:
    assert _faults(_folder(tmp_path, terms=TERM.format(id="bridge-clamp"))) == []


def test_every_fault_is_told_at_once_with_file_entry_and_field(tmp_path: Path) -> None:
    faults = _faults(_folder(tmp_path, one=TERM.format(id="Bridge Clamp"), two=TERM.format(id="x") + "colour = 'red'\n"))
    assert [fault.split(": ")[:3] for fault in faults] == [
        ["one.toml", "term Bridge Clamp", "id"],
        ["two.toml", "term x", "colour"],
    ]


def test_a_fault_in_a_table_of_the_checks_is_told_too(tmp_path: Path) -> None:
    (tmp_path / "procedures").mkdir()
    (tmp_path / "procedures" / "ours.toml").write_text('[[limit]]\nid = "ours"\n', encoding="utf-8")
    assert any(fault.startswith("procedures/ours.toml: limit ours: ") for fault in keeper.faults([tmp_path]))


def test_an_attribute_that_names_no_vocabulary(tmp_path: Path) -> None:
    entry = '[[attribute]]\ntype = "graft"\nname = "colour"\nlabel = "colour"\nvalue = "term"\nterms = "colours"\nsource = "invented"\n'
    faults = _faults(_folder(tmp_path, attributes=entry))
    assert faults == [
        fault
        for fault in faults
        if fault.startswith('attributes.toml: attribute graft.colour: terms: no such vocabulary: "colours"; known: ')
    ]
    assert len(faults) == 1


@pytest.mark.parametrize(
    ("example", "counter", "told"),
    [
        ("conceivably a staple", "a staple was used", []),
        ("a staple was used", "", ["example"]),
        ("conceivably a staple", "conceivably we used a staple", ["counter_example"]),
    ],
)
def test_the_examples_of_a_cue_are_run(example: str, counter: str, told: list[str], tmp_path: Path) -> None:
    faults = _faults(_folder(tmp_path, cues=CUE.format(example=example, counter=counter)))
    assert [fault.split(": ")[2] for fault in faults] == told


@pytest.mark.parametrize(
    ("example", "counter", "told"),
    [
        ("fixed with a stay pull", "we stay there and pull", []),
        ("fixed with a clamp", "we stay there and pull", ["example"]),
        ("fixed with a stay pull", "stay pull now", ["counter_example"]),
    ],
)
def test_the_examples_of_a_mishearing_are_run(example: str, counter: str, told: list[str], tmp_path: Path) -> None:
    faults = _faults(_folder(tmp_path, heard=HEARD.format(example=example, counter=counter)))
    assert [fault.split(": ")[2] for fault in faults] == told


def test_a_word_is_found_in_every_field_but_the_talk_about_it(tmp_path: Path) -> None:
    _folder(tmp_path, terms=TERM.format(id="bridge-clamp"), heard=HEARD.format(example="the bridge clamp", counter=""))
    ours = [place for place in keeper.find("Bridge  clamp", [tmp_path]) if place.file == "terms.toml"]
    assert [(place.table, place.id, place.field, place.phrases, place.means) for place in ours] == [
        ("term", "bridge-clamp", "said", ("bridge clamp",), "implant kind: staple")
    ]
    assert not [place for place in keeper.find("bridge clamp", [tmp_path]) if place.file == "heard.toml"]


def test_a_part_of_a_word_is_not_the_word() -> None:
    assert keeper.find("stapl") == ()


def test_the_quantities_of_a_phrase() -> None:
    [spoken] = keeper.quantities("a seven by twenty three millimetre screw")
    parts = [part.value for part in spoken.quantity.parts]
    assert (spoken.told.words, spoken.told.kind, parts) == ("seven by twenty three millimetre", "pair", [7, 23])


def test_a_quantity_that_was_taken_back_is_shown_with_what_took_its_place() -> None:
    first, second = keeper.quantities("thirty two, no, sorry, thirty four millimetres")
    assert (first.told.value, first.gave_way_to) == ("32", "thirty four millimetres")
    assert (second.told.value, second.gave_way_to) == ("34", "")
