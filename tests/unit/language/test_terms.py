"""Terms: what a phrase stands for, by the words around it and by the phrases around it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from opnote.language.phrases import Hit
from opnote.language.terms import Mention, find_terms, fits
from opnote.lexicon import Section, Term


def _term(id_: str, kind: str, value: str, **fields: object) -> Term:
    return Term.model_validate({"id": id_, "kind": kind, "value": value, "said": ["x"], "source": "test", **fields})


def _hit(start: int, end: int, kind: str, value: str = "v", id_: str = "t", **fields: object) -> Hit:
    return Hit(start, end, "term", _term(id_, kind, value, **fields))


WORDS = "a fifty year old had the lateral ligament of her left knee repaired with a strip of the band today".split()


@pytest.mark.parametrize(
    ("fields", "fit"),
    [
        ({}, True),
        ({"not_after": ["her"]}, False),
        ({"not_after": ["of her"]}, False),
        ({"not_after": ["Her"]}, False),
        ({"not_after": ["of"]}, True),
        ({"not_before": ["knee"]}, False),
        ({"not_before": ["knee repaired"]}, False),
        ({"not_before": ["repaired"]}, True),
        ({"only_after": ["his", "her"]}, True),
        ({"only_after": ["his"]}, False),
        ({"only_before": ["knee"]}, True),
        ({"only_before": ["hip"]}, False),
        ({"only_after": ["her"], "not_before": ["knee"]}, False),
        ({"near": ["band"]}, True),
        ({"near": ["fifty", "hip"]}, True),
        ({"near": ["hip"]}, False),
        ({"near": ["left"]}, False),
        ({"near": ["today"]}, True),
    ],
)
def test_the_words_around_let_a_term_mean_what_it_says(fields: dict[str, object], fit: bool) -> None:
    place = WORDS.index("left")
    assert fits(_term("t", "side", "left", **fields), WORDS, place, place + 1) is fit


def test_a_word_that_stands_farther_than_ten_words_off_is_not_near() -> None:
    words = ["left", *["then"] * 10, "knee"]
    assert not fits(_term("t", "side", "left", near=["knee"]), words, 0, 1)
    assert fits(_term("t", "side", "left", near=["knee"]), words[1:], 0, 1)


@pytest.mark.parametrize("fields", [{"only_before": ["hand side"]}, {"not_after": ["non weight"]}])
def test_a_hyphen_between_counts_for_nothing(fields: dict[str, object]) -> None:
    words = ["non", "-", "weight", "-", "left", "-", "hand", "-", "side"]
    assert fits(_term("t", "side", "left", **fields), words, 4, 5) is ("only_before" in fields)


@pytest.mark.parametrize("place", [0, len(WORDS) - 1])
def test_nothing_stands_beyond_the_ends_of_a_text(place: int) -> None:
    guarded = _term("t", "side", "left", not_after=["today"], not_before=["a"])
    assert fits(guarded, WORDS, place, place + 1)
    assert not fits(_term("t", "side", "left", only_after=["a fifty year"], only_before=["x"]), WORDS, place, place + 1)


def _found(*hits: Hit) -> list[tuple[int, int, str]]:
    return [(mention.start, mention.end, mention.kind) for mention in find_terms(WORDS, hits)]


def test_a_term_inside_a_longer_one_is_left_out() -> None:
    assert _found(_hit(6, 8, "structure"), _hit(6, 7, "side")) == [(6, 8, "structure")]


def test_terms_side_by_side_both_stand() -> None:
    assert _found(_hit(6, 7, "side"), _hit(7, 8, "structure")) == [(6, 7, "side"), (7, 8, "structure")]


def test_terms_that_only_overlap_both_stand() -> None:
    assert _found(_hit(5, 7, "side"), _hit(6, 8, "structure")) == [(5, 7, "side"), (6, 8, "structure")]


def test_two_meanings_of_the_same_words_both_stand() -> None:
    assert _found(_hit(6, 8, "structure"), _hit(6, 8, "diagnosis")) == [(6, 8, "diagnosis"), (6, 8, "structure")]


@pytest.mark.parametrize("kind", ["opens", "phase", "bone"])
def test_a_phrase_that_only_places_things_leaves_the_terms_in_it_alone(kind: str) -> None:
    assert _found(_hit(6, 8, kind), _hit(7, 8, "structure")) == [(6, 8, kind), (7, 8, "structure")]
    assert _found(_hit(6, 8, kind), _hit(7, 8, kind)) == [(6, 8, kind)]


def test_a_noun_names_its_diagnosis_inside_a_longer_term_too() -> None:
    assert _found(_hit(6, 8, "result"), _hit(7, 8, "diagnosis noun")) == [(6, 8, "result"), (7, 8, "diagnosis noun")]


def test_a_longer_term_whose_context_forbids_it_hides_nothing() -> None:
    assert _found(_hit(6, 8, "structure", not_after=["the"]), _hit(6, 7, "side")) == [(6, 7, "side")]


def test_only_terms_are_mentions() -> None:
    heading = Section(id="s", section="plan", said=("x",), source="test")
    assert find_terms(WORDS, [Hit(0, 1, "section", heading), Hit(0, 1, "term", heading)]) == ()


def test_terms_that_say_the_same_stand_in_the_order_of_their_ids() -> None:
    """ "right" stands in two entries of the lexicon; which of them comes first must not hang on how Python hashes them."""
    ids = [f"side-{letter}" for letter in "hgfedcba"]
    assert [mention.term for mention in find_terms(WORDS, [_hit(6, 7, "side", id_=id_) for id_ in ids])] == sorted(ids)


HIT = st.builds(
    lambda start, width, kind, value, id_: _hit(start, min(start + width, len(WORDS)), kind, value, id_),
    st.integers(0, len(WORDS) - 1), st.integers(1, 4), st.sampled_from(["side", "structure", "bone", "opens"]),
    st.sampled_from(["left", "right"]), st.sampled_from(["t", "u"]),
)  # fmt: skip


@given(st.lists(HIT, max_size=10), st.randoms())
def test_the_order_of_hits_does_not_matter(hits: list[Hit], random: object) -> None:
    shuffled = list(hits)
    random.shuffle(shuffled)
    assert find_terms(WORDS, hits) == find_terms(WORDS, shuffled)


def _is_hidden(mention: Mention, others: list[Mention]) -> bool:
    """By definition, term by term: the oracle for the one pass that the program makes."""
    return any(
        other.start <= mention.start and mention.end <= other.end and other.end - other.start > mention.end - mention.start
        and (other.kind not in ("opens", "phase", "bone") or other.kind == mention.kind)
        for other in others
    )  # fmt: skip


@given(st.lists(HIT, max_size=10))
def test_what_stands_is_what_no_longer_mention_holds(hits: list[Hit]) -> None:
    found = list(find_terms(WORDS, hits))
    every = [Mention(hit.start, hit.end, hit.entry.kind, hit.entry.value, hit.entry.id) for hit in hits]
    assert not any(_is_hidden(mention, found) for mention in found)
    assert all(mention in found or _is_hidden(mention, found) for mention in every)
