"""Statements as sentences and paragraphs: the surgeon's own words, tidied and not rewritten."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from opnote.note.labels import capitalised
from opnote.note.model import Paragraph, Sentence
from opnote.note.statement import Statement

# A speaker who pauses this long has gone on to the next step; a paragraph of one or two sentences is not broken off for it.
# Common practice, not measured.
_PAUSE_S = 20.0
_FEWEST, _MOST = 3, 8
# Words that cannot end a sentence: what stands behind them was cut or never said.
_DANGLING = re.compile(r"(?:[\s,;:]+(?:and|but|or|the|a|an|of|because|which))+$", re.IGNORECASE)


def paragraphs(standing: Iterable[Statement]) -> Iterator[Paragraph]:
    """Statements in their order, a new paragraph where the dictation turns to another part, pauses, or has gone on for long."""
    sentences: list[Sentence] = []
    before: Statement | None = None
    for statement in standing:
        text = sentence(statement.raw)
        if not text:
            continue
        if before and _break(before, statement, sentences=len(sentences)):
            yield Paragraph(tuple(sentences))
            sentences = []
        sentences.append(Sentence(text, statement.source, statement.rows[0].statement, statement.start_s, statement.end_s))
        before = statement
    if sentences:
        yield Paragraph(tuple(sentences))


def _break(before: Statement, after: Statement, *, sentences: int) -> bool:
    if before.source != after.source or before.section != after.section or sentences >= _MOST:
        return True
    if before.raw.rstrip(" ").endswith("\n") or after.raw.lstrip(" ").startswith("\n"):
        return True
    if before.end_s is None or after.start_s is None or sentences < _FEWEST:
        return False
    return after.start_s - before.end_s >= _PAUSE_S


def sentence(words: str) -> str:
    """A statement's words as a sentence: a capital, a full stop, tidy spaces, no marks or link words left over from a cut.

    >>> sentence("the tunnel was drilled , to 25 millimetres , and the")
    'The tunnel was drilled, to 25 millimetres.'
    """
    text = " ".join(words.split())
    text = re.sub(r"\s+([,.;:?!)])", r"\1", text)
    text = re.sub(r"([,;:])[,;:]+", r"\1", text)
    text = re.sub(r"[,;:]+([.?!])", r"\1", text)
    text = re.sub(r"([.?!])\1+", r"\1", text)
    text = _DANGLING.sub("", text.lstrip(" ,.;:?!").rstrip(" ,;:-"))
    if not text:
        return ""
    return capitalised(text if text.endswith((".", "?", "!")) else text + ".")
