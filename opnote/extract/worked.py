"""What the operation works on, as its procedures tell: only these ligaments can be the topic of the talk."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from opnote.extract.frames import Frame
from opnote.lexicon import Lexicon


@dataclass(frozen=True, slots=True)
class Worked:
    """What is worked on.

    ligaments  the ligaments (other structures where there are none)
    rebuilt    those of them that a graft replaces (else all)
    root       the meniscal root that alone is repaired beside them, None where there is none: it has a tunnel and a button of its own
    named      the ligament to which alone an action is done: beside an ACL reconstruction "the tenodesis" is the LET
    """

    ligaments: frozenset[str]
    rebuilt: frozenset[str]
    named: Mapping[str, str]
    root: str | None = None

    @property
    def drilled(self) -> frozenset[str]:
        """The structures to which a tunnel or an implant may belong."""
        return self.ligaments | ({self.root} if self.root is not None else set())


NOTHING = Worked(frozenset(), frozenset(), {})


def worked_on(procedures: Iterable[Frame], lexicon: Lexicon) -> Worked:
    """What procedures are done to.

    "ACL reconstruction, medial meniscal repair" works on the ACL and rebuilds it; the meniscus is no ligament.
    """
    done = [(str(f.get("action")), str(f.get("structure"))) for f in procedures if f.get("structure") is not None]
    structures = frozenset(structure for action, structure in done if action in lexicon.words["actions-on-ligaments"])
    ligaments = structures & lexicon.words["ligaments"] or structures
    rebuilt = frozenset(structure for action, structure in done if action in lexicon.words["rebuilds"])
    roots = structures & lexicon.words["meniscal-roots"]
    root = next(iter(roots)) if len(roots) == 1 else None
    return Worked(ligaments, rebuilt & ligaments or ligaments, _alone(done, ligaments), root)


def _alone(done: Sequence[tuple[str, str]], ligaments: frozenset[str]) -> dict[str, str]:
    """Each action that is done to one structure alone, with that structure if it is one of the ligaments."""
    by_action: dict[str, set[str]] = {}
    for action, structure in done:
        by_action.setdefault(action, set()).add(structure)
    return {action: one for action, (one, *others) in by_action.items() if not others and one in ligaments}
