"""No mis-hearing turns a meaning round: what the lint refuses, what it wants asked about, and what it lets pass."""

from __future__ import annotations

from pathlib import Path

import pytest

from opnote.errors import LexiconError
from opnote.lexicon import Mishearing, load
from opnote.lexicon.guarded import Guard

LEXICON = load()
GUARD = Guard.of(LEXICON.opposites, LEXICON.terms)


def _entry(heard: str, meant: str, *, otherwise: str = "replace", near: str = "", flip: bool = False) -> Mishearing:
    return Mishearing(
        id="ours", heard=(heard,), meant=meant, otherwise=otherwise, only_near=(near,) if near else (), flip=flip, example="x", source="x"
    )


SWAPS = [
    ("left", "right"), ("the left knee", "the right knee"), ("Left", "right"), ("medial", "lateral"), ("medially", "laterally"),
    ("femoral", "tibial"), ("tibia", "femur"), ("anterior", "posterior"), ("anterior drawer", "posterior drawer"),
    ("proximal", "distal"), ("valgus", "varus"), ("internal", "external"), ("flexion", "extension"), ("intact", "torn"), ("torn", "intact"),
    ("unicortical", "bicortical"), ("positive", "negative"), ("used", "unused"), ("open", "closed"), ("before", "after"),
    ("autograft", "allograft"), ("gracilis", "semitendinosus"), ("cefazolin", "cefuroxime"), ("fifty", "fifteen"), ("15", "50"),
    ("two forty", "two fourteen"), ("centimetres", "millimetres"), ("milligrams", "grams"), ("tourniquet up", "tourniquet down"),
    ("stable", "unstable"), ("supine", "prone"),
]  # fmt: skip
HUNG = [
    ("not used", "used"), ("used", "not used"), ("know", "no"), ("no tear", "a tear"), ("to", "two"), ("for", "four"), ("ate", "eight"),
    ("lefts", "left"), ("write", "right"), ("various", "varus"), ("vagus", "valgus"), ("perineal", "peroneal"),
    ("one drain", "wound drain"),
    ("without", "with a"), ("not less", "knotless"), ("bike cortical", "bicortical"),
]  # fmt: skip
FREE = [
    ("graph", "graft"), ("peak", "PEEK"), ("allograph", "allograft"), ("allo graft", "allograft"), ("ileo tibial", "iliotibial"),
    ("patella femoral", "patellofemoral"), ("a c l", "ACL"), ("tibia tunnel", "tibial tunnel"), ("millimeter", "millimetre"),
    ("bridge clamp", "staple"), ("sem eye tendinosus", "semitendinosus"), ("the left grafts", "the left graft"), ("ten don", "tendon"),
]  # fmt: skip


@pytest.mark.parametrize(("heard", "meant"), SWAPS)
def test_a_word_is_never_made_its_opposite(heard: str, meant: str) -> None:
    for flip in (False, True):
        assert [field for field, _ in GUARD.faults(_entry(heard, meant, flip=flip))] == ["heard"]
        assert [field for field, _ in GUARD.faults(_entry(heard, meant, otherwise="leave", near="x", flip=flip))] == ["heard"]


@pytest.mark.parametrize(("heard", "meant"), SWAPS)
def test_asking_which_was_meant_is_allowed(heard: str, meant: str) -> None:
    assert not list(GUARD.faults(_entry(heard, meant, otherwise="ask")))


@pytest.mark.parametrize(("heard", "meant"), HUNG)
def test_what_gains_or_loses_a_guarded_word_says_that_it_asks(heard: str, meant: str) -> None:
    assert [field for field, _ in GUARD.faults(_entry(heard, meant))] == ["flip"]
    assert not list(GUARD.faults(_entry(heard, meant, flip=True)))


@pytest.mark.parametrize(("heard", "meant"), FREE)
def test_what_leaves_the_meaning_is_free(heard: str, meant: str) -> None:
    assert not list(GUARD.faults(_entry(heard, meant)))


def test_no_command_reads_a_lexicon_that_turns_left_into_right(tmp_path: Path) -> None:
    text = (
        '[[mishearing]]\nid = "ours"\nheard = ["left"]\nmeant = "right"\notherwise = "replace"\nexample = "the left knee"\nsource = "x"\n'
    )
    (tmp_path / "ours.toml").write_text(text, encoding="utf-8")
    with pytest.raises(LexiconError) as caught:
        load(folders=[tmp_path])
    assert caught.value.faults == (
        'ours.toml: mishearing ours: heard: "left" is never read as "right": "left" and "right" are opposites (sides); '
        'let it ask: otherwise = "ask", and no only_near',
    )


def test_a_site_guards_a_pair_of_its_own(tmp_path: Path) -> None:
    pair = '[[opposites]]\nid = "cranial-caudal"\nwords = [["cranial"], ["caudal"]]\nsource = "x"\n'
    heard = '[[mishearing]]\nid = "ours"\nheard = ["cranial"]\nmeant = "caudal"\notherwise = "replace"\nexample = "x"\nsource = "x"\n'
    (tmp_path / "ours.toml").write_text(heard, encoding="utf-8")
    assert "ours" in {entry.id for entry in load(folders=[tmp_path]).mishearings}
    (tmp_path / "pairs.toml").write_text(pair, encoding="utf-8")
    with pytest.raises(LexiconError, match="are opposites"):
        load(folders=[tmp_path])
