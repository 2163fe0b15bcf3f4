"""A transcript in other forms: timed text, plain JSON, WebVTT and SubRip, a cue a segment."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator

from opnote.errors import OpnoteError
from opnote.moments import moment
from opnote.transcript.model import Segment, Transcript


def transcript_text(transcript: Transcript, *, form: str) -> str:
    """The transcript as "text", "json", "vtt" or "srt".

    Raises ``OpnoteError`` for cues of a transcript without seconds, ``KeyError`` for a form that is not in ``TRANSCRIPT_FORMS``.
    """
    return TRANSCRIPT_FORMS[form](transcript)


def _plain(transcript: Transcript) -> str:
    return "".join(f"{_mark(segment)}{_spoken(transcript, segment)}\n" for segment in transcript.segments)


def _mark(segment: Segment) -> str:
    return "" if segment.start_s is None else f"[{moment(segment.start_s)}] "


def _json(transcript: Transcript) -> str:
    rows = [
        {"start": s.start_s, "end": s.end_s, "speaker": s.speaker, "text": transcript.text[s.start : s.end]} for s in transcript.segments
    ]
    said = [{key: value for key, value in row.items() if value is not None} for row in rows]
    return '{"segments": [\n' + ",\n".join(json.dumps(row, ensure_ascii=False) for row in said) + "\n]}\n"


def _vtt(transcript: Transcript) -> str:
    cues = (f"{start} --> {end}\n{_voice(segment)}{_escaped(text)}\n" for segment, start, end, text in _cues(transcript, "."))
    return "WEBVTT\n\n" + "\n".join(cues)


def _voice(segment: Segment) -> str:
    return f"<v {_escaped(segment.speaker)}>" if segment.speaker else ""


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _srt(transcript: Transcript) -> str:
    rows = enumerate(_cues(transcript, ","), start=1)
    return "\n".join(f"{number}\n{start} --> {end}\n{_spoken(transcript, segment)}\n" for number, (segment, start, end, _) in rows)


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


TRANSCRIPT_FORMS: dict[str, Callable[[Transcript], str]] = {"text": _plain, "json": _json, "vtt": _vtt, "srt": _srt}
