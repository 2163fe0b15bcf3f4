"""Phrases of the lexicon in a text: their spellings, the tokens of a text, and which hits there are."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from opnote.language.phrases import Phrasebook, variants
from opnote.lexicon import StanceCue, Term, load

LEXICON = load()
BOOK = Phrasebook(LEXICON)


@pytest.mark.parametrize(
    ("phrase", "spellings"),
    [
        ("graft", ["graft"]),
        ("ACL", ["acl", "a c l", "a.c.l", "a.c.l.", "a. c. l."]),
        ("sMCL", ["smcl", "s m c l", "s.m.c.l", "s.m.c.l.", "s. m. c. l."]),
        ("PCLs", ["pcls", "p c l s", "p.c.l.s", "p.c.l.s.", "p. c. l. s."]),
        ("ACL graft", ["acl graft", "a c l graft", "a.c.l graft", "a.c.l. graft", "a. c. l. graft"]),
        ("all-suture anchor", ["all suture anchor"]),
        ("ACL-deficient", ["acl deficient", "a c l deficient", "a.c.l deficient", "a.c.l. deficient", "a. c. l. deficient"]),
        ("Lachman", ["lachman"]),
        ("A", ["a"]),
        ("OPERATIVE", ["operative"]),
        ("i 'm the surgeon", ["i'm the surgeon"]),
        ("did n't use", ["didn't use", "didnt use"]),
        ("we 've", ["we've"]),
        ("patient 's", ["patient's"]),
        ("the 'standard' way", ["the 'standard' way"]),
        ("2-0", ["2 0"]),
    ],
)
def test_a_phrase_is_found_in_each_of_its_spellings(phrase: str, spellings: list[str]) -> None:
    assert list(variants(phrase)) == spellings


@given(st.text(st.characters(codec="ascii", exclude_characters="\0"), max_size=20))
def test_spellings_are_in_small_letters_and_each_stands_once(phrase: str) -> None:
    spellings = list(variants(phrase))
    assert len(set(spellings)) == len(spellings) >= 1
    assert all(spelling == spelling.lower() for spelling in spellings)


CLASSES = {entry.id: entry.words for entry in LEXICON.classes}
CLASSED = [(phrase, entry) for entry in (*LEXICON.cues, *LEXICON.hints) for phrase in entry.said if "<" in phrase and "..." not in phrase]


@pytest.mark.parametrize("pick", [0, -1], ids=["first", "last"])
def test_a_word_class_stands_for_each_of_its_words(pick: int) -> None:
    assert len(CLASSED) > 100
    for phrase, entry in CLASSED:
        said = re.sub(r"<([a-z]+)>", lambda name: CLASSES[name[1]][pick], phrase)
        doc = BOOK.doc(re.sub(r" (?=n't|'(?:s|m|d|ll|re|ve)\b)", "", said))
        assert any(hit.entry is entry and (hit.start, hit.end) == (0, len(doc)) for hit in BOOK.hits(doc)), said


def test_a_word_of_no_class_stands_for_none() -> None:
    phrase, entry = next((phrase, entry) for phrase, entry in CLASSED if phrase.startswith("the ") and phrase.endswith(">"))
    doc = BOOK.doc(re.sub(r"<[a-z]+>", "zebra", phrase))
    assert not any(hit.entry is entry for hit in BOOK.hits(doc))


@pytest.mark.parametrize(
    ("text", "tokens"),
    [
        ("The graft was cut.", ["The", "graft", "was", "cut", "."]),
        ("lot 60319C. Next", ["lot", "60319C", ".", "Next"]),
        ("it measured 9. Next", ["it", "measured", "9", ".", "Next"]),
        ("8.5 mm", ["8.5", "mm"]),
        ("the donor id is well", ["the", "donor", "id", "is", "well"]),
        ("Dr. Arden came at 9 a.m. today", ["Dr.", "Arden", "came", "at", "9", "a.m.", "today"]),
        ("we cannot", ["we", "cannot"]),
        ("we didn't", ["we", "did", "n't"]),
        ("I'm done", ["I", "'m", "done"]),
        ("I\u2019m done", ["I", "'m", "done"]),
        ("all-suture", ["all", "-", "suture"]),
    ],
)
def test_the_tokens_of_a_text(text: str, tokens: list[str]) -> None:
    assert [token.text for token in BOOK.doc(text)] == tokens


@given(st.text(st.characters(exclude_categories=("Cs",)), max_size=30))
def test_tokens_stand_where_their_words_stand(text: str) -> None:
    doc = BOOK.doc(text)
    plain = text.translate(str.maketrans("\u2018\u2019\u2010\u2011", "''--"))
    assert len(doc.text) == len(text)
    assert all(plain[token.idx : token.idx + len(token.text)] == token.text for token in doc)


def _terms(text: str) -> set[tuple[str, str]]:
    """The words of each term in a text, and its vocabulary."""
    doc = BOOK.doc(text)
    return {(doc[hit.start : hit.end].text, hit.entry.kind) for hit in BOOK.hits(doc) if isinstance(hit.entry, Term)}


def _terms_as_written(text: str) -> set[tuple[str, str]]:
    """The same with the text's own characters."""
    doc = BOOK.doc(text)
    spans = [(doc[hit.start : hit.end], hit.entry.kind) for hit in BOOK.hits(doc) if isinstance(hit.entry, Term)]
    return {(text[span.start_char : span.end_char], kind) for span, kind in spans}


@pytest.mark.parametrize("said", ["ACL", "acl", "A C L", "a c l", "A.C.L.", "a.c.l", "A. C. L.", "A-C-L"])
def test_an_abbreviation_is_a_structure_however_it_is_spelled(said: str) -> None:
    assert (said, "structure") in _terms(f"the {said} was torn")


@pytest.mark.parametrize(
    "said", ["all-suture anchor", "all suture anchor", "All-Suture Anchor", "all-suture-anchor", "all\u2011suture anchor"]
)
def test_a_hyphen_may_be_written_or_not(said: str) -> None:
    assert (said, "implant kind") in _terms_as_written(f"one {said} was used")


@pytest.mark.parametrize("said", ["no - all - suture anchor", "all -suture anchor", "all- suture anchor", "all--suture anchor"])
def test_a_dash_between_words_parts_them(said: str) -> None:
    assert not any(text.startswith("all") and text.endswith("anchor") for text, _ in _terms(f"one {said} was used"))


def test_a_cue_with_a_contraction_is_found_in_a_text() -> None:
    cues = {hit.entry.id for hit in BOOK.hits(BOOK.doc("we didn't use the staple")) if isinstance(hit.entry, StanceCue)}
    assert cues & {cue.id for cue in LEXICON.cues if cue.stance == "not done"}


def test_hits_come_by_their_place_and_longer_ones_first() -> None:
    hits = BOOK.hits(BOOK.doc("the medial collateral ligament and the left tibial tunnel of the graft"))
    assert [(hit.start, -hit.end) for hit in hits] == sorted((hit.start, -hit.end) for hit in hits)


def test_a_vocabulary_as_a_cue_word_is_no_phrase() -> None:
    """ "@implant kind" among an attribute's cue words stands for the terms of that kind; it is never looked for itself."""
    assert not any(hit.use == "before" for hit in BOOK.hits(BOOK.doc("@implant kind")))
