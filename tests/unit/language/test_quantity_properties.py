"""Properties of the grammar of spoken quantities, over numbers as num2words and surgeons say them and over random words."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from opnote.language.quantities import find_quantities
from tests.unit.language.phrases import found_in

QUARTERS = {0.0: "", 0.25: " and a quarter", 0.5: " and a half", 0.75: " and three quarters"}
ENDS = frozenset({".", "?", "!", ";", "\n"})


def _by_num2words(value: float) -> str:
    return str(num2words(int(value) if value.is_integer() else value))


def _without_and(value: float) -> str:
    return _by_num2words(value).replace(" and ", " ").replace(",", "").replace("-", " ")


def _with_fraction(value: float) -> str:
    whole = int(value)
    return str(num2words(whole)).replace(",", "").replace("-", " ") + QUARTERS[value - whole]


def _figures(value: float) -> str:
    return f"{value:g}"


def _figures_with_fraction(value: float) -> str:
    whole = int(value)
    return f"{whole}{QUARTERS[value - whole]}"


WAYS: list[Callable[[float], str]] = [_by_num2words, _without_and, _with_fraction, _figures, _figures_with_fraction]
quarters = st.integers(min_value=1, max_value=4 * 9999).map(lambda count: count / 4)


@pytest.mark.parametrize("way", WAYS)
@given(value=quarters)
@settings(max_examples=150, deadline=None)
def test_any_number_in_quarters_comes_back(way: Callable[[float], str], value: float) -> None:
    spoken = way(value).replace(", ", " ")
    found = found_in(f"it measured {spoken} newtons under load")
    assert [(quantity.kind, quantity.value, quantity.unit) for quantity in found] == [("force", value, "N")], spoken


@given(hundreds=st.integers(1, 9), rest=st.integers(10, 99))
@settings(max_examples=200, deadline=None)
def test_short_hundreds_come_back(hundreds: int, rest: int) -> None:
    spoken = f"{num2words(hundreds)} {num2words(rest)}".replace("-", " ")
    [found] = found_in(f"the graft is {spoken} millimetres long")
    assert found.value == hundreds * 100 + rest


@given(tens=st.integers(1, 9), tenths=st.integers(1, 9))
def test_two_digits_keep_both_readings(tens: int, tenths: int) -> None:
    [found] = found_in(f"a {num2words(tens)} {num2words(tenths)} drill")
    assert found.readings == (tens + tenths / 10, tens * 10 + tenths)


@given(low=st.integers(0, 179), width=st.integers(1, 90))
@settings(max_examples=150, deadline=None)
def test_ranges_keep_both_ends(low: int, width: int) -> None:
    high = low + width
    for spoken in (f"{low} to {high} degrees", f"between {num2words(low)} and {num2words(high)} degrees", f"{high} to {low} degrees"):
        [found] = found_in(spoken)
        assert (found.value, found.low, found.high, found.unit) == (None, low, high, "deg"), spoken


@given(diameter=st.integers(4, 13), length=st.integers(15, 60))
def test_pairs_keep_their_order(diameter: int, length: int) -> None:
    for spoken in (f"{diameter}x{length}", f"{diameter} by {length}", f"{num2words(diameter)} by {num2words(length)}"):
        [found] = found_in(spoken)
        assert [part.value for part in found.parts] == [diameter, length], spoken


@given(hours=st.integers(0, 23), minutes=st.integers(0, 59))
def test_written_times_come_back(hours: int, minutes: int) -> None:
    [found] = found_in(f"incision at {hours:02d}:{minutes:02d}")
    assert (found.kind, found.value) == ("clock", f"{hours:02d}:{minutes:02d}")


@given(
    signs=st.text(alphabet="BCDFGHJKLMNPQRSTVWXYZ0123456789", min_size=5, max_size=9).filter(
        lambda text: any(sign.isdigit() for sign in text) and text[: len(text) // 2] * 2 != text  # those may be one code said twice
    )
)
@settings(max_examples=300, deadline=None)
def test_identifiers_read_sign_by_sign_come_back(signs: str) -> None:
    spoken = " ".join(num2words(int(sign)) if sign.isdigit() else sign.lower() for sign in signs)
    found = found_in(f"lot number {spoken}.")
    assert [(quantity.kind, quantity.value) for quantity in found] == [("identifier", signs)], spoken


VOCABULARY = [
    *"one two three four five six seven eight nine ten eleven fifteen nineteen twenty thirty forty ninety hundred thousand oh zero".split(),
    *"and a an half quarter point by x to or between plus minus the of for at lot number grade double dash bravo november b kilo".split(),
    *"millimetres mm degrees newtons pounds weeks days hours minutes mil percent times inch mercury am past march first year".split(),
    *"2 40 7.5 7x25 0742 8:52 2-0 30° 1/2 3/4/2026 25mm 2b K4172 - : , . ? um tourniquet screw suture about up old".split(),
    *"down up way all through respectively position o'clock double triple niner stroke outerbridge icrs motion range".split(),
    *"mercury until expiry birth month end foot in it".split(),
    *"third thirds tenths seconds into cross nil over screws anchor february april 2027-02-29 30/02/2027 2x 31 .5".split(),
    "\n",
]
utterances = st.lists(st.sampled_from(VOCABULARY), max_size=40)


@given(words=utterances)
@settings(max_examples=500, deadline=None)
def test_spans_are_in_order_inside_the_text_and_do_not_overlap(words: list[str]) -> None:
    reached = 0
    for quantity in find_quantities(words):
        assert reached <= quantity.start < quantity.end <= len(words)
        assert all(quantity.start <= part.start < part.end <= quantity.end for part in quantity.parts)
        reached = quantity.end


@given(words=utterances)
@settings(max_examples=500, deadline=None)
def test_no_span_crosses_the_end_of_a_sentence(words: list[str]) -> None:
    for quantity in find_quantities(words):
        assert not ENDS.intersection(words[quantity.start : quantity.end])


@given(words=utterances)
@settings(max_examples=300, deadline=None)
def test_the_same_words_give_the_same_quantities(words: list[str]) -> None:
    assert find_quantities(words) == find_quantities(tuple(words))


@given(words=utterances)
@settings(max_examples=300, deadline=None)
def test_every_quantity_has_a_reason_and_a_value_or_a_doubt(words: list[str]) -> None:
    for quantity in find_quantities(words):
        assert quantity.why
        has_value = quantity.value is not None or quantity.low is not None or bool(quantity.parts)
        assert has_value or quantity.kind in ("date", "identifier")


@given(words=st.lists(st.text(max_size=8), max_size=20))
@settings(max_examples=300, deadline=None)
def test_any_text_is_read_without_an_error(words: list[str]) -> None:
    assert all(quantity.end <= len(words) for quantity in find_quantities(words))


@pytest.mark.parametrize(
    "phrase",
    [
        "seven",
        "seven by",
        "lot four",
        "double",
        "ten to",
        "twenty and",
        "one hundred and",
        "-",
        "two seven",
        "two seven by",
        "two seven eight by",
        "one to two plus",
        "three thirty seconds of",
        "2x",
        "nine into",
        "double two",
        "lot double",
        "two double",
        "nine oh five to",
        "two fifty two eighty",
        "five zero one",
        "zero zero",
        "ninety down to",
        "the third of the",
        "5 -",
    ],
)
def test_time_grows_no_faster_than_the_text(phrase: str) -> None:
    """Twenty times the words in no more than sixty times the time: linear, with room for a busy machine."""
    short, long = phrase.split() * 200, phrase.split() * 4000
    assert _seconds(long) < 60 * max(_seconds(short), 0.0002)


def _seconds(words: list[str]) -> float:
    """The process's own time, least of five: other work on the machine does not count."""
    best = float("inf")
    for _ in range(5):
        start = time.process_time()
        find_quantities(words)
        best = min(best, time.process_time() - start)
    return best
