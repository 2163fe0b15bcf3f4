"""Where speech is cut into statements, and which part of the note each stands under."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from opnote.hearing import hear
from opnote.language.headings import find_headings
from opnote.language.phrases import Phrasebook
from opnote.language.statements import FINAL, Joints, Statement, cut, flows
from opnote.language.talk import Talk, understand
from opnote.lexicon import load
from opnote.transcript import read_bytes

LEXICON = load()
BOOK = Phrasebook(LEXICON)
JOINTS = Joints.of(LEXICON.words)
FLOWING = (
    "we put the patient on the table supine and the leg in the holder and we had a look and all was fine and we closed up at the end too "
)
SPEECH = st.lists(
    st.sampled_from(
        "findings procedure procedures anesthesia plan tourniquet incision : . , ? the a of was then and so okay we did reconstruction "
        "femoral tunnel graft five cm two a left knee diagnosis post op next scope notch aspirin".split()
    ),
    max_size=60,
)


def talk_of(text: str) -> Talk:
    """What language understands of a text."""
    return understand(hear(read_bytes(text.encode(), name="x.txt"), LEXICON), LEXICON, BOOK)


def _told(text: str) -> list[tuple[str, str]]:
    """The section and the words of each statement."""
    talk = talk_of(text)
    return [(statement.section, _words(talk, statement)) for statement in talk.statements]


def _words(talk: Talk, statement: Statement) -> str:
    return " ".join(talk.words[statement.start : statement.end])


def _texts(text: str) -> list[str]:
    return [words for _, words in _told(text)]


@pytest.mark.parametrize(
    ("said", "statements"),
    [
        ("The graft was passed. The knee was cycled.", ["the graft was passed .", "the knee was cycled ."]),
        ("Is it flush? It is; good!", ["is it flush ?", "it is ;", "good !"]),
        ("The tunnel was 8.5 mm, lot 60319C. It was reamed.", ["the tunnel was 8.5 mm , lot 60319c .", "it was reamed ."]),
        ("The graft was passed and the knee was cycled.", ["the graft was passed and the knee was cycled ."]),
        ("Then we drilled. Next we reamed.", ["then we drilled .", "next we reamed ."]),
    ],
)
def test_punctuated_speech_is_cut_at_its_stops(said: str, statements: list[str]) -> None:
    assert _texts(said) == statements


def test_speech_without_punctuation_is_cut_where_openers_stand() -> None:
    said = FLOWING + "then we drilled the femoral tunnel to nine millimetres next we drilled the tibial tunnel to nine millimetres"
    assert _texts(said)[-2:] == [
        "then we drilled the femoral tunnel to nine millimetres",
        "next we drilled the tibial tunnel to nine millimetres",
    ]


def test_an_overlong_sentence_is_cut_at_openers_too() -> None:
    said = f"It was a good morning. {FLOWING.strip()} with all of us there and some more people then we drilled the femoral tunnel."
    assert _texts(said)[-1] == "then we drilled the femoral tunnel ."


@pytest.mark.parametrize(
    "bound",
    [
        pytest.param("he came in for the tourniquet which is not new to him at all", id="an article before"),
        pytest.param("he said we let the tourniquet down when it was all in there", id="inside a term"),
        pytest.param("she came with skin incision marked on her as we know it well", id="inside a term that an opener ends"),
        pytest.param("there is a five centimetre incision which looks well for now", id="a length before"),
    ],
)
def test_a_word_that_is_bound_to_the_one_before_opens_nothing(bound: str) -> None:
    talk = talk_of(FLOWING + bound)
    starts = {statement.start for statement in talk.statements}
    words = ("tourniquet", "scope", "incision")
    assert not any(talk.words[start] in words for start in starts)


def test_the_letter_of_a_grade_binds_nothing() -> None:
    assert _texts(FLOWING + "lachman one a scope was put in through the lateral portal")[-1].startswith("scope was put in")


def test_an_opener_cuts_off_no_scrap() -> None:
    texts = _texts(FLOWING + "then next then we drilled the femoral tunnel")
    assert all(len(text.split()) >= 3 for text in texts)


@pytest.mark.parametrize(
    ("said", "told"),
    [
        pytest.param(
            "Anesthesia: general. The knee was examined.",
            [("anesthesia", "anesthesia : general ."), ("", "the knee was examined .")],
            id="a brief heading is over with its statement",
        ),
        pytest.param(
            "Anesthesia. General. The knee was examined.",
            [("anesthesia", "anesthesia ."), ("anesthesia", "general ."), ("", "the knee was examined .")],
            id="a heading that is a sentence of its own heads the next one",
        ),
        pytest.param(
            "Findings: The ACL was torn. The menisci were intact.",
            [("findings", "findings : the acl was torn ."), ("findings", "the menisci were intact .")],
            id="a labelled heading holds on",
        ),
        pytest.param(
            "Findings an ACL tear. The menisci were intact.",
            [("findings", "findings an acl tear ."), ("", "the menisci were intact .")],
            id="without a label it holds for its own statement",
        ),
        pytest.param(
            "The findings were shown to the family. Drains were not used.",
            [("", "the findings were shown to the family ."), ("", "drains were not used .")],
            id="the subject of a verb is no heading",
        ),
        pytest.param(
            "Procedures: ACL reconstruction. Lateral meniscal repair. The patient was brought in. ACL repair.",
            [
                ("procedures", "procedures : acl reconstruction ."),
                ("procedures", "lateral meniscal repair ."),
                ("", "the patient was brought in ."),
                ("", "acl repair ."),
            ],
            id="the list of procedures ends where no action is named",
        ),
        pytest.param(
            "Findings: intact menisci. Anesthesia: general. It was short.",
            [("findings", "findings : intact menisci ."), ("anesthesia", "anesthesia : general ."), ("", "it was short .")],
            id="a new heading ends the old one",
        ),
        pytest.param(
            "Postoperative diagnosis was an ACL tear.",
            [("postop diagnosis", "postoperative diagnosis was an acl tear .")],
            id="a diagnosis is a heading even as the subject of a verb",
        ),
        pytest.param(
            "Diagnoses before: none. Preoperative diagnoses: 1. ACL tear. 2. Meniscal tear. The knee was examined.",
            [
                ("", "diagnoses before : none ."),
                ("preop diagnosis", "preoperative diagnoses :"),
                ("preop diagnosis", "1 . acl tear ."),
                ("preop diagnosis", "2 . meniscal tear ."),
                ("", "the knee was examined ."),
            ],
            id="the items of a numbered list stand under its heading, and the stop of a number ends nothing",
        ),
        pytest.param(
            "Procedures: number one, ACL reconstruction. Number two, lateral release. The patient was brought in.",
            [
                ("procedures", "procedures :"),
                ("procedures", "number one , acl reconstruction ."),
                ("procedures", "number two , lateral release ."),
                ("", "the patient was brought in ."),
            ],
            id="items may be numbered in words",
        ),
        pytest.param(
            "Anesthesia: general. The tunnel was reamed to 2. It was long.",
            [("anesthesia", "anesthesia : general ."), ("", "the tunnel was reamed to 2 ."), ("", "it was long .")],
            id="a number at the end of a sentence begins no list",
        ),
        pytest.param(
            "Postoperative diagnosis:\nACL tear\nLoose body\n\nThe knee was examined.",
            [
                ("postop diagnosis", "postoperative diagnosis :"),
                ("postop diagnosis", "acl tear"),
                ("postop diagnosis", "loose body"),
                ("", "the knee was examined ."),
            ],
            id="lines below a heading of lists are its items",
        ),
        pytest.param(
            "Postoperative diagnosis:\nTear of the lateral\nmeniscus\n\nThe knee was examined.",
            [
                ("postop diagnosis", "postoperative diagnosis :"),
                ("postop diagnosis", "tear of the lateral meniscus"),
                ("", "the knee was examined ."),
            ],
            id="a line that is wrapped begins no item",
        ),
        pytest.param(
            "And postop diagnosis for the form? Same as before. It was fixed.",
            [
                ("", "and"),
                ("postop diagnosis", "postop diagnosis for the form ?"),
                ("postop diagnosis", "same as before ."),
                ("", "it was fixed ."),
            ],
            id="a heading in a question heads the answer",
        ),
        pytest.param(
            "PROCEDURE\nACL reconstruction\n\nThe procedure\nwas explained.",
            [("procedures", "procedure"), ("procedures", "acl reconstruction"), ("", "the procedure was explained .")],
            id="a heading may have a line to itself",
        ),
        pytest.param(
            "Post op diagnosis is the same.",
            [("postop diagnosis", "post op diagnosis is the same .")],
            id="no heading begins inside another one",
        ),
        pytest.param(
            "This is the left knee, postoperative diagnosis ACL tear.",
            [("", "this is the left knee ,"), ("postop diagnosis", "postoperative diagnosis acl tear .")],
            id="a diagnosis is a heading also inside a sentence",
        ),
    ],
)
def test_headings_hold_as_the_lexicon_says(said: str, told: list[tuple[str, str]]) -> None:
    assert _told(said) == told


def test_a_plan_at_the_end_goes_on_to_the_end() -> None:
    early = "Plan weight bearing as tolerated. The brace is locked. The graft was passed. The knee was cycled. It was fixed. We closed."
    late = "The graft was passed. The knee was cycled. It was fixed. We closed. All was well. Plan weight bearing. Brace locked. Home."
    assert [section for section, _ in _told(early)] == ["plan", "", "", "", "", ""]
    assert [section for section, _ in _told(late)][-3:] == ["plan", "plan", "plan"]


def test_the_words_of_a_heading_are_counted() -> None:
    assert [(s.heading, s.section) for s in talk_of("Postoperative diagnosis: ACL tear. It was fixed.").statements] == [
        (2, "postop diagnosis"),
        (0, ""),
    ]


def test_a_heading_inside_a_longer_one_is_none() -> None:
    talk = talk_of("Postoperative diagnosis: ACL tear.")
    assert [heading.entry.section for heading in find_headings(talk.words, talk.hits, JOINTS.predicates)] == ["postop diagnosis"]


def _dialogue(*turns: tuple[str, str]) -> Talk:
    segments = [{"start": 3.0 * n, "end": 3.0 * n + 2, "speaker": who, "text": text} for n, (who, text) in enumerate(turns)]
    return understand(hear(read_bytes(json.dumps({"segments": segments}).encode(), name="x.json"), LEXICON), LEXICON, BOOK)


def test_another_speaker_begins_a_statement() -> None:
    talk = _dialogue(("S1", "what size is the screw"), ("S2", "nine by twenty five"), ("S2", "as you asked"), ("S1", "thank you"))
    assert [(statement.speaker, _words(talk, statement)) for statement in talk.statements] == [
        ("S1", "what size is the screw"),
        ("S2", "nine by twenty five as you asked"),
        ("S1", "thank you"),
    ]


def test_a_paragraph_begins_a_statement() -> None:
    assert _texts("the graft was passed\n\nthe knee was cycled") == ["the graft was passed", "the knee was cycled"]


def test_of_no_words_there_are_no_statements() -> None:
    assert cut((), (), JOINTS) == ()


@given(SPEECH)
def test_statements_tile_the_words(words: list[str]) -> None:
    hits = BOOK.hits(BOOK.doc(" ".join(words)))
    tokens = tuple(token.lower_ for token in BOOK.doc(" ".join(words)))
    statements = cut(tokens, hits, JOINTS)
    assert [place for s in statements for place in range(s.start, s.end)] == list(range(len(tokens)))
    assert [s.index for s in statements] == list(range(len(statements)))
    assert all(s.start < s.end and 0 <= s.heading <= s.end - s.start for s in statements)
    known = {entry.section for entry in LEXICON.sections}
    assert all(not s.section or s.section in known for s in statements)
    assert all(tokens[place] not in FINAL for s in statements for place in range(s.start, s.end - 1))


@given(st.lists(st.sampled_from(["word", "."]), max_size=90))
def test_speech_flows_where_stops_are_rare(words: list[str]) -> None:
    assert flows(words) == (len(words) > 40 * max(1, words.count(".")))
