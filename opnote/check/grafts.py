"""Grafts: length, strands and source against one another."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.plausibility import impossible
from opnote.check.reading import about, evidence, exact, structures, word
from opnote.check.wording import amount, cited, listed, measure, number, thing
from opnote.record.model import Entity, Record


@check("GRAFT01", "autograft-of-a-tissue-that-is-not-harvested", severity="ask", kind="conflict", source="common practice")
def tissue_not_harvested(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft is called an autograft though its tissue is hardly ever taken from the patient.

    Why: "autograft" and "allograft" are heard for one another; the tissue's track to its donor hangs on the word.

    Silent when: the tissue is one that is harvested; tissue or source is not settled.
    """
    for graft in record.of("graft"):
        if word(graft, "source") == "autograft" and word(graft, "tissue") in known.members("donor-tissues"):
            yield Doubt(f"The {thing(graft)} was said to be an autograft ({cited(graft, 'source')}), but {word(graft, 'tissue')} "
                        f"({cited(graft, 'tissue')}) usually comes from a donor. Which was it?",
                        about(graft, "source", "tissue"), evidence(graft, "source", "tissue"))  # fmt: skip


@check("GRAFT02", "folded-length-does-not-follow", severity="stop", kind="conflict",
       source="folded length is tendon length divided by the folds; stitching and trimming lose up to 10 mm: common practice")  # fmt: skip
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
            yield Doubt(f"The {thing(graft)} of {amount(graft, 'length_mm')} ({cited(graft, 'length_mm')}) in {_strands(graft)} strands "
                        f"({cited(graft, 'strands')}) makes {measure(round(length / folds), 'length_mm')}, but it was said to be "
                        f"{amount(graft, 'folded_mm')} folded ({cited(graft, 'folded_mm')}). Which number is right?",
                        about(graft, "length_mm", "strands", "folded_mm"),
                        evidence(graft, "length_mm", "strands", "folded_mm"))  # fmt: skip


@check("GRAFT03", "folded-graft-too-short-for-its-ligament", severity="ask", kind="conflict",
       source="the least a ligament's span and 15 mm in each bone need (derived from the lengths of lexicons/procedures/): common practice")  # fmt: skip
def too_short_once_folded(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A graft folded as often as was said would not reach from bone to bone.

    Why: the strands or the tendon's length were misheard.

    Silent when: the length may already be that of the folded graft (a tendon is longer than that); length or strands are not
    settled; the graft serves several ligaments, or one without a known need; it reaches, if barely.
    """
    whole = known.limits["whole-tendon"].low
    for graft in record.of("graft"):
        length, folds = exact(graft, "length_mm"), _folds(graft)
        need = known.limits.get(f"least-graft-{next(iter(structures(graft)))}") if len(structures(graft)) == 1 else None
        if length is None or folds is None or need is None or length < whole or impossible(known, graft, "length_mm"):
            continue
        if length / folds < need.low:
            names = listed(structures(graft))
            yield Doubt(f"The {thing(graft)} of {amount(graft, 'length_mm')} ({cited(graft, 'length_mm')}) in {_strands(graft)} strands "
                        f"({cited(graft, 'strands')}) is {measure(round(length / folds), 'length_mm')} long, too short for the {names}. "
                        "Are length and strands right?", about(graft, "strands", "length_mm"),
                        evidence(graft, "strands", "length_mm"))  # fmt: skip


def _folds(graft: Entity) -> int | None:
    """How often each tendon of a graft is laid: strands divided by its tendons; None where that does not come out even."""
    strands = exact(graft, "strands")
    tendons = len((word(graft, "tissue") or "").split(" and "))
    return int(strands) // tendons if strands and strands > 0 and strands % tendons == 0 else None


def _strands(graft: Entity) -> str:
    return number(exact(graft, "strands") or 0)
