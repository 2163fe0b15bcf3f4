"""What was dictated beside what stands on the case sheet: the same, or a question, never decided by the tool."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from opnote.extract.model import Fact
from opnote.language.talk import Talk
from opnote.lexicon import AttributeEntry, Lexicon
from opnote.record.model import Attribute, Candidate, Entity, Evidence, Scalar
from opnote.record.sheet import SOURCE, Sheet
from opnote.record.unscheduled import NONE, said_otherwise

Verdict = Literal["same", "other", "clash"]
TITLES = frozenset("dr doctor mr mister mrs ms miss prof professor md do pa pac np rnfa frcs facs phd".split())


@dataclass(frozen=True, slots=True)
class Way:
    """One value with its words."""

    value: Scalar
    evidence: tuple[Evidence, ...]

    def candidate(self) -> Candidate:
        """The value as one of several that nobody decided between."""
        return Candidate(value=self.value, evidence=self.evidence)


def joined(entities: Sequence[Entity], sheet: Sheet | None, lexicon: Lexicon, *, talks: Sequence[Talk] = ()) -> list[Entity]:
    """The entities with the sheet's evidence beside what was dictated: a value where both say the same, candidates where they differ.

    ``talks`` are looked through for words that deny what only the sheet says, or name another patient.
    """
    case = next((entity for entity in entities if entity.type == "case"), None)
    if sheet is None or case is None:
        return list(entities)
    attributes = dict(case.attributes)
    for name in dict.fromkeys(fact.attribute for fact in sheet.facts):
        held, entry = attributes[name], lexicon.attributes[("case", name)]
        if all(words.source == SOURCE for words in _evidence(held)):
            other = said_otherwise(entry, talks, lexicon)
            held = held if other is None else Attribute(value=other[0], evidence=(other[1],), unit=held.unit)
        if any(words.source != SOURCE for words in _evidence(held)):
            attributes[name] = together(held, _scheduled(sheet, name), entry, lexicon)
    settled = case.model_copy(update={"attributes": attributes})
    side = attributes.get("side")
    doubted = side if side is not None and side.candidates else None
    return [settled if entity is case else _with_side(entity, doubted) for entity in entities]


def _scheduled(sheet: Sheet, name: str) -> list[Way]:
    return [Way(fact.value, (_place(fact, sheet),)) for fact in sheet.facts if fact.attribute == name and fact.value is not None]


def _with_side(entity: Entity, doubted: Attribute | None) -> Entity:
    """A procedure on the operated leg shares the doubt about which leg that is."""
    own = entity.attributes.get("side")
    if entity.type != "procedure" or doubted is None or own is None or own.value not in [c.value for c in doubted.candidates]:
        return entity
    return entity.model_copy(update={"attributes": {**entity.attributes, "side": doubted}})


def together(held: Attribute, scheduled: Sequence[Way], entry: AttributeEntry, lexicon: Lexicon) -> Attribute:
    """One attribute from what was dictated and what was scheduled."""
    said = _ways(held)
    verdicts = [(one, other, compare(one.value, other.value, entry, lexicon)) for one in said for other in scheduled]
    clash = any(verdict == "clash" for *_, verdict in verdicts)
    meant = [one for one, _, verdict in verdicts if verdict == "same"]
    lone = [other for other in scheduled if not any(o is other and verdict == "same" for _, o, verdict in verdicts)]
    shared = [_shared(one, [o for s, o, verdict in verdicts if s is one and verdict == "same"], entry) for one in said]
    if len(meant) == 1 and not lone and _is_one_saying(held):
        return _settled(held, meant[0], scheduled)
    if not said or held.candidates or clash or (lone and not (entry.many and meant)):
        return _open(held, [*shared, *lone])
    values = [way.value for way in (*shared, *(lone if entry.many else ()))]
    return held.model_copy(
        update={
            "value": values[0] if len(values) == 1 else tuple(values),
            "evidence": tuple(dict.fromkeys(words for way in (*shared, *lone) for words in way.evidence)),
        }
    )


def _is_one_saying(held: Attribute) -> bool:
    """Whether the candidates are readings of the same words ("3/4/2026")."""
    return len(held.candidates) > 1 and len({candidate.evidence for candidate in held.candidates}) == 1


def _settled(held: Attribute, meant: Way, scheduled: Sequence[Way]) -> Attribute:
    """The one reading of ambiguous words that the sheet gives too, by the words of both."""
    evidence = tuple(dict.fromkeys(words for way in (meant, *scheduled) for words in way.evidence))
    return held.model_copy(update={"value": meant.value, "candidates": (), "evidence": evidence})


def _open(held: Attribute, ways: Sequence[Way]) -> Attribute:
    """The attribute as a question: everything that was said or written, and no value."""
    candidates = [way.candidate() for way in ways]
    if not _ways(held):
        candidates.insert(0, Candidate(low=held.low, high=held.high, evidence=held.evidence))
    if len(candidates) == 1:
        return held
    return Attribute(candidates=tuple(candidates), unit=held.unit, superseded=held.superseded, why=held.why)


def _ways(held: Attribute) -> list[Way]:
    if held.candidates:
        return [Way(c.value, c.evidence) for c in held.candidates if c.value is not None]
    if held.value is None:
        return []
    if not isinstance(held.value, tuple):
        return [Way(held.value, held.evidence)]
    if len(held.value) == len(held.evidence):
        return [Way(value, (words,)) for value, words in zip(held.value, held.evidence, strict=True)]
    return [Way(value, held.evidence) for value in held.value]


def _shared(one: Way, others: Sequence[Way], entry: AttributeEntry) -> Way:
    """A dictated value with the evidence of the sheet; a name, number or denial is spelled as it was written, not as it was heard."""
    evidence = tuple(dict.fromkeys((*one.evidence, *(words for other in others for words in other.evidence))))
    written = next((other.value for other in others), one.value)
    fuller = entry.value == "identifier" or (entry.value == "name" and " " in str(written).strip()) or one.value == NONE
    return Way(written if fuller else one.value, evidence)


def compare(said: Scalar, written: Scalar, entry: AttributeEntry, lexicon: Lexicon) -> Verdict:
    """Whether a dictated and a written value are the same, differ but may both hold, or clash.

    Names go by the surname, and by first names in full; identifiers without blanks and dashes, dates as far as both go, words by the
    structures and sides they name.
    """
    if entry.value == "words":
        return _words(str(said), str(written), lexicon, many=entry.many)
    one, other = _plain(said, entry), _plain(written, entry)
    if entry.value == "name" and _other_person(str(said), str(written)):
        return "other" if entry.many else "clash"
    same = one == other or (entry.value == "date" and (str(one).startswith(str(other)) or str(other).startswith(str(one))))
    return "same" if same else "other" if entry.many else "clash"


def _plain(value: Scalar, entry: AttributeEntry) -> Scalar:
    if not isinstance(value, str):
        return value
    if entry.value == "identifier":
        return "".join(char for char in value.upper() if char.isalnum())
    return surname(value) if entry.value == "name" else value.casefold().strip()


def surname(name: str) -> str:
    """The last of a person's names in plain small letters, without titles.

    >>> surname("Dr. Zoë O'Neill-Brandt, MD"), surname("O'Neill Brandt")
    ('oneillbrandt', 'brandt')
    """
    names = _names(name)
    return names[-1] if names else "".join(char for char in name.casefold() if char.isalnum())


def _names(name: str) -> list[str]:
    plain = "".join(char for char in unicodedata.normalize("NFKD", name.casefold()) if not unicodedata.combining(char))
    words = ["".join(char for char in word if char.isalnum()) for word in plain.split()]
    return [word for word in words if word and word not in TITLES]


def _other_person(said: str, written: str) -> bool:
    """Whether two names of one surname have first names that cannot be the same: in full, and with other first letters."""
    one, other = _names(said)[:-1], _names(written)[:-1]
    return bool(one and other) and len(one[0]) > 1 and len(other[0]) > 1 and one[0][0] != other[0][0]


def _words(said: str, written: str, lexicon: Lexicon, *, many: bool) -> Verdict:
    if _letters(said) == _letters(written) or (_denies(said, lexicon) and _denies(written, lexicon)):
        return "same"
    sides = named(said, "side", lexicon), named(written, "side", lexicon)
    if all(sides) and not sides[0] & sides[1]:
        return "clash"
    structures = named(said, "structure", lexicon), named(written, "structure", lexicon)
    if all(structures):
        return "same" if structures[0] & structures[1] else "other"
    return "other" if many else "clash"


def _denies(text: str, lexicon: Lexicon) -> bool:
    """Whether words say that there is none: "none", "none known", "no allergies"."""
    return text.casefold().split(maxsplit=1)[0].strip(".,") in lexicon.words["absent"]


def named(text: str, kind: str, lexicon: Lexicon) -> frozenset[str]:
    """The terms of one kind that a written text names."""
    lower = f" {' '.join(re.findall(r'[a-z0-9]+', text.lower()))} "
    return frozenset(
        term.value
        for term in lexicon.terms
        if term.kind == kind and any(f" {' '.join(re.findall(r'[a-z0-9]+', said.lower()))} " in lower for said in term.said)
    )


def _letters(text: str) -> str:
    return "".join(char for char in text.casefold() if char.isalnum())


def _evidence(attribute: Attribute) -> tuple[Evidence, ...]:
    return attribute.evidence + tuple(words for candidate in attribute.candidates for words in candidate.evidence)


def _place(fact: Fact, sheet: Sheet) -> Evidence:
    span, transcript = fact.spans[0], sheet.transcript
    line = transcript.segment_at(span.start).line
    return Evidence(source=SOURCE, line=line, chars=(span.start, span.end), quote=transcript.quote(span))
