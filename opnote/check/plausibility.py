"""Plausibility: numbers that can hardly be what was done."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from opnote.check.knowledge import Knowledge, Range
from opnote.check.model import Doubt, check
from opnote.check.profiles import fits
from opnote.check.reading import Spread, about, evidence, exact, in_place, spread
from opnote.check.slips import fitting
from opnote.check.wording import amount, cited, listed, measure, number, thing
from opnote.record.model import Entity, Record

Pair = tuple[float, float]
Wanted = Callable[[str, str], bool]


@check(
    "RANGE01",
    "impossible-number",
    severity="stop",
    kind="implausible",
    source="the hard ranges of lexicons/procedures/ and lexicons/attributes/, each with its source",
)
def impossible_number(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A number lies far outside anything that is possible for it.

    Why: it is almost always a slip of unit, digit or slot: centimetres for millimetres, a lost decimal point, "fifty" for
    "fifteen". The number stays as it was said; what it may have been is asked.

    Silent when: a range that was said touches the possible one; the value is not settled; the device did not stay in the
    patient; no hard range is known.
    """
    for entity, name, held, bounds in _numbers(record, known):
        if bounds.hard and held.outside(bounds.hard):
            yield _doubt(known, entity, name, bounds.hard, bounds, magnitude=True)


@check(
    "RANGE02",
    "unusual-number",
    severity="ask",
    kind="implausible",
    source="the usual ranges of lexicons/procedures/ that are marked to be asked about, each with its source",
)
def unusual_number(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A number lies outside what is usual for it.

    Why: it may be a slip, and a reader of the note will wonder; one word from the author settles it.

    Silent when: RANGE01 speaks; a range that was said touches the usual one; the value is not settled; the range is not marked
    to be asked about.
    """
    return odd_values(record, known, lambda type, name: type != "tensioning")


def odd_values(record: Record, known: Knowledge, wanted: Wanted) -> Iterator[Doubt]:
    """Doubts about values outside a usual range that is to be asked about, and inside the hard one."""
    for entity, name, held, bounds in _numbers(record, known):
        if wanted(entity.type, name) and _odd(held, bounds):
            yield _doubt(known, entity, name, _usual(bounds)[0], bounds, magnitude=False)


def unusual(known: Knowledge, entity: Entity, name: str) -> bool:
    """Whether a number is asked about for its range alone."""
    held, bounds = spread(entity, name), range_of(known, entity, name)
    return bool(held and bounds and (_odd(held, bounds) or impossible(known, entity, name)))


def _odd(held: Spread, bounds: Range) -> bool:
    if bounds.hard and held.outside(bounds.hard):
        return False
    return bounds.ask and all(held.outside(pair) for pair in _usual(bounds))


def _usual(bounds: Range) -> tuple[Pair, ...]:
    return tuple(pair for pair in (bounds.usual, bounds.also) if pair)


def impossible(known: Knowledge, entity: Entity, name: str) -> bool:
    """Whether RANGE01 speaks about an attribute, so that what follows from the number need not be asked too."""
    held, bounds = spread(entity, name), range_of(known, entity, name)
    return bool(held and bounds and bounds.hard and held.outside(bounds.hard))


def range_of(known: Knowledge, entity: Entity, name: str) -> Range | None:
    """The range with the most conditions that an entity fits; the attribute table's own where none does."""
    for bounds in known.ranges.get((entity.type, name), ()):
        if fits(entity, bounds.where):
            return bounds
    entry = known.attributes.get((entity.type, name))
    if entry is None or not (entry.usual or entry.hard):
        return None
    return Range(id=f"{entity.type}.{name}", source=entry.source, type=entity.type, attribute=name, usual=entry.usual, hard=entry.hard)


def _numbers(record: Record, known: Knowledge) -> Iterator[tuple[Entity, str, Spread, Range]]:
    for entity in filter(in_place, record.entities):
        for name in entity.attributes:
            held, bounds = spread(entity, name), range_of(known, entity, name)
            if held and bounds:
                yield entity, name, held, bounds


def _doubt(known: Knowledge, entity: Entity, name: str, pair: Pair, bounds: Range, *, magnitude: bool) -> Doubt:
    held = spread(entity, name)
    hints = fitting(held.low, _usual(bounds) or (pair,), magnitude=magnitude) if held and held.low == held.high else ()
    of = "" if entity.type == "case" else f" of the {thing(entity)}"
    asked = f"Was it {listed((measure(hint, name) for hint in hints), last='or')}?" if hints else "Is that right?"
    return Doubt(
        f"The {known.label(entity.type, name)}{of} was said as {amount(entity, name)} ({cited(entity, name)}), outside "
        f"{number(pair[0])} to {measure(pair[1], name)}. {asked}",
        about(entity, name),
        evidence(entity, name),
    )


@check(
    "RANGE03",
    "size-that-is-not-made",
    severity="ask",
    kind="implausible",
    source="reamers and dilators come in half millimetres from 4.5 to 13: common practice; quarter sizes are let pass",
)
def size_not_made(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A tunnel was reamed to a size that no reamer has.

    Why: "7.2" is rarely a reamer and often "7.5" or "7 by 20" misheard.

    Silent when: the size was converted from another unit; it is a quarter of a millimetre, below the sizes of reamers, a range,
    approximate, or impossible by itself (RANGE01).
    """
    for tunnel in record.of("tunnel"):
        wide = exact(tunnel, "diameter_mm")
        if wide is None or wide < known.limits["smallest-reamer"].low or wide * 4 == int(wide * 4):
            continue
        if tunnel.attributes["diameter_mm"].said is None and not impossible(known, tunnel, "diameter_mm"):
            yield Doubt(
                f"The {thing(tunnel)} is {amount(tunnel, 'diameter_mm')} wide ({cited(tunnel, 'diameter_mm')}), a size reamers are "
                "not made in. Which size was it?",
                about(tunnel, "diameter_mm"),
                evidence(tunnel, "diameter_mm"),
            )
