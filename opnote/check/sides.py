"""Sides: one case, one leg, and nothing on the wrong side of the knee."""

from __future__ import annotations

import re
from collections.abc import Iterator

from opnote.check.knowledge import Knowledge
from opnote.check.model import Doubt, check
from opnote.check.profiles import texts
from opnote.check.reading import BORROWED, about, borrowed, case_of, evidence, structures, word
from opnote.check.wording import cite, cited, listed, served, thing
from opnote.record.model import About, Entity, Evidence, Record

Said = tuple[str, Entity, tuple[Evidence, ...]]
SIDE = re.compile(r"\b(left|right)\b")
EARLIER = ("previous", "prior", "old ", "history", "earlier")


@check(
    "SIDE01",
    "two-sides-for-one-case",
    severity="stop",
    kind="conflict",
    source="WHO Surgical Safety Checklist (2009), sign in: site marked; left/right slips in reports: Luetmer 2013 JACR",
)
def two_sides(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """Both sides are said for one operation.

    Why: the side is never guessed; a note with the wrong leg harms the next patient contact and is billed wrongly.

    Silent when: the case is bilateral, or the words speak of the contralateral leg (a graft harvested there).
    """
    case = case_of(record)
    if case and word(case, "side") == "bilateral":
        return
    said = [row for e in (*record.of("case"), *record.of("procedure")) for row in _sides(e)]
    sides = {side: words for side, _, words in reversed(said) if side in ("left", "right")}
    if len(sides) < 2:
        return
    entities = {entity.id: entity for _, entity, _ in said}.values()
    ways = listed(f"{side} {cite(sides[side])}" for side in sorted(sides))
    target = () if case and "side" in case.attributes else (About(type="case", attribute="side", entity=case.id if case else None),)
    everything = tuple(words for _, _, found in said for words in found)
    yield Doubt(
        f"Both sides were said: {ways}. Which leg was operated on?", (*target, *(a for e in entities for a in about(e, "side"))), everything
    )


def _sides(entity: Entity) -> Iterator[Said]:
    attribute = entity.attributes.get("side")
    if attribute is None or borrowed(attribute):
        return
    for candidate in attribute.candidates:
        if isinstance(candidate.value, str):
            yield candidate.value, entity, candidate.evidence
    if isinstance(attribute.value, str):
        yield attribute.value, entity, attribute.evidence


@check(
    "SIDE02",
    "diagnosis-of-the-other-side",
    severity="stop",
    kind="conflict",
    source="42 CFR 482.51(b)(6) list with the universal protocol: diagnosis, procedure and site agree; common practice",
)
def diagnosis_of_the_other_side(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A diagnosis names the other side than the operation.

    Why: diagnosis and procedure are read, coded and consented together; one of them names the wrong leg.

    Silent when: the diagnosis names both sides or none, speaks of an earlier operation or of the other leg, or the side of the
    case is not settled (that is SIDE01's question).
    """
    case = case_of(record)
    side = word(case, "side") if case else None
    if case is None or side not in ("left", "right"):
        return
    for name in ("preop_diagnosis", "postop_diagnosis"):
        for diagnosis in sorted(texts(case, name)):
            named, lower = set(SIDE.findall(diagnosis.lower())), diagnosis.lower()
            if len(named) != 1 or side in named or any(cue in lower for cue in (*BORROWED, *EARLIER)):
                continue
            words = evidence(case, name, "side")
            yield Doubt(
                f"The diagnosis is “{diagnosis}” ({cited(case, name)}) but the operated side is {side} ({cited(case, 'side')}). "
                "Which side is right?",
                about(case, "side", name),
                words,
            )


@check(
    "SIDE03",
    "landmark-of-the-other-side-of-the-knee",
    severity="stop",
    kind="conflict",
    source="LaPrade 2003 AJSM and 2007 JBJS Am (where the attachments lie); medial/lateral as a flip pair: common practice",
)
def wrong_side_of_the_knee(record: Record, known: Knowledge) -> Iterator[Doubt]:
    """A tunnel is placed by a landmark, or in a bone, on the other side of the knee than its ligament.

    Why: "medial" and "lateral" are heard for one another; a tunnel of a medial ligament cannot start from the lateral epicondyle.

    Silent when: the structure is unknown or one of several, or the landmark is one that surgeons measure from on purpose (the
    tibial POL tunnel lies medial to Gerdy's tubercle).
    """
    for tunnel in record.of("tunnel"):
        structure = known.structures.get(next(iter(structures(tunnel)), "")) if len(structures(tunnel)) == 1 else None
        if structure is None:
            continue
        landmark, bone = word(tunnel, "landmark"), word(tunnel, "bone")
        if landmark in structure.never_landmark and f"{bone} {landmark}" not in structure.but_landmark:
            yield Doubt(
                f"The {thing(tunnel)} was placed from the {landmark} ({cited(tunnel, 'landmark')}), which is not on the side "
                f"of the {served(tunnel)}. Which landmark was meant?",
                about(tunnel, "landmark", "structure"),
                evidence(tunnel, "landmark", "structure"),
            )
        elif bone is not None and bone not in structure.bones:
            yield Doubt(
                f"A tunnel in the {bone} ({cited(tunnel, 'bone')}) was said for the {served(tunnel)}, which attaches to the "
                f"{listed(structure.bones)}. Which bone was meant?",
                about(tunnel, "bone", "structure"),
                evidence(tunnel, "bone", "structure"),
            )
