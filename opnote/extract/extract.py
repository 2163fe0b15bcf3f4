"""The stage as one function: Talk in, facts out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from opnote.extract.aftercare import aftercare, gone_on, taken_over, without_bare_braces
from opnote.extract.bench import trimmed
from opnote.extract.cartilage import settled
from opnote.extract.clocks import afternoon
from opnote.extract.diagnoses import diagnoses
from opnote.extract.events import answered, events, taken_clocks
from opnote.extract.facts import facts
from opnote.extract.findings import findings
from opnote.extract.focus import scenes
from opnote.extract.frames import Frame, Slot
from opnote.extract.header import header, placed, sides
from opnote.extract.kinds import lend_kinds, lend_only_ligament
from opnote.extract.limbs import operated_side, other_limb
from opnote.extract.linker import choose
from opnote.extract.model import Choice, Extraction
from opnote.extract.procedures import all_procedures
from opnote.extract.repeats import repeated
from opnote.extract.scene import Scene
from opnote.extract.seen import kept
from opnote.extract.things import RULES
from opnote.extract.topics import carry_on
from opnote.extract.weights import Weights
from opnote.extract.worked import Worked, worked_on
from opnote.language.talk import Talk
from opnote.lexicon import Lexicon

DRILLED_OR_PUT_IN = ("tunnel", "implant")  # a meniscal root has its own
HELD_AND_BENT = ("tensioning", "isometry")  # so are other joints: without a ligament of the knee they are none


@dataclass(frozen=True, slots=True)
class _Told:
    """What one statement gives: frames of things, slots of the case, and the choices that were made on the way."""

    frames: Sequence[Frame] = ()
    slots: Sequence[Slot] = ()
    choices: Sequence[Choice] = field(default=())


def extract(talk: Talk, lexicon: Lexicon, *, weights: Weights | None = None) -> Extraction:
    """All facts of a talk. The procedures come first: they tell which ligaments can be the topic."""
    done = all_procedures(scenes(talk, lexicon))
    worked = worked_on(done, lexicon)
    told = list(scenes(talk, lexicon, worked, weights=weights))
    operated = operated_side(sides(told))
    given = [_told(scene, worked, other_limb(scene, operated)) for scene in told]
    frames = _settled([*done, *(frame for one in given for frame in one.frames)], told, worked)
    slots = [*(slot for one in given for slot in one.slots), *sides(told), *diagnoses(told)]
    return Extraction(tuple(facts(talk, placed(slots, told), frames)), tuple(choice for one in given for choice in one.choices))


def _told(scene: Scene, worked: Worked, other: str | None) -> _Told:
    """One statement, read by every rule; ``other`` is the limb of the other side that it speaks of, if any."""
    happened = events(scene)
    choices = choose(scene, taken=taken_clocks(happened))
    if other == "knee":
        return _Told(tuple(happened), header(scene, choices), choices)
    made: list[Frame] = []
    for kind, rule in RULES.items():
        made += rule(scene, choices, _structures(kind, worked))
    return _Told((*made, *findings(scene, choices), *happened, *([] if other else aftercare(scene))), header(scene, choices), choices)


def _structures(kind: str, worked: Worked) -> frozenset[str]:
    """The structures to which a thing of one kind may belong."""
    if kind == "graft":
        return worked.rebuilt
    return worked.drilled if kind in DRILLED_OR_PUT_IN else worked.ligaments


def _is_of_a_ligament(frame: Frame) -> bool:
    """Whether a frame tells nothing where no ligament is worked on: a tendon that is named may be the one repaired."""
    return frame.type in HELD_AND_BENT or (frame.type == "graft" and frame.slots.keys() <= {"tissue", "structure"})


def _settled(frames: Sequence[Frame], told: Sequence[Scene], worked: Worked) -> list[Frame]:
    """The frames of all statements as the talk as a whole tells them: answers, afternoons, what goes on, what was left out."""
    standing = without_bare_braces([frame for frame in answered(frames, told) if worked.ligaments or not _is_of_a_ligament(frame)])
    afternoon(standing)
    taken_over(standing, told)
    standing += gone_on(standing, told)
    if not told:
        return standing
    lexicon = told[0].lexicon
    joined = list(settled([*kept(carry_on(trimmed(standing, told), told, lexicon))]))
    repeated(joined, told)
    lend_kinds(joined, lexicon, ligaments=bool(worked.ligaments) or not any(frame.type == "procedure" for frame in joined))
    lent = frozenset(kind for kind, thing in lexicon.things.items() if "structure" in thing.lent)
    lend_only_ligament(joined, worked.ligaments, lent)
    lend_only_ligament(joined, worked.rebuilt, frozenset({"graft"}))
    return joined
