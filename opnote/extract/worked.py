"""What the operation works on, as its procedures tell: only these ligaments can be the topic of the talk."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from opnote.extract.frames import Frame
from opnote.lexicon import Lexicon


@dataclass(frozen=True, slots=True)
class Worked:
    """The ligaments worked on (other structures where there are none), and those of them that a graft replaces (else all)."""

    ligaments: frozenset[str]
    rebuilt: frozenset[str]


def worked_on(procedures: Iterable[Frame], lexicon: Lexicon) -> Worked:
    """What procedures are done to.

    "ACL reconstruction, medial meniscal repair" works on the ACL and rebuilds it; the meniscus is no ligament.
    """
    done = [(str(f.get("action")), str(f.get("structure"))) for f in procedures if f.get("structure") is not None]
    structures = frozenset(structure for action, structure in done if action in lexicon.words["actions-on-ligaments"])
    ligaments = structures & lexicon.words["ligaments"] or structures
    rebuilt = frozenset(structure for action, structure in done if action in lexicon.words["rebuilds"])
    return Worked(ligaments, rebuilt & ligaments or ligaments)
