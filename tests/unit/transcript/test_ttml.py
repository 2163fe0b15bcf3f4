"""TTML and DFXP: W3C TTML2, sections 7.2 (rates), 8.2 and 12 (timing)."""

from __future__ import annotations

from pathlib import Path

import pytest

from opnote.errors import TranscriptError
from opnote.transcript.ttml_times import Rates, rates, time_s
from tests.unit.transcript.transcript_cases import mended, read_text, rows

HEAD = (
    '<tt xmlns="http://www.w3.org/ns/ttml" xmlns:ttm="http://www.w3.org/ns/ttml#metadata" xmlns:ttp="http://www.w3.org/ns/ttml#parameter">'
)


def body(inner: str, attributes: str = "") -> str:
    return f"{HEAD}<body{attributes}><div>{inner}</div></body></tt>"


@pytest.mark.parametrize(
    ("expression", "second"),
    [
        ("00:00:01.500", 1.5),
        ("01:00:00", 3600.0),
        ("00:00:01:15", 1.5),
        ("1.5h", 5400.0),
        ("2m", 120.0),
        ("2.5s", 2.5),
        ("1500ms", 1.5),
        ("45f", 1.5),
        ("3t", 3.0),
        ("soon", None),
        ("-1s", None),
        ("5", None),
    ],
)
def test_time_expressions(expression: str, second: float | None) -> None:
    assert time_s(expression, Rates()) == second


def test_rates_are_the_files_own() -> None:
    assert rates({}) == Rates(30.0, 1.0, 1.0)
    assert rates({"frameRate": "25"}) == Rates(25.0, 1.0, 25.0)
    assert rates({"frameRate": "30", "frameRateMultiplier": "1000 1001", "tickRate": "10000000"}).frames == 29.97
    assert time_s("00:00:01:15.5", rates({"subFrameRate": "10"})) == 1.517
    assert time_s("15000000t", rates({"tickRate": "10000000"})) == 1.5
    assert rates({"frameRate": "0", "tickRate": "none"}) == Rates(30.0, 1.0, 1.0)


SMPTE = {"timeBase": "smpte", "frameRate": "30", "frameRateMultiplier": "1000 1001"}


@pytest.mark.parametrize(
    ("attributes", "expression", "second"),
    [
        ({"timeBase": "smpte", "frameRate": "25"}, "01:00:00:05", 3600.2),
        (SMPTE, "00:00:10:00", 10.01),
        (SMPTE | {"dropMode": "dropNTSC"}, "00:01:00:02", 60.06),
        (SMPTE | {"dropMode": "dropNTSC"}, "00:10:00:00", 599.999),
        (SMPTE | {"dropMode": "dropNTSC"}, "01:00:00:00", 3599.996),
        (SMPTE | {"dropMode": "dropPAL"}, "00:02:00:04", 120.12),
        (SMPTE | {"dropMode": "nonDrop"}, "01:00:00:00", 3603.6),
        (SMPTE, "2.5s", 2.5),
        ({"timeBase": "media", "frameRate": "30", "dropMode": "dropNTSC"}, "00:10:00:00", 600.0),
    ],
)
def test_a_clock_that_counts_frames(attributes: dict[str, str], expression: str, second: float) -> None:
    """By TTML's formula; an hour of drop-frame counts is an hour of seconds to 4 ms, without dropping it is 3.6 s longer."""
    assert time_s(expression, rates(attributes)) == second


def test_paragraphs_with_times_and_breaks() -> None:
    transcript = read_text(
        body('\n<p begin="1s" end="2.5s">left<br/>knee,\n <span tts:fontStyle="italic">nine</span></p>\n<p begin="3s" dur="1s">end</p>')
    )
    assert transcript.format == "ttml"
    assert rows(transcript) == [("left knee, nine", 1.0, 2.5, None), ("end", 3.0, 4.0, None)]
    assert [segment.line for segment in transcript.segments] == [2, 4]
    assert transcript.mends == ()


def test_times_count_from_the_parents_begin_and_end_with_it() -> None:
    transcript = read_text(
        body('<p begin="1s" end="90s"><span begin="1s" dur="2s">left</span> <span begin="5s">knee</span></p>', ' begin="10s" end="20s"')
    )
    assert [row[:3] for row in rows(transcript)] == [("left", 12.0, 14.0), ("knee", 16.0, 20.0)]


def test_in_a_sequence_times_count_from_the_end_before() -> None:
    inner = '<div timeContainer="seq"><p dur="2s">left</p><p begin="1s" dur="2s">knee</p></div>'
    assert [row[:3] for row in rows(read_text(body(inner, ' begin="10s"')))] == [("left", 10.0, 12.0), ("knee", 13.0, 15.0)]


def test_agents_are_speakers() -> None:
    agent = '<ttm:agent xml:id="n"><ttm:name type="full">Theatre\nNurse</ttm:name></ttm:agent>'
    head = f"<head><metadata><ttm:title>case</ttm:title>{agent}</metadata></head>"
    inner = (
        '<p begin="0s" end="1s" ttm:agent="n">Left?</p>'
        '<p begin="1s" end="2s" ttm:agent="s"><metadata>no speech</metadata>Left.</p>'
        '<p begin="2s">Go.</p>'
    )
    transcript = read_text(body(inner).replace("<body", head + "<body"))
    assert [(row[0], row[3]) for row in rows(transcript)] == [("Left?", "Theatre Nurse"), ("Left.", "s"), ("Go.", None)]


@pytest.mark.parametrize(
    ("names", "speaker"),
    [
        ('<ttm:name type="family">Dosanjh</ttm:name><ttm:name type="given">Imara</ttm:name>', "Imara Dosanjh"),
        ('<ttm:name type="given">Imara</ttm:name><ttm:name type="full">Imara Dosanjh</ttm:name>', "Imara Dosanjh"),
        ('<ttm:name type="alias">assistant</ttm:name><ttm:name type="family">Dosanjh</ttm:name>', "assistant"),
        ('<ttm:name type="other">second</ttm:name>', "second"),
        ("<ttm:name>Imara</ttm:name>", "Imara"),
        ('<ttm:name type="full"> </ttm:name>', "n"),
    ],
)
def test_of_several_names_of_an_agent_one_is_the_speakers(names: str, speaker: str) -> None:
    head = f'<head><metadata><ttm:agent xml:id="n">{names}</ttm:agent></metadata></head>'
    transcript = read_text(body('<p begin="0s" ttm:agent="n x">Left.</p>').replace("<body", head + "<body"))
    assert rows(transcript) == [("Left.", 0.0, None, speaker)]


def test_names_in_front_of_the_words_are_speakers_where_they_recur() -> None:
    words = ("NURSE: Left?", "SURGEON: Left.", "NURSE: Noted.", "SURGEON: Go on.")
    inner = "".join(f'<p begin="{at}s" end="{at + 1}s">{said}</p>' for at, said in enumerate(words))
    assert [(row[0], row[3]) for row in rows(read_text(body(inner)))][:2] == [("Left?", "NURSE"), ("Left.", "SURGEON")]


def test_frames_and_ticks_in_a_file() -> None:
    text = '<tt xmlns:ttp="http://www.w3.org/ns/ttml#parameter" ttp:frameRate="25" ttp:tickRate="1000"><body>'
    text += '<div begin="100f"><p begin="500t" dur="00:00:01:05">left</p><p begin="2s"><span end="1000t">knee</span></p></div></body></tt>'
    assert [row[:3] for row in rows(read_text(text))] == [("left", 4.5, 5.7), ("knee", 6.0, 7.0)]


def test_characters_named_outside_the_file_are_not_lost() -> None:
    text = '<!DOCTYPE tt SYSTEM "tt.dtd">' + body("<p>nine&nbsp;mm &unknown; deep</p>")
    assert read_text(text).text == "nine mm &unknown; deep"


def test_a_declaration_outside_the_file_is_not_fetched(tmp_path: Path) -> None:
    (tmp_path / "tt.dtd").write_text('<!ENTITY secret "fetched">', encoding="utf-8")
    text = f'<!DOCTYPE tt SYSTEM "{(tmp_path / "tt.dtd").as_uri()}">' + body("<p>left &secret;</p>")
    assert "fetched" not in read_text(text).text


def test_a_declared_encoding_does_not_mislead() -> None:
    assert read_text('<?xml version="1.0" encoding="utf-16"?>\n' + body("<p>5\u00b0</p>")).text == "5\u00b0"


def test_prefixed_elements_are_known() -> None:
    assert read_text('<tt:tt xmlns:tt="http://www.w3.org/ns/ttml"><tt:body><tt:p begin="1s">left</tt:p></tt:body></tt:tt>').text == "left"


@pytest.mark.parametrize(
    ("payload", "text"),
    [("diameter <9 mm &amp; > 8", "diameter <9 mm & > 8"), ("nine & ten", "nine & ten"), ("nine&nbsp;mm", "nine mm"), ("AT&T;", "AT&T;")],
)
def test_a_bare_less_or_ampersand_is_mended(payload: str, text: str) -> None:
    transcript = read_text(body(f"<p>{payload}</p><p>end</p>"))
    assert transcript.text == f"{text} end"
    assert len(transcript.mends) == 1


def test_of_a_cut_file_what_stands_in_front_is_read() -> None:
    transcript = read_text(f'{HEAD}<body><div>\n<p begin="1s" end="2s">left</p>\n<p begin="2s" end="3s">kn')
    assert [row[:2] for row in rows(transcript)] == [("left", 1.0), ("kn", 2.0)]
    assert transcript.mends[-1].line == 3


def test_irregular_times_are_noted() -> None:
    transcript = read_text(body('<p begin="soon" end="2s">left</p>\n<p begin="5s" end="4s">knee</p>'))
    assert [row[:3] for row in rows(transcript)] == [("left", 0.0, 2.0), ("knee", 5.0, None)]
    assert [line for line, _ in mended(transcript)] == [1, 2]


@pytest.mark.parametrize("text", [f"{HEAD}<body><div><p begi", f"{HEAD}</body>", HEAD])
def test_broken_markup_of_which_nothing_can_be_read_is_refused(text: str) -> None:
    with pytest.raises(TranscriptError, match="nothing of it can be read"):
        read_text(text)


@pytest.mark.parametrize(
    "declared",
    [
        '<!DOCTYPE tt [<!ENTITY a "left"><!ENTITY b "&a;&a;">]>',
        '<!DOCTYPE tt [<!ENTITY b SYSTEM "file:///etc/hostname">]>',
        '<!DOCTYPE tt [<!ENTITY % b "left"> %b;]>',
    ],
)
def test_entities_of_the_files_own_are_refused(declared: str) -> None:
    text = declared + body("<p>&b;</p>")
    with pytest.raises(TranscriptError, match="declares entities"):
        read_text(text)


@pytest.mark.parametrize(
    "text", ["<!DOCTYPE html><html><p>left</p></html>", "<?xml version='1.0'?><note>left</note>", "<note a='1'>left</note>\n"]
)
def test_other_markup_is_refused(text: str) -> None:
    with pytest.raises(TranscriptError, match="markup of another kind"):
        read_text(text)
