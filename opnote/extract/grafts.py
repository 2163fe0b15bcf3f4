"""Grafts: a tissue counts where it is spoken of as a graft, not as anatomy."""

from __future__ import annotations

from collections.abc import Sequence

from opnote.extract.dealing import dealt
from opnote.extract.frames import Frame
from opnote.extract.identifiers import identifiers
from opnote.extract.model import Choice
from opnote.extract.places import place
from opnote.extract.scene import Scene, apart
from opnote.extract.slots import from_mention, mentioned, won
from opnote.language.terms import Mention

CLOSE, WIDE = 6, 9  # words between a tissue and the word that makes it a graft; its source may stand farther off
REJECTED = "rejected"


def grafts(scene: Scene, choices: Sequence[Choice], structures: frozenset[str]) -> list[Frame]:
    """The grafts of a statement: "the semitendinosus was harvested at twenty eight centimetres and doubled"."""
    if scene.barred("graft"):
        return []
    topics = scene.focus.topics
    slots = [*won(scene, choices, "graft"), *identifiers(scene, "graft")]
    slots += [from_mention("tissue", m) for m in scene.of("tissue") if _as_graft(scene, m)]
    speaks = bool(slots) or scene.says("graft-words")
    if speaks:
        slots += mentioned(scene, "source", "source")
    if speaks or scene.focus.bench is not None or {"graft", "tissue"} & topics:
        slots += mentioned(scene, "strands", "strands")
    if slots or {"graft", "tissue"} & topics:
        slots += [from_mention("disposition", m) for m in scene.of("implant disposition") if m.value == REJECTED]
    frames = dealt(scene, "graft", slots)
    place(scene, frames, structures=structures)
    return frames


def _as_graft(scene: Scene, tissue: Mention) -> bool:
    """Whether a tissue is spoken of as a graft: by the words around it, by its source, by its number."""
    if scene.section == "procedures" or _harvested(scene, tissue) or _is_for_a_ligament(scene, tissue):
        return True
    sourced = any(apart(m, tissue) <= WIDE for m in scene.of("source", "strands"))
    numbered = any(q.kind == "identifier" for q in scene.quantities)
    return sourced or numbered or "graft" in scene.focus.topics


def _is_for_a_ligament(scene: Scene, tissue: Mention) -> bool:
    """Whether a tissue is told with the ligament it is for, and little else ("Tibialis anterior, for the ACL.")."""
    links = scene.words_of("tissue-to-ligament")
    return any(
        "for" in between and links.issuperset(between)
        for structure in scene.of("structure")
        if (between := scene.between(tissue.end, structure.start))
    )


def _harvested(scene: Scene, tissue: Mention) -> bool:
    """Whether the words around a tissue, or its own, speak of a graft ("a strip of iliotibial band")."""
    own = {*scene.between(tissue.start, tissue.end)}
    behind = scene.between(tissue.end, min(scene.statement.end, tissue.end + CLOSE))
    around = {*scene.lead(tissue.start, CLOSE), *behind} - own
    return bool(around & scene.words_of("speaks-of-a-graft") or own & scene.words_of("graft-by-its-name"))
