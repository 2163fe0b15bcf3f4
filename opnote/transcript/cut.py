"""Whether the last words of a file of cues are cut off, which only a file without a line end at its end can show.

WebVTT lets a file end without one (W3C WebVTT, 4.1), and many tools write none, so its lack alone proves nothing. A cut is evident where
the text stops inside a tag or a character reference, inside a word, or inside a sentence of a dictation that is written in sentences.
Where the last word is whole and nobody writes full stops, a cut cannot be told from an end.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from opnote.lexicon import load
from opnote.lexicon.right_words import right_words
from opnote.transcript.cues import Cue
from opnote.transcript.markup import plain_text
from opnote.transcript.reading import MendLog

IN_MARKUP = "the file stops in the middle of a tag or a character"
IN_WORD = "the file stops in the middle of a word"
IN_SENTENCE = "the file stops in the middle of a sentence, without a line end"
NO_LINE_END = "the file ends without a line end; if it was cut, words are missing"

#: The character references of WebVTT (4.2.3), each as far as it may have come.
_REFERENCES = "|".join(
    sorted({name[:end] for name in ("amp", "lt", "gt", "lrm", "rlm", "nbsp", "quot") for end in range(1, len(name) + 1)})
)
#: A tag or a character reference cut off at the end of the file; a bare "<" or "&" in front of a blank or a number is text.
_CUT_MARKUP = re.compile(rf"(?:</?(?:(?:v|c|i|b|u|ruby|rt|lang|font)(?:[.\s][^<>\n]*)?)?|&(?:{_REFERENCES}|#[xX]?[0-9A-Fa-f]{{0,7}}))$")
_LAST_WORD = re.compile(r"[^\W\d_]+$")
_WORD = re.compile(r"[^\W\d_]+")
_STOP = re.compile(r"[.?!\u2026][\"'\u201d\u2019)\]]*\s+(?P<next>\S)")
_CLOSED = re.compile(r"[.?!\u2026\])\u266a][\s\"'\u201d\u2019]*$")
_OPEN = re.compile(r"[,;(\[\u2013\u2014-]\s*$")

#: A dictation is written in sentences if it has so many, and of their beginnings this share has a capital or a figure (common practice).
_SENTENCES, _CAPITALS = 5, 0.9
#: The shortest beginning of a word that tells which word it is the beginning of.
_SHORTEST = 4


def without_cut_markup(text: str, log: MendLog) -> str:
    """``text`` without a tag or character reference that stops in its middle, which is noted as a cut."""
    found = _cut_markup(text)
    if found is None:
        return text
    log.note(text.count("\n") + 1, IN_MARKUP, "cut")
    return text[: found.start()]


def _cut_markup(text: str) -> re.Match[str] | None:
    found = None if text.endswith("\n") else _CUT_MARKUP.search(text, text.rfind("\n") + 1)
    return None if found is None or found.group() == "<" else found


def note_cut_words(text: str, cues: Sequence[Cue], log: MendLog) -> None:
    """Note where the last words of a file without a line end stop: a cut if it is evident, else only that it might be one."""
    last = text.count("\n") + 1
    if _cut_markup(text) or text.endswith("\n") or not cues or not cues[-1].text or cues[-1].text[-1][0] != last:
        return
    said = plain_text("\n".join(line for cue in cues for _, line in cue.text)).rstrip()
    if _is_fragment(said):
        log.note(last, IN_WORD, "cut")
    elif _stops_short(cues) or _OPEN.search(said) or (_in_sentences(said) and not _CLOSED.search(said)):
        log.note(last, IN_SENTENCE, "cut")
    else:
        log.note(last, NO_LINE_END, "end")


def _stops_short(cues: Sequence[Cue]) -> bool:
    """Whether the last line ends in a blank, as no line above it does."""
    *above, last = [line for cue in cues for _, line in cue.text]
    return last.endswith((" ", "\t")) and not any(line.endswith((" ", "\t")) for line in above)


def _in_sentences(said: str) -> bool:
    begun = [found["next"] for found in _STOP.finditer(said)]
    return len(begun) >= _SENTENCES and sum(not char.islower() for char in begun) >= _CAPITALS * len(begun)


def _is_fragment(said: str) -> bool:
    """Whether the last word is none, but the beginning of one that was said before or is a word of the trade.

    A name, in capitals, may be anything.
    """
    found = _LAST_WORD.search(said)
    if found is None or not found.group().islower() or len(found.group()) < _SHORTEST or found.group() in right_words():
        return False
    known = load().vocabulary.union(word.lower() for word in _WORD.findall(said[: found.start()]))
    return found.group() not in known and any(word.startswith(found.group()) for word in known)
