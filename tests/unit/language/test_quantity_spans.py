"""Which words a quantity stands on, what it keeps of what was said, and how it is explained."""

from __future__ import annotations

import pytest

from opnote.language.quantities import explain_quantities, find_quantities
from tests.unit.language.phrases import tokens


def _spans(text: str) -> list[str]:
    words = tokens(text)
    return [" ".join(words[quantity.start : quantity.end]) for quantity in find_quantities(words)]


@pytest.mark.parametrize(
    ("said", "spans"),
    [
        ("reamed to about eight and a half millimetres deep", ["about eight and a half millimetres"]),
        ("an eight-millimetre screw", ["eight - millimetre"]),
        ("a 7x25mm screw", ["7x25 mm"]),
        ("lot number k four four one, expiry may twenty twenty eight", ["k four four one", "may twenty twenty eight"]),
        ("between eight and ten degrees", ["between eight and ten degrees"]),
        ("seven and a um half millimetres", ["seven and a um half millimetres"]),
        ("at least twenty millimetres", ["twenty millimetres"]),
        ("on 3/4/2026 at 8:52", ["3/4/2026", "8:52"]),
        ("seven. Eight millimetres", ["seven", "Eight millimetres"]),
        ("seven\neight millimetres", ["seven", "eight millimetres"]),
        ("seven ? and a half", ["seven"]),
    ],
)
def test_a_span_holds_the_words_of_the_value_and_no_others(said: str, spans: list[str]) -> None:
    assert _spans(said) == spans


def test_the_parts_of_a_pair_stand_on_their_own_words() -> None:
    words = "an eight by twenty eight millimetre screw".split()
    [pair] = find_quantities(words)
    assert [" ".join(words[part.start : part.end]) for part in pair.parts] == ["eight", "twenty eight millimetre"]
    assert [part.unit for part in pair.parts] == ["mm", "mm"]


def test_an_identifier_does_not_hold_its_cue_and_names_it() -> None:
    words = "the lot number is k four four one".split()
    [identifier] = find_quantities(words)
    assert (identifier.start, identifier.end) == (4, 8)
    assert "cue=lot number" in identifier.why


def test_cues_are_the_callers_to_choose() -> None:
    words = "tray k four four one".split()
    assert [quantity.kind for quantity in find_quantities(words)] != ["identifier"]
    assert [quantity.value for quantity in find_quantities(words, identifier_cues={("tray",)})] == ["K441"]


def test_converted_values_keep_what_was_said() -> None:
    [quantity] = find_quantities("fifteen pounds".split())
    assert (quantity.value, quantity.unit, quantity.said) == (66.72, "N", (15.0, "[lbf_av]"))


def test_values_in_their_own_unit_keep_nothing_twice() -> None:
    [quantity] = find_quantities("eight millimetres".split())
    assert quantity.said is None


def test_no_words_give_no_quantities() -> None:
    assert find_quantities([]) == ()


def test_explained_rows_show_words_value_unit_and_rules() -> None:
    rows = explain_quantities(tokens("a nine five drill, 7x25, zero to ninety degrees, lot 884F, 3/4/2026"))
    assert [(row.kind, row.value, row.unit) for row in rows] == [
        ("number", "9.5 or 95", ""),
        ("pair", "7 x 25", ""),
        ("angle", "0 to 90", "deg"),
        ("identifier", "884F", ""),
        ("date", "2026-03-04 or 2026-04-03", ""),
    ]
    assert rows[0].why == "two digits: decimal or tens"
    assert rows[4].why == "date; what is day, month or year is open"


def test_a_bound_a_conversion_and_units_are_told_in_words() -> None:
    force, width, years = explain_quantities(tokens("at least fifteen pounds, two point five inches, five years"))
    assert (force.value, force.unit, force.as_said, force.why) == (
        "at least 66.72",
        "N",
        "15 pounds of force",
        "number; unit pounds of force",
    )
    assert (width.value, width.as_said) == ("63.5", "2.5 inches")
    assert (years.why, years.as_said) == ("number; unit years", "")


@pytest.mark.parametrize(
    "said", ["a third of the meniscus", "one third of the width", "two thirds of the circumference", "another third of the rim"]
)
def test_a_share_of_a_thing_is_neither_a_number_nor_an_ordinal(said: str) -> None:
    assert find_quantities(said.split()) == ()


def test_a_number_that_may_be_a_time_is_explained_with_it() -> None:
    [row] = explain_quantities("fourteen twenty two".split())
    assert (row.kind, row.value) == ("number", "1422 or 14:22")


def test_figures_of_one_token_are_no_motion() -> None:
    [suture, number] = find_quantities(["motion", "2-0", "forty"])
    assert (suture.kind, number.value) == ("suture size", 40.0)
