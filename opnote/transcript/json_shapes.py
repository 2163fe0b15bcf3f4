"""Where in a recogniser's JSON the speech stands: the shapes in common use, told apart by what is in them.

A shape is a list of rows (segments, utterances, chunks, phrases) or of single words, at the top or some levels down; a row may hold
readings of which the first counts, and words or parts of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from opnote.transcript.json_fields import TEXT, WORD, first_text, plain
from opnote.transcript.json_lines import Located
from opnote.transcript.reading import MendLog

#: Names of lists of rows, or of what holds such a list, in the order in which they are tried: sentences before words.
_ROWS = (
    *("segments", "utterances", "monologues", "recognizedphrases", "phrases", "chunks", "transcription", "fragments", "cues", "captions"),
    *("results", "result", "channels", "events", "body", "response", "data", "output"),
)
_SINGLE = ("words", "items", "elements", "tokens")
#: Names of a whole text, which counts where nothing tells it apart.
_WHOLE = ("transcript", "transcripts")
_READINGS = ("alternatives", "nbest", "hypotheses")
_PARTS = ("words", "elements", "segs", "items", "tokens", "result")
_PUNCTUATION = frozenset(("punct", "punctuation"))
_DEPTH = 12


@dataclass(frozen=True, slots=True)
class Found:
    """Rows with words, and whether each is a single word or mark; ``labels`` say who spoke when, where the file tells it apart."""

    rows: tuple[Located, ...]
    single: bool
    labels: tuple[Located, ...] = ()


def found_in(data: object, log: MendLog) -> Found | None:
    """The rows of ``data``, or None where no words stand in it."""
    found = _found(data, log, _DEPTH)
    if found is None and isinstance(data, Located) and first_text(plain(data), TEXT[:3]):
        found = Found((data,), single=False)
    if found is None:
        return None
    return Found(_final(_once(found.rows), log), found.single, tuple(_labels(data, _DEPTH)))


def inner(row: Located) -> list[Located]:
    """The words or parts that ``row`` holds; ``["word", begin, end]`` is one too."""
    told = plain(row)
    for name in _PARTS:
        parts = [part for part in _entries(told.get(name)) if isinstance(part, Located) and (is_mark(part) or has_text(part, WORD))]
        if parts:
            return [_opened(part) for part in parts]
    return list(_listed(row, told))


def is_mark(row: Located) -> bool:
    """Whether ``row`` is a punctuation mark or a blank, which belongs to the word before it."""
    return str(row.get("type", "")).lower() in _PUNCTUATION


def has_text(row: Located, names: Sequence[str]) -> bool:
    """Whether ``row``, or the first reading in it, holds words under one of ``names``."""
    return bool(first_text(plain(_opened(row)), names))


def _found(data: object, log: MendLog, depth: int) -> Found | None:
    if depth == 0:
        return None
    if isinstance(data, list):
        return _found_in_list(data, log, depth, single=False)
    if not isinstance(data, Located):
        return None
    told = plain(data)
    for name in (*_ROWS, *_SINGLE, *_WHOLE):
        value = told.get(name)
        found = _found_in_list(value, log, depth, single=name in _SINGLE) if isinstance(value, list) else _found(value, log, depth - 1)
        if found is not None:
            return _numbered(found) if name == "channels" else found
    return None


def _found_in_list(entries: Sequence[object], log: MendLog, depth: int, *, single: bool) -> Found | None:
    """The rows in a list: its entries, or what stands in each of them."""
    rows = [entry for entry in entries if isinstance(entry, Located)]
    deeper = [found for row in rows if (found := _deeper(row, log, depth)) is not None]
    if deeper and not any(found.single for found in deeper):
        return Found(tuple(row for found in deeper for row in found.rows), single=False)
    worded = [_opened(row) for row in rows if _has_words(row)]
    if all(is_mark(row) for row in worded):
        return Found(tuple(row for found in deeper for row in found.rows), all(found.single for found in deeper)) if deeper else None
    if len(rows) < len(entries):
        log.note(None, "entries that are no segments are left out")
    for row in rows:
        if not _has_words(row) and not _is_blank(row):
            log.note(row.line, "a segment without words, or with its words under an unknown name, is left out")
    return Found(tuple(worded), single or all(_is_single(row) for row in worded))


def _deeper(row: Located, log: MendLog, depth: int) -> Found | None:
    """What stands in a list of rows within ``row``."""
    return _found(row, log, depth - 1) if any(isinstance(value, list | Located) for value in row.values()) else None


def _numbered(found: Found) -> Found:
    """Rows of several channels, each with the number of its own."""
    if len(found.rows) < 2:
        return found
    rows: list[Located] = []
    for number, row in enumerate(found.rows, start=1):
        rows.append(Located({"channel": number, **row}))
        rows[-1].line = row.line
    return Found(tuple(rows), found.single)


def _has_words(row: Located) -> bool:
    opened = _opened(row)
    return bool(first_text(plain(opened), TEXT) or inner(opened))


def _is_blank(row: Located) -> bool:
    """Whether ``row`` says that nothing was said, by words that are blank; one without a place for words says nothing of that."""
    told = plain(_opened(row))
    return any(isinstance(told.get(name), str) for name in TEXT)


def _opened(row: Located) -> Located:
    """``row`` with the first of its readings in place of the list of them."""
    told = plain(row)
    for name in _READINGS:
        first = next(iter(_entries(told.get(name))), None)
        if isinstance(first, Located):
            opened = Located({**{key: value for key, value in row.items() if key.lower() not in _READINGS}, **first})
            opened.line = first.line
            return opened
    return row


def _is_single(row: Located) -> bool:
    if is_mark(row):
        return True
    told = plain(row)
    return not told.keys() & {"text", "transcript", *_PARTS} and (
        "word" in told or ("type" in told and bool(told.keys() & {"content", "value"}))
    )


def _listed(row: Located, told: dict[str, object]) -> Iterator[Located]:
    """Words that are written as lists: ``["word", begin, end]``, with their confidence in a list beside them."""
    sure = [entry[1] for entry in _entries(told.get("wordconfidence")) if isinstance(entry, list) and len(entry) == 2]
    words = [entry for entry in _entries(told.get("timestamps")) if isinstance(entry, list) and len(entry) == 3]
    for number, (word, start, end) in enumerate(words):
        located = Located({"word": word, "start": start, "end": end})
        if len(sure) == len(words):
            located["confidence"] = sure[number]
        located.line = row.line
        yield located


def _once(rows: Sequence[Located]) -> tuple[Located, ...]:
    """The rows without those whose words the last row, which tells who spoke, has all over again."""
    if len(rows) < 2 or first_text(plain(rows[-1]), TEXT):
        return tuple(rows)
    before = [first_text(plain(word), WORD) for row in rows[:-1] for word in inner(row)]
    again = [first_text(plain(word), WORD) for word in inner(rows[-1])]
    return (rows[-1],) if before and before == again else tuple(rows)


def _final(rows: tuple[Located, ...], log: MendLog) -> tuple[Located, ...]:
    """The rows without those that a recogniser wrote while it was still listening, where it wrote final ones too."""
    final = tuple(row for row in rows if not _is_interim(row))
    if not final or len(final) == len(rows):
        return rows
    log.note(None, "results that the recogniser wrote before its final ones are left out")
    return final


def _is_interim(row: Located) -> bool:
    told = plain(row)
    return told.get("final") is False or told.get("isfinal") is False or told.get("ispartial") is True


def _labels(data: object, depth: int) -> Iterator[Located]:
    """Rows that say who spoke from when to when, and hold no words."""
    if depth == 0 or not isinstance(data, Located):
        return
    for key, value in data.items():
        if key.replace("_", "").lower() in ("speakerlabels", "diarization"):
            rows = value.get("segments") if isinstance(value, Located) else value
            yield from (row for row in _entries(rows) if isinstance(row, Located))
        else:
            yield from _labels(value, depth - 1)


def _entries(value: object) -> Sequence[object]:
    return value if isinstance(value, list) else ()
