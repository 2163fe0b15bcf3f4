"""The whole of what language makes of a text, where its parts meet: identifiers, named angles, speakers, places."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from opnote.hearing import hear
from opnote.language.phrases import Phrasebook
from opnote.language.talk import Talk, understand
from opnote.lexicon import load
from opnote.transcript import read_bytes
from tests.unit.language.test_statements import BOOK, LEXICON, talk_of


def _quantities(talk: Talk, kind: str) -> list[tuple[str, object]]:
    return [(talk.doc[q.start : q.end].text, q.value) for q in talk.quantities if q.kind == kind]


@pytest.mark.parametrize(
    ("said", "angles"),
    [
        ("It was fixed in full extension.", [("full extension", 0.0)]),
        ("It was fixed at thirty degrees.", [("thirty degrees", 30.0)]),
        ("It was fixed in full extension, not at thirty degrees.", [("full extension", 0.0), ("thirty degrees", 30.0)]),
        ("It was fixed.", []),
    ],
)
def test_an_angle_may_be_said_by_name(said: str, angles: list[tuple[str, float]]) -> None:
    assert _quantities(talk_of(said), "angle") == angles


def test_a_number_in_an_angles_name_is_read_once(tmp_path: Path) -> None:
    """A keeper adds "zero extension" for full extension: the number in it is not said a second time."""
    term = '[[term]]\nid = "ours"\nkind = "flexion"\nvalue = "0"\nsaid = ["zero degrees of extension"]\nsource = "test"\n'
    (tmp_path / "ours.toml").write_text(term, encoding="utf-8")
    ours = load(folders=[tmp_path])
    talk = understand(hear(read_bytes(b"It was fixed at zero degrees of extension.", name="x.txt"), ours), ours, Phrasebook(ours))
    assert [mention.term for mention in talk.mentions if mention.kind == "flexion"] == ["ours"]
    assert _quantities(talk, "angle") == [("zero degrees", 0.0)]


def test_the_letters_of_an_identifier_are_no_terms() -> None:
    assert not [m for m in talk_of("Lot number A C L oh nine four.").mentions if m.kind == "structure"]
    assert [m.value for m in talk_of("The A C L was torn.").mentions if m.kind == "structure"] == ["ACL"]


@pytest.mark.parametrize("said", ["The lot number is 44 71 B.", "Serial 44 71 B."])
def test_what_stands_behind_the_cue_of_an_identifier_is_one(said: str) -> None:
    assert _quantities(talk_of(said), "identifier")


@pytest.mark.parametrize("said", ["The patient 44 71 B slept.", "The donor 44 71 B was young.", "The record 44 71 B fell."])
def test_a_cue_that_announces_other_things_as_often_makes_none(said: str) -> None:
    assert not _quantities(talk_of(said), "identifier")


def test_places_map_back_to_the_dictated_words() -> None:
    talk = talk_of("The um tibial tunnel comma was nine period The graft was passed period")
    place = talk.words.index("tibial")
    assert talk.heard.transcript.quote(talk.raw(place, place + 2)) == "tibial tunnel"
    assert talk.raw(3, 3).start == talk.raw(3, 3).end


def test_each_word_has_its_stance() -> None:
    talk = talk_of("No staple was used. The screw was advanced.")
    assert len(talk.stances) == len(talk.words)
    assert talk.stance(talk.words.index("staple"), talk.words.index("staple") + 1).name == "not done"
    assert talk.stance(talk.words.index("screw"), talk.words.index("screw") + 1).name == "done"
    assert talk.stance(len(talk.words), len(talk.words)).name == "done"


def test_two_speakers_make_two_statements_even_within_a_sentence() -> None:
    segments = [{"start": 0, "end": 1, "speaker": "S1", "text": "the size is"}, {"start": 2, "end": 3, "speaker": "S2", "text": "nine"}]
    read = read_bytes(json.dumps({"segments": segments}).encode(), name="x.json")
    assert [s.speaker for s in understand(hear(read, LEXICON), LEXICON, BOOK).statements] == ["S1", "S2"]
