"""Transcripts inside gzip files and word processors' documents."""

from __future__ import annotations

import gzip
import io
import zipfile

import pytest

from opnote.errors import TranscriptError
from opnote.transcript import LIMIT_BYTES, Transcript, read_bytes
from tests.unit.transcript.transcript_cases import mended, rows

VTT = b"WEBVTT\n\n00:01.000 --> 00:02.000\nleft knee\n\n00:03.000 --> 00:04.000\nnine by twenty five millimetres\n"
W = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"'


def zipped(data: bytes) -> bytes:
    return gzip.compress(data, mtime=0)


def packed(data: bytes) -> Transcript:
    return read_bytes(data, name="case")


def docx(body: str, *, head: str = "") -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", "<Types/>")
        archive.writestr("word/document.xml", f"{head}<w:document {W}><w:body>{body}</w:body></w:document>")
    return buffer.getvalue()


def paragraph(*runs: str) -> str:
    return f"<w:p><w:pPr><w:tabs><w:tab w:val='left'/></w:tabs></w:pPr>{''.join(f'<w:r><w:t>{run}</w:t></w:r>' for run in runs)}</w:p>"


def row(*cells: str) -> str:
    return f"<w:tr>{''.join(f'<w:tc>{paragraph(cell)}</w:tc>' for cell in cells)}</w:tr>"


@pytest.mark.parametrize("data", [zipped(VTT), zipped(VTT[:40]) + zipped(VTT[40:])])
def test_gzip(data: bytes) -> None:
    transcript = packed(data)
    assert transcript.format == "webvtt"
    assert [row[:2] for row in rows(transcript)] == [("left knee", 1.0), ("nine by twenty five millimetres", 3.0)]
    assert transcript.mends == ()


def test_a_gzip_file_that_stops_in_its_middle_is_cut() -> None:
    transcript = packed(zipped(VTT)[:-10])
    assert transcript.text.startswith("left knee")
    assert "cut" in {mend.kind for mend in transcript.mends}


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"\x1f\x8b\x08\x00", "nothing is in the gzip file"),
        (b"\x1f\x8b\x09left knee", "the gzip file is broken"),
        (zipped(b""), "nothing is in the gzip file"),
        (zipped(b"\x00" * LIMIT_BYTES), "too large once unpacked"),
        (zipped(b"a" * (LIMIT_BYTES // 2)) * 2, "too large once unpacked"),
        (zipped(b"%PDF-1.7"), "this is a PDF"),
        (zipped(zipped(VTT)), "this is an archive"),
    ],
)
def test_gzip_that_holds_no_transcript_is_refused(data: bytes, what: str) -> None:
    with pytest.raises(TranscriptError, match=what):
        packed(data)


def test_a_document_with_time_marks() -> None:
    transcript = packed(docx(paragraph("[0:01] ", "Left", " knee.") + paragraph("[0:04] Nine &lt; ten &amp; so.") + paragraph()))
    assert transcript.format == "timed text"
    assert [row[:3] for row in rows(transcript)] == [("Left knee.", 1.0, 4.0), ("Nine < ten & so.", 4.0, None)]
    assert transcript.mends == ()


def test_a_document_without_times_is_plain_text_with_a_line_each_paragraph() -> None:
    transcript = packed(docx(paragraph("Left knee.") + paragraph() + paragraph("Nine.")))
    assert (transcript.format, transcript.text) == ("plain text", "Left knee. Nine.")
    assert [(segment.line, segment.paragraph) for segment in transcript.segments] == [(1, False), (3, True)]


def test_a_table_of_times_speakers_and_words() -> None:
    body = f"<w:tbl>{row('0:01', 'Nurse', 'Which knee?')}{row('0:04', 'Surgeon', 'Left.')}{row('0:07', 'Nurse', 'Noted.')}"
    body += f"{row('0:09', 'Surgeon', 'Go on.')}</w:tbl>"
    assert rows(packed(docx(body)))[:2] == [("Which knee?", 1.0, 4.0, "Nurse"), ("Left.", 4.0, 7.0, "Surgeon")]


def test_what_was_deleted_moved_or_is_written_twice_is_not_read() -> None:
    body = (
        "<w:p><w:r><w:t>left</w:t></w:r><w:del><w:r><w:delText> right</w:delText></w:r></w:del>"
        "<w:ins><w:r><w:t> knee</w:t></w:r></w:ins><w:r><w:instrText>PAGE</w:instrText></w:r>"
        "<w:moveFrom><w:r><w:t> away</w:t></w:r></w:moveFrom><w:r><w:br/><w:t>nine</w:t><w:tab/><w:t>deep</w:t></w:r></w:p>"
        '<mc:AlternateContent xmlns:mc="x"><mc:Choice><w:p><w:r><w:t>once</w:t></w:r></w:p></mc:Choice>'
        "<mc:Fallback><w:p><w:r><w:t>once</w:t></w:r></w:p></mc:Fallback></mc:AlternateContent>"
    )
    assert packed(docx(body)).text == "left knee nine deep once"


def test_cues_in_a_document_are_read_as_cues() -> None:
    transcript = packed(docx("".join(paragraph(line.replace(">", "&gt;")) for line in VTT.decode().split("\n"))))
    assert (transcript.format, transcript.text) == ("webvtt", "left knee nine by twenty five millimetres")


def test_a_document_that_declares_entities_is_refused() -> None:
    head = '<!DOCTYPE d [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>'
    with pytest.raises(TranscriptError, match="declares a type of its own"):
        packed(docx(paragraph("&b;"), head=head))


def test_a_document_that_would_be_too_large_is_refused() -> None:
    with pytest.raises(TranscriptError, match="too large once unpacked"):
        packed(docx(" " * LIMIT_BYTES))


def test_broken_documents() -> None:
    whole = docx(paragraph("left knee ") * 200)
    with pytest.raises(TranscriptError, match="broken or locked"):
        packed(whole[: len(whole) // 2] + b"word/document.xml")
    with pytest.raises(TranscriptError, match="nothing of it can be read"):
        packed(docx("<w:p><w:r></w:p>"))
    assert [mend.kind for mend in packed(docx(paragraph("left knee") + "<w:p></w:q>")).mends] == ["cut"]


@pytest.mark.parametrize(
    ("inner", "text"),
    [
        (r"Left knee.\par Nine.", "Left knee. Nine."),
        (r"\b firm\b0  end \'96 90\'b0", "firm end \u2013 90\u00b0"),
        (r"surgeon\u8217?s \uc2\u176 xx flexion\uc0\u189 ", "surgeon\u2019s \u00b0 flexion\u00bd"),
        (r"surgeon\rquote s \emdash  so\~it is", "surgeon\u2019s \u2014 so it is"),
        (r"{\fonttbl{\f0 Some Font;}}{\colortbl;\red0;}{\*\generator x}{\info{\author A}}left", "left"),
        (r"left {\field{\*\fldinst PAGE}{\fldrslt 7}} \{nine\} a\\b", "left 7 {nine} a\\b"),
        (r"kn\-ee {\deleted right }left{\footnote note}", "knee left"),
        ("left\r\n knee\nnine", "left kneenine"),
        (r"\ansicpg1251\'eb\'e5", "\u043b\u0435"),
        (r"\bin5 }}}{{left", "left"),
        (r"\u-10179?\u-8704? \u-10179?", "\U0001f600 \ufffd"),
        (r"\ansicpg99999\'b0", "\u00b0"),
    ],
)
def test_rtf(inner: str, text: str) -> None:
    transcript = packed(b"{\\rtf1\\ansi " + inner.encode() + b"}\n")
    assert transcript.text == text
    assert transcript.mends == ()


def test_rtf_with_time_marks_and_a_table() -> None:
    timed = packed(rb"{\rtf1 [0:01] Left knee.\par [0:04] Nine.\par}")
    assert [row[:2] for row in rows(timed)] == [("Left knee.", 1.0), ("Nine.", 4.0)]
    cells = r"\trowd 0:01\cell Nurse\cell Left?\cell\row 0:04\cell Surgeon\cell Left.\cell\row 0:05\cell Nurse\cell Yes.\cell\row"
    cells += r" 0:07\cell Surgeon\cell Go on.\cell\row"
    assert rows(packed(b"{\\rtf1 " + cells.encode() + b"}"))[0] == ("Left?", 1.0, 4.0, "Nurse")


def test_rtf_that_stops_in_its_middle_is_cut() -> None:
    assert mended(packed(rb"{\rtf1 Left knee.\par Ni")) == [(None, "the document stops in its middle")]
