"""What language makes of a heard text: one ``Talk``, which every later stage reads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spacy.tokens import Doc

from opnote.hearing.model import Heard
from opnote.language.corrections import Corrected, applied, corrections
from opnote.language.model import Quantity
from opnote.language.phrases import Hit, Phrasebook
from opnote.language.quantities import find_quantities
from opnote.language.stance import Stance, stances
from opnote.language.statements import Joints, Statement, cut
from opnote.language.terms import Mention, find_terms
from opnote.lexicon import Lexicon
from opnote.spans import RawSpan, TextSpan

ALONE_TOO_COMMON = frozenset({("patient",), ("hospital",), ("record",), ("tissue",), ("donor",)})  # announce more than identifiers


@dataclass(frozen=True)
class Talk:
    """A heard text with everything language found in it; places are tokens of ``doc``, ``words`` its tokens in lower case."""

    heard: Heard
    doc: Doc
    words: tuple[str, ...]
    statements: tuple[Statement, ...]
    mentions: tuple[Mention, ...]
    quantities: tuple[Quantity, ...]
    hits: tuple[Hit, ...]
    stances: tuple[Stance, ...]
    corrected: tuple[Corrected, ...]

    def text_span(self, start: int, end: int) -> TextSpan:
        """The characters of tokens ``start`` to ``end``."""
        if end <= start:
            return TextSpan(0, 0)
        last = self.doc[end - 1]
        return TextSpan(self.doc[start].idx, last.idx + len(last.text))

    def raw(self, start: int, end: int) -> RawSpan:
        """The dictated characters of tokens ``start`` to ``end``."""
        return self.heard.raw(self.text_span(start, end))

    def stance(self, start: int, end: int) -> Stance:
        """The stance of a stretch: that of its first word."""
        return self.stances[start] if start < len(self.stances) else Stance()


def understand(heard: Heard, lexicon: Lexicon, book: Phrasebook) -> Talk:
    """Language's whole work on one text, a step a line."""
    doc = book.doc(heard.text)
    words = tuple(token.lower_ for token in doc)
    hits = tuple(book.hits(doc))
    breaks, speakers = _turns(heard, doc)
    statements = cut(words, hits, Joints.of(lexicon.words), breaks=breaks, speakers=speakers)
    mentions = find_terms(words, hits)
    quantities = _with_named_angles(find_quantities([token.text for token in doc], identifier_cues=_identifier_cues(lexicon)), mentions)
    mentions = _outside_identifiers(mentions, quantities)
    corrected = corrections(words, hits, quantities, mentions, _speaker_changes(speakers))
    stance = stances(words, statements, hits, mentions, taken=[c.cue for c in corrected])
    quantities = applied(quantities, corrected)
    return Talk(heard, doc, words, statements, mentions, quantities, hits, stance, corrected)


def _identifier_cues(lexicon: Lexicon) -> frozenset[tuple[str, ...]]:
    """The words after which digits and letters are an identifier: the cues of the attributes that hold one."""
    cues = (cue for entry in lexicon.attributes.values() if entry.value == "identifier" for cue in entry.before)
    return frozenset(words for cue in cues if (words := tuple(cue.lower().split())) not in ALONE_TOO_COMMON)


def _outside_identifiers(mentions: Sequence[Mention], quantities: Sequence[Quantity]) -> tuple[Mention, ...]:
    """The mentions that are not letters of an identifier ("lot S T oh nine" names no tendon)."""
    spans = [(q.start, q.end) for q in quantities if q.kind == "identifier"]
    return tuple(m for m in mentions if not any(start <= m.start < end for start, end in spans)) if spans else tuple(mentions)


def _with_named_angles(quantities: Sequence[Quantity], mentions: Sequence[Mention]) -> tuple[Quantity, ...]:
    """Angles that are said by name ("full extension" is 0 degrees) among those said in numbers."""
    named = [
        Quantity(m.start, m.end, "angle", float(m.value), unit="deg", why=(f"term {m.term}",))
        for m in mentions
        if m.kind == "flexion" and not any(q.start < m.end and m.start < q.end for q in quantities)
    ]  # fmt: skip
    return tuple(sorted([*quantities, *named], key=lambda q: q.start))


def _turns(heard: Heard, doc: Doc) -> tuple[list[int], list[str | None]]:
    """Tokens at which the source begins anew (a new speaker or paragraph), and the speaker of each token."""
    transcript = heard.transcript
    breaks: list[int] = []
    speakers: list[str | None] = []
    previous = None
    for token in doc:
        segment = transcript.segment_at(heard.raw(TextSpan(token.idx, token.idx + len(token.text))).start) if transcript.segments else None
        if segment is not previous:
            changed = previous is not None and segment is not None and segment.speaker != previous.speaker
            if segment is not None and (segment.paragraph or changed):
                breaks.append(token.i)
            previous = segment
        speakers.append(segment.speaker if segment else None)
    return breaks, speakers


def _speaker_changes(speakers: Sequence[str | None]) -> list[int]:
    return [i for i in range(1, len(speakers)) if speakers[i] != speakers[i - 1]]
