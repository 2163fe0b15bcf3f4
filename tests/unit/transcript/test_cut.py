"""Files that were cut off: refused where it is evident, doubted where it may be, and read in peace where they are whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from opnote.case import read_case
from opnote.errors import TranscriptError
from opnote.transcript import read_bytes
from tests.unit.transcript.transcript_cases import read_text

ROOT = Path(__file__).parents[3]
TOLD = [  # a dictation in sentences
    "The left knee was examined.",
    "The Lachman was soft.",
    "The graft was nine millimetres.",
    "The femoral tunnel was reamed to nine.",
    "The tibial tunnel was reamed to nine.",
    "The graft was fixed in full extension.",
]


def _vtt(*said: str) -> str:
    cues = (f"00:{number:02}.000 --> 00:{number + 1:02}.000\n{words}" for number, words in enumerate(said, start=1))
    return "WEBVTT\n\n" + "\n\n".join(cues)


def _srt(*said: str) -> str:
    cues = (f"{n}\n00:00:{n:02},000 --> 00:00:{n + 1:02},000\n{words}" for n, words in enumerate(said, start=1))
    return "\n\n".join(cues)


def _kinds(text: str) -> set[str]:
    return {mend.kind for mend in read_text(text).mends}


EVIDENT = [
    ("and the tibi", "in the middle of a word"),
    ("and the reconstr", "in the middle of a word"),
    ("the semitend", "in the middle of a word"),
    ("held at <v Nur", "in the middle of a tag"),
    ("held at <i>nine</", "in the middle of a tag"),
    ("less than &l", "in the middle of a tag"),
    ("the tunnel, and,", "in the middle of a sentence"),
    ("nine millimetres (", "in the middle of a sentence"),
    ("then the graft was ", "in the middle of a sentence"),
    ("Then the graft was", "in the middle of a sentence"),
    ("Then the screw of Doctor Oxenho", "in the middle of a sentence"),
]
WHOLE = [
    "Thank you.",
    "R&D.",
    "That is all!",
    "Is that all?",
    "The wound was closed (in layers).",
    "[music]",
    'He said "done."',
    "Lot K41.",
]
UNSURE = [
    "the people of R&D",
    "at AT&T",
    "thanks",
    "that is all good night",
    "end of dictation",
    "Doctor Oxenholme",
    "lot K 41",
    "nine",
    "was pulled",
    "<9",
    "in full extension",
]


@pytest.mark.parametrize("form", [_vtt, _srt])
@pytest.mark.parametrize(("last", "where"), EVIDENT)
def test_an_evident_cut_is_told(last: str, where: str, form: object) -> None:
    assert callable(form)
    cuts = [mend for mend in read_text(form(*TOLD, last)).mends if mend.kind == "cut"]
    assert [where in mend.what for mend in cuts] == [True]


@pytest.mark.parametrize("form", [_vtt, _srt])
@pytest.mark.parametrize("last", WHOLE)
def test_a_whole_file_without_a_line_end_is_no_cut(last: str, form: object) -> None:
    assert callable(form)
    assert _kinds(form(*TOLD, last)) == {"end"}


@pytest.mark.parametrize("form", [_vtt, _srt])
@pytest.mark.parametrize("last", UNSURE)
def test_without_full_stops_a_cut_behind_a_word_cannot_be_told(last: str, form: object) -> None:
    assert callable(form)
    said = [words.lower().rstrip(".") for words in TOLD]
    assert _kinds(form(*said, last)) == {"end"}


@pytest.mark.parametrize("last", [*(last for last, _ in EVIDENT if not last.endswith(("<v Nur", "</", "&l"))), *WHOLE, *UNSURE])
def test_a_file_with_a_line_end_at_its_end_is_whole(last: str) -> None:
    assert _kinds(_vtt(*TOLD, last) + "\n") <= {"shape"}


OTHERS = [
    b'<tt xmlns="http://www.w3.org/ns/ttml"><body><div><p begin="1s" end="2s">left knee</p><p begin="2s" en',
    b'<tt xmlns="http://www.w3.org/ns/ttml"><body><div><p begin="1s" end="2s">left knee</p><p begin="2s" end="3s">nine mil',
    b"rec A 0.1 0.2 left 0.9\nrec A 0.4 0.2 knee 0.9\nrec A 0.8 0.2 ni",
    b"rec A 0.1 0.2 left 0.9\n" * 9 + b"rec A 0.",
    b"[0:01] left knee [0:02] nine millimetres [0:0",
    "WEBVTT\n\n00:01.000 --> 00:02.000\nfifteen\u00b0".encode()[:-1],
    b"WEBVTT\n\nintro\n00:01.000 --> 00:02.000\nleft knee\n\nsecond\n00:02.000 --> 00:03.000\nsupine\n\nthir",
    b"WEBVTT\n\n00:01.000 --> 00:02.000\nleft knee\n\n00:02.000 --> 00:03.000",
    b"WEBVTT\n\n00:01.000 --> 00:02.000\nleft knee\n\n00:02.000 --> 00:03.000\n",
    b"1\n00:00:01,000 --> 00:00:02,000\nleft knee\n\n2\n00:00:02,0",
]


@pytest.mark.parametrize("data", OTHERS)
def test_other_formats_show_where_they_stop(data: bytes) -> None:
    assert [mend.kind for mend in read_bytes(data, name="case").mends].count("cut") == 1


@pytest.mark.parametrize(
    "text",
    [
        '{"segments": [{"text": "left kn',
        '{"segments": [{"text": "left", "start": 1.',
        '{"segments": [{"start": [], "text": "le',
        '[{"n": 1}, {"n": 2}, {"te',
    ],
)
def test_json_of_which_nothing_is_whole_is_told_to_be_cut(text: str) -> None:
    with pytest.raises(TranscriptError, match="the file stops in the middle of the JSON"):
        read_text(text)


@pytest.mark.parametrize(
    "text",
    [
        '{"segments": [{"text": "left knee"}, {"tex',
        '[{"text": "left knee"},',
        '[{"text": "left knee"}',
        '{"results": {"items": [{"type": "word", "content": "left"}, {"type": "word", "content": "knee"}]',
        '{"text": "left knee"}\n{"text": "ni',
    ],
)
def test_of_json_that_stops_in_its_middle_what_is_whole_is_read(text: str) -> None:
    transcript = read_text(text)
    assert transcript.text == "left knee"
    assert [(mend.what, mend.kind) for mend in transcript.mends] == [("the file stops in the middle of the JSON", "cut")]


@pytest.mark.parametrize(
    "text", ['{"segments": [{"text": "left" "start": 1}]}', '{"segments": [{"text": left}]}', '{"segments": [{"text": "left"}]]']
)
def test_json_that_is_broken_elsewhere_is_not(text: str) -> None:
    with pytest.raises(TranscriptError, match="the JSON is broken"):
        read_text(text)


def test_an_empty_last_cue_that_is_closed_is_no_cut() -> None:
    assert _kinds(_vtt(*TOLD) + "\n\n00:30.000 --> 00:31.000\n\n") == {"shape"}


@pytest.mark.parametrize("text", ["rec A 0.1 0.2 left 0.9\nrec A 0.4 0.2 knee 0.9", "rec A 0.1 0.2 left\nrec A 0.4 0.2 knee"])
def test_a_whole_list_of_words_without_a_line_end_is_no_cut(text: str) -> None:
    assert _kinds(text) == set()


@pytest.mark.parametrize("sample", ["medial-reconstruction-live/transcript.vtt", "acl-patellar-tendon-theatre/transcript.json"])
def test_a_sample_without_its_line_end_is_drafted(sample: str, tmp_path: Path) -> None:
    whole = (ROOT / "sample_dictations" / sample).read_bytes().rstrip(b"\n")
    path = tmp_path / Path(sample).name
    path.write_bytes(whole)
    assert read_case(str(path)).record.entities


@pytest.mark.parametrize("share", [0.2, 0.35, 0.5, 0.65, 0.8])
def test_a_sample_cut_anywhere_but_between_two_sentences_is_refused(share: float, tmp_path: Path) -> None:
    whole = (ROOT / "sample_dictations" / "medial-reconstruction-live" / "transcript.vtt").read_bytes()
    end = int(share * len(whole))
    path = tmp_path / "cut.vtt"
    refused = 0
    for at in range(end, end + 40):
        path.write_bytes(whole[:at])
        cut = [mend for mend in read_bytes(whole[:at], name="cut.vtt").mends if mend.kind == "cut"]
        closed = whole[:at].endswith((b"\n", b".", b"?", b"!"))
        assert cut or closed, whole[at - 30 : at]
        refused += bool(cut)
    assert refused > 20
    path.write_bytes(whole[: whole.index(b" ", end)])
    with pytest.raises(TranscriptError, match=r"cut\.vtt:\d+: the file stops in the middle of .*; get the whole file, or "):
        read_case(str(path))
