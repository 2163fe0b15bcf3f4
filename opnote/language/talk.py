"""What language makes of a heard text: one ``Talk``, which every later stage reads."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from spacy.tokens import Doc, Token

from opnote.hearing.model import Heard
from opnote.language.corrections import Corrected, applied, corrections
from opnote.language.grammar import Grammar
from opnote.language.model import Quantity
from opnote.language.phrases import Hit, Phrasebook
from opnote.language.quantities import find_quantities
from opnote.language.stance import Stance, stances
from opnote.language.statements import Joints, Statement, cut
from opnote.language.terms import Mention, find_terms
from opnote.lexicon import Lexicon
from opnote.spans import RawSpan, TextSpan
from opnote.transcript.model import Segment

LABEL = 5  # words of a label at the beginning of a line, its colon among them


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
    grammar = Grammar.of(lexicon.words)
    words = tuple(token.lower_ for token in doc)
    hits = tuple(book.hits(doc))
    speakers, breaks, lines = _turns(heard, doc)
    statements = cut(words, hits, Joints.of(lexicon.words), breaks=breaks, lines=lines, speakers=speakers)
    terms = find_terms(words, hits)
    quantities = _with_named_angles(find_quantities([token.text for token in doc], identifier_cues=_identifier_cues(lexicon)), terms)
    mentions = _outside_identifiers(terms, quantities)
    corrected = corrections(words, hits, quantities, mentions, _speaker_changes(speakers), grammar.corrections)
    stance = stances(words, statements, hits, mentions, grammar, taken=[c.cue for c in corrected], hints=lexicon.hints)
    return Talk(heard, doc, words, statements, mentions, applied(quantities, corrected), hits, stance, corrected)


def _identifier_cues(lexicon: Lexicon) -> frozenset[tuple[str, ...]]:
    """The words after which digits and letters are an identifier: the cues of the attributes that hold one."""
    cues = (cue for entry in lexicon.attributes.values() if entry.value == "identifier" for cue in entry.before)
    too_common = lexicon.words["announce-more-than-identifiers"]
    return frozenset(tuple(cue.lower().split()) for cue in cues if cue.lower() not in too_common)


def _outside_identifiers(mentions: Sequence[Mention], quantities: Sequence[Quantity]) -> tuple[Mention, ...]:
    """The mentions that are not letters of an identifier ("lot S T oh nine" names no tendon)."""
    spelled = _tokens(q for q in quantities if q.kind == "identifier")
    return tuple(m for m in mentions if m.start not in spelled)


def _with_named_angles(quantities: Sequence[Quantity], mentions: Sequence[Mention]) -> tuple[Quantity, ...]:
    """Angles that are said by name ("full extension" is 0 degrees) among those said in numbers."""
    counted = _tokens(quantities)
    named = [
        Quantity(m.start, m.end, "angle", float(m.value), unit="deg", why=(f"term {m.term}",))
        for m in mentions
        if m.kind == "flexion" and counted.isdisjoint(range(m.start, m.end))
    ]
    return tuple(sorted([*quantities, *named], key=lambda q: q.start))


def _tokens(quantities: Iterable[Quantity]) -> frozenset[int]:
    """The tokens of quantities."""
    return frozenset(token for q in quantities for token in range(q.start, q.end))


def _turns(heard: Heard, doc: Doc) -> tuple[list[str | None], list[int], list[int]]:
    """The speaker of each token, the tokens at which the source begins anew (a new speaker or paragraph), and those that begin a line."""
    transcript = heard.transcript
    if not transcript.segments:
        return [None] * len(doc), [], []
    segments = [transcript.segment_at(heard.raw(TextSpan(token.idx, token.idx + len(token.text))).start) for token in doc]
    turns = [
        place
        for place, (before, after) in enumerate(pairwise(segments), start=1)
        if before is not after and (after.paragraph or after.speaker != before.speaker)
    ]
    lines = [place for place, (before, after) in enumerate(pairwise(segments), start=1) if before is not after and _begins_anew(doc[place])]
    turns += [place for place in lines if _is_labelled(doc, segments, place)]
    return [segment.speaker for segment in segments], sorted({*turns}), lines


def _is_labelled(doc: Doc, segments: Sequence[Segment], place: int) -> bool:
    """Whether a line begins with a label and its colon ("Blood loss: minimal"): it goes on with nothing."""
    first = range(place, min(place + LABEL, len(doc)))
    return any(doc[i].text.endswith(":") and segments[i] is segments[place] for i in first)


def _begins_anew(token: Token) -> bool:
    """Whether a token looks like the first of an item: in a wrapped line a small letter goes on with the sentence."""
    return token.text[:1].isupper() or token.text.isdecimal()


def _speaker_changes(speakers: Sequence[str | None]) -> list[int]:
    """The tokens at which another speaker begins."""
    return [place for place, (before, after) in enumerate(pairwise(speakers), start=1) if before != after]
