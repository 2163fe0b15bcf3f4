"""A recogniser's JSON -> pieces of speech: segments with times, a bare list of them, or words only. No standard: common practice."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence

from opnote.errors import TranscriptError
from opnote.transcript.clock import finite
from opnote.transcript.json_lines import Located, load_located
from opnote.transcript.reading import MendLog, Piece, Reading, SpokenWord
from opnote.transcript.utterances import Heard, utterances

_TEXT = ("text", "transcript", "word")
_WORD = ("word", "text")
_START = ("start", "start_time", "begin", "from")
_END = ("end", "end_time", "to")
_CONFIDENCE = ("confidence", "probability", "score")
_SPEAKER = ("speaker", "speaker_label", "channel")

#: What may stand behind the place of an error where the text stops in the middle of a number, a word or an escape.
_STUMP = re.compile(r"[\s\w.+\\-]*")
_SHAPE_HINT = 'give {"segments": [{"start": seconds, "end": seconds, "text": words}, ...]}, a list of such segments, or {"words": [...]}'


def read_recogniser_json(text: str) -> Reading:
    """Read segments (``start``, ``end``, ``text``; perhaps ``speaker``, ``words``, ``confidence``) or words alone.

    Raises ``TranscriptError`` for broken JSON and for JSON that holds neither.
    """
    log = MendLog()
    rows, words_only = _rows(_parse(text), log)
    if words_only:
        heard = [word for row in rows if (word := _heard(row, log)) is not None]
        return Reading(tuple(utterances(heard)), log.mends())
    return Reading(tuple(_segment(row, log) for row in rows), log.mends())


def _parse(text: str) -> object:
    try:
        return load_located(text)
    except json.JSONDecodeError as error:
        cut = error.msg.startswith("Unterminated string") or _STUMP.fullmatch(text, error.pos) is not None
        what = "the file stops in the middle of the JSON" if cut else "the JSON is broken"
        raise TranscriptError(what, line=error.lineno, hint="get the whole file, or let the recogniser write it again") from None
    except (RecursionError, ValueError):
        raise TranscriptError("the JSON cannot be read: nested too deep, or a number too long", hint=_SHAPE_HINT) from None


def _rows(data: object, log: MendLog) -> tuple[Sequence[Located], bool]:
    """The objects with words in them, and whether each is a single word."""
    key = next((key for key in ("segments", "words") if _entries(data, key)), None) if isinstance(data, Mapping) else None
    entries = _entries(data, key) if key else data if isinstance(data, list) else []
    rows = [entry for entry in entries if isinstance(entry, Located)]
    if len(rows) < len(entries):
        log.note(None, "entries that are no segments are left out")
    rows = [row for row in rows if _has_words(row)]
    if not rows:
        raise TranscriptError("JSON that holds no segments with words", hint=_SHAPE_HINT)
    return rows, key == "words" or all(_is_word(row) for row in rows)


def _entries(data: object, key: str) -> Sequence[object]:
    value = data.get(key) if isinstance(data, Mapping) else None
    return value if isinstance(value, list) else ()


def _has_words(row: Located) -> bool:
    inner = (word for word in _entries(row, "words") if isinstance(word, Located))
    return bool(_first_text(row, _TEXT).strip()) or any(_first_text(word, _WORD).strip() for word in inner)


def _is_word(row: Located) -> bool:
    return "words" not in row and "text" not in row and "word" in row


def _segment(row: Located, log: MendLog) -> Piece:
    words = [word for item in _entries(row, "words") if isinstance(item, Located) and (word := _heard(item, log)) is not None]
    text = _first_text(row, _TEXT) or " ".join(word.word.text for word in words)
    start_s, end_s = _second(row, _START, log), _second(row, _END, log)
    if start_s is not None and end_s is not None and end_s < start_s:
        log.note(row.line, "the segment ends before it begins; its end is left out", "time")
        end_s = None
    return Piece(text, row.line, start_s, end_s, _speaker(row), words=tuple(word.word for word in words if word.timed))


def _heard(row: Located, log: MendLog) -> Heard | None:
    text = _first_text(row, _WORD)
    if not text.strip():
        return None
    start_s, end_s = _second(row, _START, log), _second(row, _END, log)
    timed = start_s is not None and end_s is not None and end_s >= start_s
    if start_s is not None and end_s is not None and not timed:
        log.note(row.line, "a word ends before it begins; its times are left out", "time")
    word = SpokenWord(text, start_s or 0.0, end_s or 0.0, _confidence(row))
    return Heard(word, timed=timed, speaker=_speaker(row), line=row.line)


def _first_text(row: Located, keys: Sequence[str]) -> str:
    return next((row[key] for key in keys if isinstance(row.get(key), str)), "")


def _second(row: Located, keys: Sequence[str], log: MendLog) -> float | None:
    value = next((row[key] for key in keys if row.get(key) is not None), None)
    if value is None:
        return None
    number = finite(value)
    if number is None or number < 0:
        log.note(row.line, "a time that is no number of seconds is left out", "time")
        return None
    return round(number, 3)


def _confidence(row: Located) -> float | None:
    number = finite(next((row[key] for key in _CONFIDENCE if row.get(key) is not None), None))
    return number if number is not None and 0 <= number <= 1 else None


def _speaker(row: Located) -> str | None:
    value = next((row[key] for key in _SPEAKER if row.get(key) is not None), None)
    if isinstance(value, bool) or not isinstance(value, str | int):
        return None
    return " ".join(str(value).split()) or None
