"""Takes back what a speaker takes back: "nine, no, sorry, eight" leaves eight, and remembers nine."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import log

from opnote.language.grammar import CorrectionWords
from opnote.language.model import Quantity
from opnote.language.phrases import Hit
from opnote.language.respelled import respelled, with_end
from opnote.language.terms import Mention
from opnote.lexicon import Correction

FAR, NIGH = 8, 4  # words between a plain or a slight cue and what it corrects
LOOK_BACK = 6  # values back to the one that "not nine" denies
READ_BACK = 6  # words between a value and its being read back
CHOSEN_WITHIN = 20  # words from the first of two values to the word that one of them is right
SLIP = 6.0  # how many times larger one number may be than the one it replaces after a slight cue
MARKS = frozenset({",", ".", ";", ":", "-", "--", "...", "\u2013", "\u2014"})
ARTICLES = frozenset({"a", "an", "the"})
CORRECTABLE = frozenset({"side", "structure", "bone", "material", "stress", "rotation", "tissue", "source", "antibiotic", "implant kind"})
ALIKE = {"number": {"length", "angle", "count", "pressure", "duration", "force", "volume", "grade", "clock", "period"}}
NEVER = frozenset({"suture size", "ordinal", "age"})
MEASURED = frozenset({"length", "angle", "force", "pressure", "duration", "volume"})

Value = Quantity | Mention


@dataclass(frozen=True, slots=True)
class Corrected:
    """The first value gave way to the second; ``said`` is the second as it stands in the text, ``cue`` the tokens that tell."""

    old: Value
    new: Value
    said: Value
    cue: tuple[int, int]


@dataclass(frozen=True, slots=True)
class _Cue:
    start: int
    end: int
    plain: bool


def corrections(
    words: Sequence[str],
    hits: Sequence[Hit],
    quantities: Sequence[Quantity],
    mentions: Sequence[Mention],
    bounds: Sequence[int],
    known: CorrectionWords,
) -> tuple[Corrected, ...]:
    """Every pair of a value and the one that replaced it. ``bounds`` are tokens at which another speaker begins."""
    values: list[Value] = sorted([*quantities, *(m for m in mentions if m.kind in CORRECTABLE)], key=lambda v: (v.start, v.end))
    starts = [value.start for value in values]
    cues = [*_cues(words, hits)]
    again = respelled(words, quantities, [(c.start, c.end) for c in cues], known.between_letters)
    spelled = [Corrected(r.old, r.new, r.new, r.cue) for r in again]
    out: dict[Value, Corrected] = {c.old: c for c in spelled}
    for cue in cues:
        found = _pair(words, values, starts, cue, bounds, known)
        if found and found[0] not in out and not any(s.cue[0] <= cue.start < s.new.end for s in spelled):
            out[found[0]] = Corrected(found[0], dressed(found[1], found[0]), found[1], (cue.start, cue.end))
    for first, second, place in _contrasted(words, values, known.no_head):
        if any(s.cue[0] <= place < s.new.end for s in spelled):
            continue
        out.setdefault(second, Corrected(second, dressed(first, second), first, (place, place + 1)))
    for old, second, place in _denied_first(words, values, known.it_was):
        new = replace(dressed(second, old), start=second.start, end=second.end)  # what stands between the two is not corrected
        out.setdefault(old, Corrected(old, new, second, (place, place + 1)))
    for old, chosen, place in [*_chosen(words, values, known.is_right), *_conceded(words, values, known.concedes)]:
        out.setdefault(old, Corrected(old, dressed(chosen, old), chosen, (place, place + 1)))
    repeated = [replace(c, old=same) for c in out.values() if (same := _said_before(values, starts, c.old)) is not None and same not in out]
    return tuple(sorted([*out.values(), *repeated], key=lambda c: (c.cue, c.old.start)))


def _said_before(values: Sequence[Value], starts: Sequence[int], old: Value) -> Quantity | None:
    """The value that ``old`` only reads back ("Cuff to two seventy." - "Two seventy?" - "I tell a lie, two fifty")."""
    place = bisect_left(starts, old.start)
    before = values[place - 1] if place else None
    if not isinstance(old, Quantity) or not isinstance(before, Quantity) or old.start - before.end > READ_BACK:
        return None
    return before if (before.kind, _worth(before)) == (old.kind, _worth(old)) else None


def applied(quantities: Sequence[Quantity], corrected: Iterable[Corrected]) -> tuple[Quantity, ...]:
    """The quantities with those that correct another as they are to be read, and without the words they swallowed."""
    news = [(c.said, c.new, c.old) for c in corrected if isinstance(c.new, Quantity)]
    read_as = {said: new for said, new, _ in news}
    wide = [(new, old) for _, new, old in news if new.start <= old.start]
    kept = [
        read_as.get(q, q)
        for q in quantities
        if q in read_as or not any(new.start <= q.start and q.end <= new.end and q != old for new, old in wide)
    ]
    kept += [new for said, new, _ in news if said not in quantities and new not in kept]
    return tuple(sorted(kept, key=lambda q: (q.start, q.end)))


def _cues(words: Sequence[str], hits: Sequence[Hit]) -> Iterator[_Cue]:
    """Correction cues, joined where they follow each other ("no sorry", "oh, wait"); two slight ones together are plain."""
    found = sorted({(h.start, h.end, h.entry.strength) for h in hits if h.use == "correction" and isinstance(h.entry, Correction)})
    current: _Cue | None = None
    for start, end, strength in found:
        if current and all(word in MARKS for word in words[current.end : start]):
            plain = current.plain or strength == "plain" or start >= current.end
            current = _Cue(current.start, max(current.end, end), plain)
            continue
        if current:
            yield current
        current = _Cue(start, end, strength == "plain")
    if current:
        yield current


def _pair(
    words: Sequence[str], values: Sequence[Value], starts: Sequence[int], cue: _Cue, bounds: Sequence[int], known: CorrectionWords
) -> tuple[Value, Value] | None:
    if cue.end < len(words) and words[cue.end] == "?":
        return None
    after = bisect_left(starts, cue.end)
    reach = FAR if cue.plain else NIGH
    olds = [v for v in values[max(0, after - 6) : after] if v.end <= cue.start and _count(words, v.end, cue.start) <= reach]
    news = [v for v in values[after : after + 3] if _count(words, cue.end, v.start) <= (FAR if _restated(olds[-1:], v) else reach)]
    for old in reversed(olds[-3:]):
        for new in news[:2]:
            if alike(old, new, plain=cue.plain) and _stands(words, old, new, cue, bounds, known):
                return old, new
    return None


def _count(words: Sequence[str], start: int, end: int) -> int:
    return sum(word not in MARKS for word in words[start:end])


def _stands(words: Sequence[str], old: Value, new: Value, cue: _Cue, bounds: Sequence[int], known: CorrectionWords) -> bool:
    """Whether what stands around a cue lets one value replace the other."""
    crossed = bounds[bisect_left(bounds, old.end) : bisect_left(bounds, new.start + 1)]
    if len(crossed) > 1 or any(_count(words, bound, cue.start) for bound in crossed):
        return False
    ahead = words[cue.end : new.start]
    if _heads_differ(words, old, new, known.no_head) or "?" in ahead:
        return False
    if _widens(old, new):  # "a nine, sorry, no, a ten by thirty", and nothing else is said between
        return not _count(words, old.end, cue.start) and all(word in MARKS | ARTICLES for word in ahead)
    if cue.plain or _restated([old], new):
        return True
    ahead = _without_denied(words, ahead, old)
    gap = words[old.end : cue.start]
    small = MARKS if "." in ahead else known.small | MARKS  # "Sorry. Nine." corrects, "Sorry. The nine is open" does not
    return {"?", "and", "so"}.isdisjoint(gap) and all(word in small for word in ahead) and _near(old, new)


def _restated(olds: Sequence[Value], new: Value) -> bool:
    """Whether a pair is said again with one of its numbers changed ("by thirty-five, no, the gauge said forty, so by forty")."""
    if not olds or not isinstance(olds[0], Quantity) or not isinstance(new, Quantity) or (olds[0].kind, new.kind) != ("pair", "pair"):
        return False
    same = [first.value == second.value for first, second in zip(olds[0].parts, new.parts, strict=False)]
    return any(same) and not all(same)


def _without_denied(words: Sequence[str], ahead: Sequence[str], old: Value) -> Sequence[str]:
    """What stands before the new value without the old one denied once more ("sorry, not twenty, twenty-five")."""
    denied = ("not", *words[old.start : old.end])
    said = [word for word in ahead if word not in MARKS]
    return said[len(denied) :] if tuple(said[: len(denied)]) == denied else ahead


def _near(old: Value, new: Value) -> bool:
    """Whether two numbers are of the same size, within a slip of the tongue ("fifty" for "fifteen")."""
    worths = [
        v.said[0] if v.said else v.value for v in (old, new) if isinstance(v, Quantity) and isinstance(v.value, float) and v.value > 0
    ]
    return len(worths) < 2 or max(worths) <= SLIP * min(worths)


def _heads_differ(words: Sequence[str], old: Value, new: Value, no_head: frozenset[str]) -> bool:
    """Whether the two values count or measure different things ("two tendons, sorry, from one donor")."""
    if isinstance(old, Mention) or isinstance(new, Mention):
        return False
    heads = [_head(words, old, no_head), _head(words, new, no_head)]
    if old.kind != new.kind and heads[0] and not heads[1]:
        return old.kind == "number" and old.end < len(words) and heads[0].endswith("s")
    return bool(
        heads[0] and heads[1] and heads[0].removesuffix("s") != heads[1].removesuffix("s") and {old.kind, new.kind} <= {"number", "count"}
    )


def _head(words: Sequence[str], value: Value, no_head: frozenset[str]) -> str:
    word = words[value.end] if value.end < len(words) else ""
    return word if word.isalpha() and word not in no_head else ""


def _contrasted(words: Sequence[str], values: Sequence[Value], no_head: frozenset[str]) -> Iterator[tuple[Value, Value, int]]:
    """As in "thirty, not twenty five": the value that holds, the one denied, and the place of "not"."""
    for first, second in pairwise(values):
        between = words[first.end : second.start]
        small = [word for word in between if word not in MARKS and word not in ("a", "an", "the", "at", "to")]
        if (
            small == ["not"]
            and alike(first, second, plain=False)
            and "." not in between
            and not _heads_differ(words, first, second, no_head)
        ):
            yield first, second, first.end + list(between).index("not")


def _denied_first(words: Sequence[str], values: Sequence[Value], it_was: frozenset[str]) -> Iterator[tuple[Value, Value, int]]:
    """As in "nine by thirty. Not nine, it was the ten": the value said before, the one that holds, and the place of "not"."""
    for index, (first, second) in enumerate(pairwise(values)):
        place = first.start - 1
        said = {word for word in words[first.end : second.start] if word not in MARKS}
        if place < 0 or words[place] != "not" or not said or not said <= it_was or not alike(first, second, plain=False):
            continue
        old = next((v for v in reversed(values[max(0, index - LOOK_BACK) : index]) if _holds_value(v, first)), None)
        if old is not None and alike(old, second, plain=True):
            yield old, second, place


def _chosen(words: Sequence[str], values: Sequence[Value], is_right: frozenset[tuple[str, ...]]) -> Iterator[tuple[Value, Value, int]]:
    """As in "Two seventy?" - "You said two fifty." - "Two fifty is right": the value given up, the one that holds, and the place of "is".

    Both were named shortly before, in a question among the words, so that it is a choice and no praise of the only one.
    """
    for index, chosen in enumerate(values):
        behind = tuple(words[chosen.end : chosen.end + 2])
        if not any(behind[: len(said)] == said for said in is_right) or not isinstance(chosen, Quantity):
            continue
        near = [v for v in values[max(0, index - LOOK_BACK) : index] if _count(words, v.end, chosen.start) <= CHOSEN_WITHIN]
        named = [v for v in near if isinstance(v, Quantity) and v.kind == chosen.kind and _worth(v) == _worth(chosen)]
        others = [v for v in near if alike(v, chosen, plain=False) and named and v.end <= named[-1].start]
        asked = bool(others) and "?" in words[others[-1].end : chosen.start]
        if asked and _of_one_thing(values, others[-1], chosen):
            yield others[-1], chosen, chosen.end


def _conceded(words: Sequence[str], values: Sequence[Value], concedes: frozenset[tuple[str, ...]]) -> Iterator[tuple[Value, Value, int]]:
    """As in "Sixty newtons." - "I have eighty here." - "Right you are, eighty newtons": what the other said is said again, and holds."""
    longest = max(map(len, concedes), default=0)
    for second, again in pairwise(range(len(values))):
        told, restated = values[second], values[again]
        if not isinstance(told, Quantity) or not isinstance(restated, Quantity) or told.value is None or told.value != restated.value:
            continue
        between = range(told.end, restated.start)
        cue = next((p for p in between for n in range(1, longest + 1) if tuple(words[p : p + n]) in concedes), None)
        olds = [v for v in values[max(0, second - 2) : second] if alike(v, restated, plain=False)]
        if cue is None or not olds or _count(words, olds[-1].end, cue) > CHOSEN_WITHIN:
            continue
        if _of_one_thing(values, olds[-1], restated):
            yield olds[-1], restated, cue


def _of_one_thing(values: Sequence[Value], old: Value, new: Value) -> bool:
    """Whether nothing is named between two values that turns to another thing ("femoral tunnel eight, tibial nine? Nine is right")."""
    return not any(isinstance(v, Mention) and old.end <= v.start < new.start for v in values)


def _holds_value(value: Value, part: Value) -> bool:
    """Whether a quantity is the same as another, or a pair of which it is one number."""
    if not isinstance(value, Quantity) or not isinstance(part, Quantity):
        return False
    return part.value is not None and part.value in (value.value, *(one.value for one in value.parts))


def alike(old: Value, new: Value, *, plain: bool) -> bool:
    """Whether one value can replace the other: of the same kind and different, a bare number counting as whatever the other is.

    After a ``plain`` cue a number may also replace a part of a pair.
    """
    if isinstance(old, Mention) or isinstance(new, Mention):
        return isinstance(old, Mention) and isinstance(new, Mention) and old.kind == new.kind and old.value != new.value
    if old.kind in NEVER or new.kind in NEVER:
        return False
    if old.kind == "pair" and new.kind in ("number", "length"):
        return plain and isinstance(new.value, float) and len(old.parts) == 2
    if _widens(old, new):
        return plain and old.value != new.parts[0].value
    if old.kind != new.kind and not (new.kind in ALIKE.get(old.kind, ()) or old.kind in ALIKE.get(new.kind, ())):
        return False
    return _worth(old) != _worth(new)


def _widens(old: Value, new: Value) -> bool:
    """Whether two sizes follow where one was said."""
    if isinstance(old, Mention) or isinstance(new, Mention):
        return False
    return old.kind in ("number", "length") and new.kind == "pair" and len(new.parts) == 2


def _worth(quantity: Quantity) -> tuple[object, ...]:
    return (quantity.value, quantity.low, quantity.high, *(part.value for part in quantity.parts))


def dressed(new: Value, old: Value) -> Value:
    """The new value as it is to be read: a bare number wears the unit of what it corrects, a number after a pair replaces its like part."""
    if isinstance(new, Mention) or isinstance(old, Mention):
        return new
    if old.kind == "pair" and new.kind in ("number", "length"):
        return _with_part(old, new)
    if old.kind == new.kind == "identifier" and len(str(new.value)) < len(str(old.value)):
        return replace(new, start=old.start, value=with_end(str(old.value), str(new.value)) or new.value)
    if new.kind == "number" and old.kind in MEASURED and old.unit and not old.said:
        return replace(new, kind=old.kind, unit=old.unit, why=(*new.why, "unit of the corrected value"))
    return new


def _with_part(pair: Quantity, new: Quantity) -> Quantity:
    """The pair with the part that is nearest to the new value replaced by it; it stands on all the words from the pair on."""
    worth = float(new.value or 1)
    place = min(range(2), key=lambda i: abs(log(max(float(pair.parts[i].value or 1), 0.1) / max(worth, 0.1))))
    parts = tuple(replace(part, value=worth) if i == place else part for i, part in enumerate(pair.parts))
    return replace(pair, start=pair.start, end=new.end, parts=parts, why=(*pair.why, "a part corrected"))
