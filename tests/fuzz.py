"""Broken files of every format, thousands a minute: ``python -m tests.fuzz [--tries 20000] [--seed 1] [FORMAT ...]``.

Each try takes a small whole file of the format and breaks it: parts are deleted, doubled, swapped, cut off, or replaced by what some format
gives a meaning to, and bytes are changed. It must be read or refused in one line, within two seconds of work, with every invariant of a
transcript (``check``), and what was read must come back the same through JSON. The first input that fails is made as small as it can be
and shown.
"""

from __future__ import annotations

import argparse
import gzip
import json
from collections.abc import Callable
from time import process_time

from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from opnote.errors import TranscriptError
from opnote.exchange import lost, transcript_text
from opnote.lexicon import load
from opnote.transcript import Transcript, read_bytes
from tests.unit.transcript.test_json_shapes import SENTENCES, WORDS, text_of
from tests.unit.transcript.test_packed import docx, paragraph, row
from tests.unit.transcript.test_textgrid import SENTENCES as LABELS
from tests.unit.transcript.test_textgrid import WORDS as WORD_LABELS
from tests.unit.transcript.test_textgrid import long_file, short_file
from tests.unit.transcript.test_transcript_properties import TOKENS, check

LONGEST_S = 2.0

_VTT = (
    "WEBVTT\nKind: captions\n\nNOTE made\n\n1\n00:01.000 --> 00:02.500 align:left\n<v Nurse>Left &amp; <i>right</i>?</v>\n\n"
    "2\n00:00:03.000 --> 00:00:04.000\n- <9 mm\n- 12\n"
)
_SRT = "1\n00:00:01,000 --> 00:00:02,500\nNurse: left knee\n\n2\n00:00:03,000 --> 00:01:04,250\n{\\an8}nine <b>by</b>\n12\n"
_TTML = (
    "<?xml version='1.0'?><tt xmlns:ttp='x' ttp:frameRate='25'><head><ttm:agent xml:id='n'><ttm:name>Nurse</ttm:name></ttm:agent></head>"
    "<body begin='1s'><div timeContainer='seq'><p dur='2s' ttm:agent='n'>left<br/>knee</p><p begin='00:00:01:05'>nine &lt; ten</p></div>"
    "</body></tt>"
)
_CTM = ";; a\nc A 0.50 0.25 left 0.90\nc A 0.80 0.2 knee\nc B * * <ALT_BEGIN>\nc B 2.0 .5 nine 0.7 lex S1\nc B * * <ALT_END>\n"
_TIMED = "[0:01] Nurse: Left? [0:04.5 - 0:06] Nine.\n\n00:00:09 Surgeon: ten\n(1:02) end\n"

_DOCX = paragraph("[0:01] Left ", "knee.") + row("0:04", "Nurse", "Nine.") + "<w:p><w:r><w:t>a</w:t><w:br/><w:tab/></w:r></w:p>"

#: A few whole files of each format.
SEEDS: dict[str, tuple[bytes, ...]] = {
    "webvtt": (_VTT.encode(),),
    "subrip": (_SRT.encode(), _SRT.replace("\n", "\r\n").encode("cp1252")),
    "ttml": (_TTML.encode(),),
    "ctm": (_CTM.encode(),),
    "textgrid": (short_file(("a - words", WORD_LABELS), ("b", LABELS)).encode(), long_file(("b", LABELS)).encode("utf-16")),
    "json": tuple(text_of(shape).encode() for shape in (*SENTENCES.values(), *WORDS.values())),
    "timed-text": (_TIMED.encode(), _TIMED.encode("utf-16-le")),
    "plain-text": (b"Left knee.\n\nNurse: nine by twenty\nSurgeon: ten\n", "5\u00b0 \uff17 mm \ufb01rm\n".encode()),
    "docx": (_DOCX.encode(),),
    "zip": (docx(_DOCX),),
    "rtf": (rb"{\rtf1\ansi{\fonttbl{\f0 A;}}[0:01] Left\u8217? \'b0\par 0:04\cell Nurse\cell Nine.\cell\row}",),
    "gzip": (gzip.compress(_VTT.encode(), mtime=0), gzip.compress(json.dumps([{"text": "left", "start": 1}]).encode(), mtime=0)),
}

#: How a broken text is packed into a file, where it is.
_PACKED: dict[str, Callable[[bytes], bytes]] = {"docx": lambda body: docx(body.decode("utf-8", "replace"))}

_PIECES = tuple(token.encode("utf-8", "surrogatepass") for token in TOKENS)
_TIMES = (
    b"-1",
    b"1e400",
    b"9" * 30,
    b"NaN",
    b"99:99:99.999",
    b"00:00:00.000",
    b"1700000000",
    b"null",
    b"[]",
    b"{}",
    b'""',
    b"\xff\xfe",
    b"\\",
)


def _broken(whole: bytes) -> st.SearchStrategy[bytes]:
    """The file with up to six things done to it."""
    place = st.integers(0, len(whole))
    change = st.tuples(
        st.sampled_from(("delete", "double", "swap", "cut", "insert", "replace", "byte")),
        place,
        st.integers(0, 40),
        st.sampled_from(_PIECES + _TIMES),
        st.integers(0, 255),
    )
    return st.lists(change, min_size=1, max_size=6).map(lambda changes: _changed(whole, changes))


def _changed(data: bytes, changes: list[tuple[str, int, int, bytes, int]]) -> bytes:
    for what, at, length, piece, byte in changes:
        part = data[at : at + length]
        if what == "delete":
            data = data[:at] + data[at + length :]
        elif what == "double":
            data = data[:at] + part + data[at:]
        elif what == "swap":
            data = data[:at] + data[at + length : at + 2 * length] + part + data[at + 2 * length :]
        elif what == "cut":
            data = data[:at] if length % 2 else data[at:]
        elif what == "insert":
            data = data[:at] + piece + data[at:]
        elif what == "replace":
            data = data[:at] + piece + data[at + length :]
        else:
            data = data[:at] + bytes((byte,)) + data[at + 1 :]
    return data


class Count:
    """How many inputs were tried, read and refused, and the longest seconds one took."""

    def __init__(self) -> None:
        self.tried = self.read = 0
        self.longest_s = 0.0


def try_one(data: bytes, count: Count) -> None:
    """Read ``data`` or have it refused. Raises ``AssertionError`` where an invariant does not hold or it takes too long."""
    begun = process_time()
    count.tried += 1
    transcript, refusal = _read(data)
    taken = process_time() - begun
    count.longest_s = max(count.longest_s, taken)
    assert taken < LONGEST_S, f"takes {taken:.1f} s"
    if transcript is None:
        assert refusal is not None
        assert refusal.hint
        assert "\n" not in str(refusal)
        return
    count.read += 1
    check(transcript)
    missing = lost(transcript, transcript_text(transcript, form="json"))
    assert not missing, f"not the same through JSON: {missing}"


def _read(data: bytes) -> tuple[Transcript | None, TranscriptError | None]:
    try:
        return read_bytes(data, name="case"), None
    except TranscriptError as error:
        return None, error


def fuzz(name: str, *, tries: int, seed_number: int) -> Count:
    """Try broken files of a format. Raises what the smallest input that fails raises."""
    count = Count()

    @seed(seed_number)
    @settings(
        max_examples=tries, database=None, deadline=None, suppress_health_check=list(HealthCheck), phases=(Phase.generate, Phase.shrink)
    )
    @given(st.sampled_from(SEEDS[name]).flatmap(_broken))
    def run(data: bytes) -> None:
        try_one(_PACKED.get(name, bytes)(data), count)

    load()  # what the first broken cue would wait for
    runner: Callable[[], None] = run
    runner()
    return count


def main() -> None:
    """Fuzz each format and print a line for it."""
    parser = argparse.ArgumentParser(description="Broken files of every format.")
    parser.add_argument("--tries", type=int, default=20_000, help="inputs for each format")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("formats", nargs="*", help="which formats; all without one")
    given_arguments = parser.parse_args()
    total = 0
    for name in given_arguments.formats or SEEDS:
        count = fuzz(name, tries=given_arguments.tries, seed_number=given_arguments.seed)
        total += count.tried
        print(f"{name:<12} {count.tried:>8,} tried   {count.read:>8,} read   longest {count.longest_s * 1000:6.1f} ms", flush=True)
    print(f"{total:,} inputs tried: no crash, no hang, no broken invariant")


if __name__ == "__main__":
    main()
