"""Grafts: length, strands and source against one another."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.plausibility import impossible
from opnote.check.reading import about, evidence, exact, word
from opnote.check.wording import amount, cited, measure, number, thing
from opnote.record.model import Entity, Record


@check("GRAFT01", "autograft-of-a-tissue-that-is-not-harvested", severity="ask", kind="conflict", source="common practice")
def tissue_not_harvested(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft is called an autograft though its tissue is hardly ever taken from the patient.

    Why: "autograft" and "allograft" are heard for one another; the tissue's track to its donor hangs on the word.

    Silent when: the tissue is one that is harvested; tissue or source is not settled.
    """
    for graft in record.of("graft"):
        if word(graft, "source") == "autograft" and word(graft, "tissue") in known.members("donor-tissues"):
            yield Doubt(
                f"The {thing(graft)} was said to be an autograft ({cited(graft, 'source')}), but {word(graft, 'tissue')} "
                f"({cited(graft, 'tissue')}) usually comes from a donor. Which was it?",
                about(graft, "source", "tissue"),
                evidence(graft, "source", "tissue"),
            )


@check(
    "GRAFT02",
    "folded-length-does-not-follow",
    severity="stop",
    kind="conflict",
    source="folded length is tendon length divided by the folds; stitching and trimming lose up to 10 mm: common practice",
)
def folded_length(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """The length of the folded graft is not what its tendon and strands make.

    Why: one of three figures is wrong: the tendon's length, the strands or the folded length.

    Silent when: they agree within what trimming takes; one of them was not said, is not settled or is impossible by itself; the
    strands do not divide between the tendons.
    """
    for graft in record.of("graft"):
        length, folds, folded = exact(graft, "length_mm"), _folds(graft), exact(graft, "folded_mm")
        if length is None or folds is None or folded is None or impossible(known, graft, "length_mm"):
            continue
        if abs(length / folds - folded) > known.limits["folded-length"].high:
            yield Doubt(
                f"The {thing(graft)} of {amount(graft, 'length_mm')} ({cited(graft, 'length_mm')}) in {_strands(graft)} strands "
                f"({cited(graft, 'strands')}) makes {measure(round(length / folds), 'length_mm')}, but it was said to be "
                f"{amount(graft, 'folded_mm')} folded ({cited(graft, 'folded_mm')}). Which number is right?",
                about(graft, "length_mm", "strands", "folded_mm"),
                evidence(graft, "length_mm", "strands", "folded_mm"),
            )


@check(
    "GRAFT03",
    "folded-graft-does-not-reach",
    severity="ask",
    kind="conflict",
    source="the least and the most a ligament takes (limits `folded-graft-LIGAMENT`: its span and 15 mm in each bone): common practice",
)
def folded_graft_does_not_reach(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft folded as often as was said is too short, or far too long, for its ligament.

    Why: the strands or the tendon's length were misheard.

    Silent when: the length may already be that of the folded graft (a tendon is longer than that); length or strands are not
    settled; the graft serves several ligaments, or one without a known need; it reaches, if barely.
    """
    whole = known.limits["whole-tendon"].low
    for graft in record.of("graft"):
        length, folds = exact(graft, "length_mm"), _folds(graft)
        need = known.limits.get(f"folded-graft-{word(graft, 'structure')}")
        if length is None or folds is None or need is None or length < whole or impossible(known, graft, "length_mm"):
            continue
        if not need.low <= length / folds <= need.high:
            off = "short" if length / folds < need.low else "long"
            yield Doubt(
                f"The {thing(graft)} of {amount(graft, 'length_mm')} ({cited(graft, 'length_mm')}) in {_strands(graft)} strands "
                f"({cited(graft, 'strands')}) would be {measure(round(length / folds), 'length_mm')} long, too {off} for the "
                f"{word(graft, 'structure')}. Are length and strands right?",
                about(graft, "strands", "length_mm"),
                evidence(graft, "strands", "length_mm"),
            )


@check(
    "GRAFT04",
    "autograft-with-a-donor-number",
    severity="ask",
    kind="conflict",
    source="21 CFR 1271.290(c): the identification code relates donor tissue to its records; a patient's own tendon has none",
)
def autograft_with_a_donor_number(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft is called an autograft and carries a tissue number or an expiry date.

    Why: "autograft" and "allograft" are heard for one another; donor tissue must be traceable.

    Silent when: neither was said; the source is not settled.
    """
    for graft in record.of("graft"):
        name = next((name for name in ("tissue_id", "lot", "expiry") if name in graft.attributes), None)
        if name and word(graft, "source") == "autograft":
            yield Doubt(
                f"The {thing(graft)} was said to be an autograft ({cited(graft, 'source')}), but its {known.label('graft', name)} was "
                f"read out ({cited(graft, name)}). Is it from a donor?",
                about(graft, "source", name),
                evidence(graft, "source", name),
            )


def _folds(graft: Entity) -> int | None:
    """How often each tendon of a graft is laid: strands divided by its tendons; None where that does not come out even."""
    strands = exact(graft, "strands")
    tendons = len((word(graft, "tissue") or "").split(" and "))
    return int(strands) // tendons if strands and strands > 0 and strands % tendons == 0 else None


def _strands(graft: Entity) -> str:
    return number(exact(graft, "strands") or 0)
