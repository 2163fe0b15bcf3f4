"""TextGrid: the format's manual page on its text files, long and short."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest

from opnote.errors import TranscriptError
from opnote.transcript import read_bytes
from opnote.transcript.model import TimedWord
from tests.unit.transcript.transcript_cases import mended, read_text, rows

Labels = Sequence[tuple[float, float, str]]

SENTENCES: Labels = [(0, 1.5, ""), (1.5, 3, "Left knee, nine."), (3, 4, ""), (4, 5.25, 'a "firm" end')]
WORDS: Labels = [
    *((0, 1.5, "sil"), (1.5, 1.9, "left"), (1.9, 2.4, "knee"), (2.4, 3, "nine"), (3, 4, "")),
    *((4, 4.2, "a"), (4.2, 4.75, '"firm"'), (4.75, 5.25, "end")),
]
PHONES: Labels = [(0, 1.5, "sil"), (1.5, 1.6, "L"), (1.6, 1.9, "EH1"), (1.9, 5.25, "T")]


def long_file(*tiers: tuple[str, Labels]) -> str:
    lines = ['File type = "ooTextFile"', 'Object class = "TextGrid"', "", "xmin = 0 ", "xmax = 5.25 ", "tiers? <exists> "]
    lines += [f"size = {len(tiers)} ", "item []: "]
    for number, (name, labels) in enumerate(tiers, start=1):
        lines += [f"    item [{number}]:", '        class = "IntervalTier" ', f'        name = "{name}" ', "        xmin = 0 "]
        lines += ["        xmax = 5.25 ", f"        intervals: size = {len(labels)} "]
        for place, (start, end, text) in enumerate(labels, start=1):
            doubled = text.replace('"', '""')
            lines += [f"        intervals [{place}]:", f"            xmin = {start} ", f"            xmax = {end} "]
            lines += [f'            text = "{doubled}" ']
    return "\n".join(lines) + "\n"


def short_file(*tiers: tuple[str, Labels]) -> str:
    lines = ['File type = "ooTextFile"', 'Object class = "TextGrid"', "", "0", "5.25", "<exists>", str(len(tiers))]
    for name, labels in tiers:
        lines += ['"IntervalTier"', f'"{name}"', "0", "5.25", str(len(labels))]
        for start, end, text in labels:
            doubled = text.replace('"', '""')
            lines += [str(start), str(end), f'"{doubled}"']
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("file", [long_file, short_file])
def test_a_tier_of_sentences(file: Callable[..., str]) -> None:
    transcript = read_text(file(("transcript", SENTENCES)))
    assert transcript.format == "textgrid"
    assert rows(transcript) == [("Left knee, nine.", 1.5, 3.0, None), ('a "firm" end', 4.0, 5.25, None)]
    assert transcript.mends == ()


def test_the_line_is_the_one_on_which_the_words_stand() -> None:
    text = long_file(("transcript", SENTENCES))
    lines = [number for number, line in enumerate(text.split("\n"), start=1) if "Left" in line or "firm" in line]
    assert [segment.line for segment in read_text(text).segments] == lines


@pytest.mark.parametrize("order", [("sentences", "words"), ("words", "sentences")])
def test_a_tier_with_the_same_words_gives_each_its_second(order: tuple[str, str]) -> None:
    tiers = {"sentences": SENTENCES, "words": WORDS}
    transcript = read_text(long_file(*((name, tiers[name]) for name in order), ("phones", PHONES)))
    assert [row[:3] for row in rows(transcript)] == [("Left knee, nine.", 1.5, 3.0), ('a "firm" end', 4.0, 5.25)]
    assert transcript.words[:3] == (TimedWord(0, 4, 1.5, 1.9), TimedWord(5, 9, 1.9, 2.4), TimedWord(11, 15, 2.4, 3.0))
    assert len(transcript.words) == 6
    assert [mend.what for mend in transcript.mends] == ["a tier of points or of the sounds of speech is left out"]


def test_words_alone_are_cut_at_pauses() -> None:
    transcript = read_text(short_file(("words", WORDS), ("phones", PHONES)))
    assert [row[:3] for row in rows(transcript)] == [("left knee nine", 1.5, 3.0), ('a "firm" end', 4.0, 5.25)]
    assert len(transcript.words) == 6


def test_speakers_have_a_tier_each_and_speak_in_the_order_of_time() -> None:
    transcript = read_text(
        long_file(("Surgeon", [(0, 1, "Left knee."), (1, 3, ""), (3, 4, "Nine.")]), ("Nurse", [(0, 1, ""), (1.2, 2, "Which size?")]))
    )
    assert rows(transcript) == [("Left knee.", 0.0, 1.0, "Surgeon"), ("Which size?", 1.2, 2.0, "Nurse"), ("Nine.", 3.0, 4.0, "Surgeon")]


def test_an_aligners_names_of_tiers_tell_the_speaker() -> None:
    tiers = [("Nurse - words", [(1, 2, "which"), (2, 3, "size")]), ("Nurse - phones", PHONES), ("Surgeon - words", [(4, 5, "nine")])]
    assert [(row[0], row[3]) for row in rows(read_text(short_file(*tiers)))] == [("which size", "Nurse"), ("nine", "Surgeon")]


def test_points_are_read_where_no_intervals_have_words() -> None:
    head = '"ooTextFile"\n"TextGrid"\n0\n9\n<exists>\n'
    points = '"TextTier"\n"remarks"\n0\n9\n2\n1.5\n"left knee"\n4\n"nine"\n'
    assert [row[:3] for row in rows(read_text(head + "1\n" + points))] == [("left knee", 1.5, None), ("nine", 4.0, None)]
    spoken = '"IntervalTier"\n"a"\n0\n9\n1\n0\n9\n"so it was"\n'
    transcript = read_text(head + "2\n" + points + spoken)
    assert transcript.text == "so it was"
    assert [mend.line for mend in transcript.mends] == [7]


def test_comments_empty_tiers_and_words_of_the_format_are_told_apart() -> None:
    text = '"ooTextFile" ! a remark with 7\n"TextGrid"\n0 9 <exists> 2 "IntervalTier" "empty" 0 9 0 "IntervalTier" "a"\n'
    text += '0 9 2 ! "no label"\n0 1 "IntervalTier 7" 1 2 "IntervalTier"'
    assert rows(read_text(text)) == [("IntervalTier 7", 0.0, 1.0, None), ("IntervalTier", 1.0, 2.0, None)]


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16"])
def test_any_encoding_and_line_end(codec: str) -> None:
    text = long_file(("transcript", [(0, 1, "90\u00b0 of\nflexion")])).replace("\n", "\r\n")
    assert read_bytes(text.encode(codec), name="case").text == "90\u00b0 of flexion"


@pytest.mark.parametrize(
    ("old", "new", "times"),
    [
        ("1.5\n3\n", "1.5\n1\n", (1.5, None)),
        ("1.5\n3\n", "-1.5\n3\n", (None, None)),
        ("1.5\n3\n", "3\n", (None, None)),
        ("1.5\n3\n", "soon\nlater\n", (None, None)),
        ("1.5\n3\n", "1e999\n3\n", (None, None)),
    ],
)
def test_words_under_irregular_times_are_kept(old: str, new: str, times: tuple[float | None, float | None]) -> None:
    text = short_file(("transcript", SENTENCES)).replace(old, new, 1)
    transcript = read_text(text)
    assert [segment for segment in rows(transcript) if segment[0] == "Left knee, nine."] == [("Left knee, nine.", *times, None)]
    assert [mend.kind for mend in transcript.mends][:1] == ["time"]


@pytest.mark.parametrize("cut", [2, 3, 4, 5, 7, 8, 9, 10])  # between the two marks of a doubled one (6) the label looks whole
def test_of_a_cut_file_the_readable_part_is_read(cut: int) -> None:
    text = short_file(("transcript", SENTENCES))
    at = text.index('"a ""firm')
    transcript = read_text(text[: at + cut - 2])
    assert transcript.text.startswith("Left knee, nine.")
    assert "cut" in {mend.kind for mend in transcript.mends}


def test_a_tier_in_the_middle_with_too_few_labels_is_noted() -> None:
    text = short_file(("Surgeon", SENTENCES), ("Nurse", [(0, 1, "which size")])).replace("5.25\n4\n", "5.25\n5\n", 1)
    assert mended(read_text(text)) == [(8, "a tier has fewer labels than it says")]


def test_sounds_alone_are_no_dictation() -> None:
    with pytest.raises(TranscriptError, match="without a tier of words"):
        read_text(short_file(("phones", PHONES)))
