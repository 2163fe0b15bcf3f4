"""Takes back what a speaker takes back: "nine, no, sorry, eight" leaves eight, and remembers nine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from opnote.language.model import Quantity
from opnote.language.phrases import Hit
from opnote.language.terms import Mention

FAR, NIGH = 8, 3  # words between a plain or a slight correction cue and what it corrects
SLIGHT = frozenset({"no", "actually", "rather", "wait", "i 'd say", "call it", "should be", "make it", "sorry", "hang on", "excuse me", "no it 's", "no , it 's"})
CORRECTABLE = frozenset({"side", "structure", "bone", "material", "stress", "rotation", "tissue", "source", "antibiotic", "implant kind"})
LIKE = {"number": {"length", "angle", "count", "pressure", "duration", "force", "volume", "grade", "clock", "period"}}

Value = Quantity | Mention


@dataclass(frozen=True, slots=True)
class Corrected:
    """The first value gave way to the second."""

    old: Value
    new: Value


def corrections(
    words: Sequence[str], hits: Sequence[Hit], quantities: Sequence[Quantity], mentions: Sequence[Mention], bounds: Sequence[int]
) -> tuple[Corrected, ...]:
    """Every pair of a value and the one that replaced it. ``bounds`` are tokens that no correction crosses (other speakers)."""
    values: list[Value] = sorted([*quantities, *(m for m in mentions if m.kind in CORRECTABLE)], key=lambda v: (v.start, v.end))
    out: list[Corrected] = []
    taken: set[Value] = set()
    for start, end in _cues(hits):
        cue = " ".join(words[start:end])
        width = NIGH if cue in SLIGHT else FAR
        pair = _pair(values, start, end, width)
        if pair and pair[0] not in taken and not any(pair[0].end <= b <= pair[1].start for b in bounds):
            taken.add(pair[0])
            out.append(Corrected(*pair))
    return tuple(out)


def _cues(hits: Sequence[Hit]) -> list[tuple[int, int]]:
    """Correction cues, joined where they follow each other ("no sorry", "hang on")."""
    spans = sorted({(h.start, h.end) for h in hits if h.use == "correction"})
    joined: list[tuple[int, int]] = []
    for start, end in spans:
        if joined and start <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def _pair(values: Sequence[Value], start: int, end: int, width: int) -> tuple[Value, Value] | None:
    before = [v for v in values if start - width <= v.end <= start]
    after = [v for v in values if end <= v.start <= end + width]
    for old in reversed(before[-2:]):
        for new in after[:2]:
            if alike(old, new):
                return old, new
    return None


def alike(old: Value, new: Value) -> bool:
    """Whether two values are of the same kind, a bare number counting as whatever the other is."""
    if isinstance(old, Mention) or isinstance(new, Mention):
        return isinstance(old, Mention) and isinstance(new, Mention) and old.kind == new.kind and old.value != new.value
    if old.kind == new.kind:
        return old.kind not in ("suture size", "ordinal", "age")
    return new.kind in LIKE.get(old.kind, ()) or old.kind in LIKE.get(new.kind, ())


def dressed(new: Quantity, old: Quantity) -> Quantity:
    """A corrected bare number wears the unit of what it corrects ("nine millimetres, no, eight")."""
    if new.kind == "number" and old.kind in ("length", "angle", "force", "pressure", "duration", "volume") and old.unit and not old.said:
        return replace(new, kind=old.kind, unit=old.unit, why=(*new.why, "unit of the corrected value"))
    return new
