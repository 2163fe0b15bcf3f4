"""A recogniser's JSON -> pieces of speech: segments with times, words only, or one of the nested shapes. No standard: common practice."""

from __future__ import annotations

import itertools
import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from opnote.errors import TranscriptError
from opnote.transcript.assemble import share_out
from opnote.transcript.json_fields import TEXT, WORD, channel, confidence, first_text, has_fraction, interval, plain, speaker
from opnote.transcript.json_lines import Located, load_all_located, whole_part
from opnote.transcript.json_shapes import Found, found_in, inner, is_mark
from opnote.transcript.reading import MendLog, Piece, Reading, SpokenWord
from opnote.transcript.speakers import with_speakers
from opnote.transcript.turn_labels import Labelled
from opnote.transcript.units import in_seconds
from opnote.transcript.utterances import Heard, by_time, joined, utterances
from opnote.transcript.word_places import word_places

#: What may stand behind the place of an error where the text stops in the middle of a number, a word or an escape.
_STUMP = re.compile(r"[\s\w.+\\-]*")
_SHAPE_HINT = 'give {"segments": [{"start": seconds, "end": seconds, "text": words}, ...]}, a list of such segments, or {"words": [...]}'
_AGAIN = "get the whole file, or let the recogniser write it again"
_CUT = "the file stops in the middle of the JSON"


def read_recogniser_json(text: str) -> Reading:
    """Read segments (``start``, ``end``, ``text``; perhaps ``speaker``, ``words``, ``confidence``), words alone, or a nested shape.

    Raises ``TranscriptError`` for broken JSON and for JSON that holds no words.
    """
    log = MendLog()
    data = _parse(text, log)
    found = found_in(data[0] if len(data) == 1 else data, log)
    if found is None:
        if any(mend.kind == "cut" for mend in log.mends()):
            raise TranscriptError(_CUT, line=text.count("\n") + 1, hint=_AGAIN)
        raise TranscriptError("JSON that holds no segments with words", hint=_SHAPE_HINT)
    several = len({channel(plain(row)) for row in found.rows}) > 1
    pieces = _pieces(found, log, several=several)
    if not any(has_fraction(plain(part)) for row in found.rows for part in (row, *inner(row))):
        pieces = in_seconds(pieces, log)
    if several:
        pieces = by_time(pieces)
    return Reading(tuple(with_speakers(pieces, timed=True)), log.mends())


def _parse(text: str, log: MendLog) -> list[object]:
    """The values of the text: one, or one behind the other, a line each. Of a text that stops early, what is whole is read."""
    try:
        return load_all_located(text)
    except json.JSONDecodeError as error:
        if not _is_cut(error, text):
            raise TranscriptError("the JSON is broken", line=error.lineno, hint=_AGAIN) from None
        log.note(error.lineno, _CUT, "cut")
        return _whole(text, error.lineno)
    except (RecursionError, ValueError):
        raise TranscriptError("the JSON cannot be read: nested too deep, or a number too long", hint=_SHAPE_HINT) from None


def _is_cut(error: json.JSONDecodeError, text: str) -> bool:
    if error.msg == "Extra data":
        return False
    return error.msg.startswith("Unterminated string") or _STUMP.fullmatch(text, error.pos) is not None


def _whole(text: str, line: int) -> list[object]:
    """The values in a text that stops early, as far as they are whole."""
    whole = whole_part(text)
    try:
        return load_all_located(whole) if whole is not None else []
    except ValueError:
        raise TranscriptError(_CUT, line=line, hint=_AGAIN) from None


def _pieces(found: Found, log: MendLog, *, several: bool) -> list[Piece]:
    labels = Labelled.of(found.labels, log)
    if found.single:
        return utterances(_worded(found.rows, None, labels, log, several=several))
    return [piece for row in found.rows for piece in _of_row(row, labels, log, several=several)]


def _of_row(row: Located, labels: Labelled, log: MendLog, *, several: bool) -> list[Piece]:
    """The speech of a row: one piece, or several where its words are another speaker's; ``several`` where channels run side by side."""
    told = plain(row)
    start_s, end_s = interval(told, row.line, log)
    if start_s is not None and end_s is not None and end_s < start_s:
        log.note(row.line, "the segment ends before it begins; its end is left out", "time")
        end_s = None
    own = speaker(told)
    words = _worded(inner(row), own or (channel(told) if several else None), labels, log)
    text = first_text(told, TEXT)
    timed = [heard.word for heard in words if heard.timed]
    apart = several and len(timed) == len(words)
    if words and (apart or not text) and (start_s is None or apart):
        return utterances(words)
    text = text or joined(heard.word.text for heard in words)
    own = own or (channel(told) if several else None) or labels.at(start_s, end_s)
    piece = Piece(text, row.line, start_s, end_s, own, row.get("paragraph") is True, words=tuple(timed))
    return _by_speaker(piece, words)


def _worded(rows: Iterable[Located], own: str | None, labels: Labelled, log: MendLog, *, several: bool = False) -> list[Heard]:
    """The words of ``rows``, a mark with the word before it."""
    words: list[Heard] = []
    for row in rows:
        told = plain(row)
        text = first_text(told, WORD) or (str(row.get("value", "")) if is_mark(row) else "")
        if is_mark(row) and words:
            words[-1] = replace(words[-1], word=replace(words[-1].word, text=words[-1].word.text + text))
        elif text.strip():
            words.append(_heard(row, text, own or (channel(told) if several else None), labels, log))
    return words


def _heard(row: Located, text: str, own: str | None, labels: Labelled, log: MendLog) -> Heard:
    told = plain(row)
    start_s, end_s = interval(told, row.line, log)
    timed = start_s is not None and end_s is not None and end_s >= start_s
    if start_s is not None and end_s is not None and not timed:
        log.note(row.line, "a word ends before it begins; its times are left out", "time")
    word = SpokenWord(text, start_s or 0.0, end_s or 0.0, confidence(told))
    who = speaker(told) or own or (labels.at(start_s, end_s) if timed else None)
    return Heard(word, timed=timed, speaker=who, line=row.line)


def _by_speaker(piece: Piece, words: Sequence[Heard]) -> list[Piece]:
    """``piece`` cut where its words tell another speaker, or with the one that they all tell."""
    voices = {heard.speaker for heard in words}
    if piece.speaker is not None or voices <= {None}:
        return [piece]
    if len(voices) == 1:
        return [replace(piece, speaker=words[0].speaker)]
    places = list(word_places(piece.text, [heard.word for heard in words]))
    cuts = [
        (place[0], index)
        for index, place in enumerate(places)
        if index and place is not None and words[index].speaker != words[index - 1].speaker
    ]
    starts = [(0, 0), *cuts, (len(piece.text), len(words))]
    parts = []
    for (begins, first), (ends, last) in itertools.pairwise(starts):
        timed = tuple(heard.word for heard in words[first:last] if heard.timed)
        parts.append(replace(piece, text=piece.text[begins:ends], speaker=words[first].speaker, words=timed))
    return [_by_its_words(shared) for shared in share_out(parts, piece.start_s, piece.end_s)]


def _by_its_words(piece: Piece) -> Piece:
    """``piece`` with the seconds of its words where it has any."""
    if not piece.words:
        return piece
    return replace(piece, start_s=piece.words[0].start_s, end_s=max(word.end_s for word in piece.words))
