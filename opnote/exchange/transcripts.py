"""A transcript in other forms: timed text, JSON, WebVTT and SubRip. Read back, each gives the words, seconds and speakers again.

Every form is first written plainly. Where that would be read back as something else (a dash that looks like a turn, a word that looks
like a speaker's name or a time), it is written guarded: with character references, and voices for names.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator

from opnote.errors import OpnoteError, TranscriptError
from opnote.moments import moment
from opnote.transcript import read_bytes
from opnote.transcript.model import Segment, TimedWord, Transcript

#: What a reader may take for more than text: markup, arrows, dashes in front of a turn, a colon behind a name.
_MORE_THAN_TEXT = re.compile("[<>&{}\u2192\u2013\u2014-]|:(?= |$)")
#: A character without a shape, which readers leave out: a colon behind it ends no name.
_JOINER = "\u2060"


def transcript_text(transcript: Transcript, *, form: str) -> str:
    """The transcript as "text", "json", "vtt" or "srt".

    Raises ``OpnoteError`` for cues of a transcript without seconds, ``KeyError`` for a form that is not in ``TRANSCRIPT_FORMS``.
    """
    plain, guarded = TRANSCRIPT_FORMS[form]
    text = plain(transcript)
    if not guarded or not lost(transcript, text):
        return text
    careful = guarded(transcript)
    return careful if len(lost(transcript, careful)) < len(lost(transcript, text)) else text


def lost(transcript: Transcript, text: str) -> tuple[str, ...]:
    """What of ``transcript`` is not the same when ``text`` is read back: "words", "seconds", "speakers", "paragraphs", "words' seconds"."""
    try:
        again = read_bytes(text.encode(), name=transcript.name)
    except TranscriptError:
        return tuple(name for name, _ in _TOLD)
    return tuple(name for name, told in _TOLD if told(again) != told(transcript))


_TOLD: tuple[tuple[str, Callable[[Transcript], object]], ...] = (
    ("words", lambda read: [read.text[segment.start : segment.end] for segment in read.segments]),
    ("seconds", lambda read: [(segment.start_s, segment.end_s) for segment in read.segments]),
    ("speakers", lambda read: [segment.speaker for segment in read.segments]),
    ("paragraphs", lambda read: [segment.paragraph for segment in read.segments]),
    ("words' seconds", lambda read: read.words),
)


def _plain(transcript: Transcript) -> str:
    """Lines with a mark where they begin; an end only where it is not the next line's beginning."""
    timed = any(segment.start_s is not None for segment in transcript.segments)
    following = [*transcript.segments[1:], None]
    lines: list[str] = []
    for segment, after in zip(transcript.segments, following, strict=True):
        lines.extend([""] if segment.paragraph else [])
        lines.append(f"{_mark(segment, after) if timed else ''}{_spoken(transcript, segment)}")
    return "".join(f"{line}\n" for line in lines)


def _mark(segment: Segment, after: Segment | None) -> str:
    """The moment at which a line begins; its end too where that is not the next line's beginning, and the beginning again for none."""
    if segment.start_s is None:
        return ""
    begun = _exact(segment.start_s)
    if segment.end_s == (after.start_s if after else None):
        return f"[{begun}] "
    return f"[{begun} - {begun if segment.end_s is None else _exact(segment.end_s)}] "


def _exact(second: float) -> str:
    """A moment with as many decimals as it has, up to three."""
    thousandths = round(second * 1000) % 1000
    return moment(round(second, 3)) + (f".{thousandths:03}".rstrip("0") if thousandths else "")


def _json(transcript: Transcript) -> str:
    return _json_with(transcript, lambda text: text)


def _json_guarded(transcript: Transcript) -> str:
    return _json_with(transcript, lambda text: text.replace(":", f"{_JOINER}:")).replace(_JOINER, "\\u2060")


def _json_with(transcript: Transcript, guard: Callable[[str], str]) -> str:
    words = iter(transcript.words)
    word = next(words, None)
    rows: list[str] = []
    for segment in transcript.segments:
        own: list[TimedWord] = []
        while word is not None and word.start < segment.end:
            own.append(word)
            word = next(words, None)
        rows.append(json.dumps(_row(transcript, segment, own, guard), ensure_ascii=False))
    return '{"segments": [\n' + ",\n".join(rows) + "\n]}\n"


def _row(transcript: Transcript, segment: Segment, own: list[TimedWord], guard: Callable[[str], str]) -> dict[str, object]:
    said = transcript.text
    words = [
        _said({"word": said[word.start : word.end], "start": word.start_s, "end": word.end_s, "confidence": word.confidence})
        for word in own
    ]
    return _said(
        {
            "start": segment.start_s,
            "end": segment.end_s,
            "speaker": segment.speaker,
            "paragraph": segment.paragraph or None,
            "text": guard(said[segment.start : segment.end]),
            "words": words or None,
        }
    )


def _said(row: dict[str, object]) -> dict[str, object]:
    return {key: value for key, value in row.items() if value is not None}


def _vtt(transcript: Transcript) -> str:
    return _vtt_with(transcript, _escaped)


def _vtt_guarded(transcript: Transcript) -> str:
    return _vtt_with(transcript, _referenced)


def _vtt_with(transcript: Transcript, escape: Callable[[str], str]) -> str:
    cues = (f"{start} --> {end}\n{_voice(segment)}{escape(text)}\n" for segment, start, end, text in _cues(transcript, "."))
    return "WEBVTT\n\n" + "\n".join(cues)


def _voice(segment: Segment) -> str:
    return f"<v {_escaped(segment.speaker)}>" if segment.speaker else ""


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _referenced(text: str) -> str:
    """``text`` with a character reference for whatever a reader may take for more than text."""
    return _MORE_THAN_TEXT.sub(lambda match: f"{'&#8288;' if match.group() == ':' else ''}&#{ord(match.group())};", text)


def _srt(transcript: Transcript) -> str:
    return _srt_with(transcript, lambda segment, text: f"{segment.speaker}: {text}" if segment.speaker else text)


def _srt_guarded(transcript: Transcript) -> str:
    return _srt_with(transcript, lambda segment, text: f"{_voice(segment)}{_referenced(text)}")


def _srt_with(transcript: Transcript, spoken: Callable[[Segment, str], str]) -> str:
    rows = enumerate(_cues(transcript, ","), start=1)
    return "\n".join(f"{number}\n{start} --> {end}\n{spoken(segment, text)}\n" for number, (segment, start, end, text) in rows)


def _spoken(transcript: Transcript, segment: Segment) -> str:
    text = transcript.text[segment.start : segment.end]
    return f"{segment.speaker}: {text}" if segment.speaker else text


def _cues(transcript: Transcript, point: str) -> Iterator[tuple[Segment, str, str, str]]:
    for segment in transcript.segments:
        if segment.start_s is None:
            raise OpnoteError("a transcript without seconds has no cues", where=transcript.name, hint="use --to text or --to json")
        end = segment.end_s if segment.end_s is not None else segment.start_s
        yield segment, _clock(segment.start_s, point), _clock(end, point), transcript.text[segment.start : segment.end]


def _clock(seconds: float, point: str) -> str:
    thousandths = round(seconds * 1000)
    minutes, thousandths = divmod(thousandths, 60_000)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02}:{minutes:02}:{thousandths // 1000:02}{point}{thousandths % 1000:03}"


Writer = Callable[[Transcript], str]

#: For each form how it is written plainly and, where there is a way, guarded.
TRANSCRIPT_FORMS: dict[str, tuple[Writer, Writer | None]] = {
    "text": (_plain, None),
    "json": (_json, _json_guarded),
    "vtt": (_vtt, _vtt_guarded),
    "srt": (_srt, _srt_guarded),
}
