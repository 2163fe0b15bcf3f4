"""The stage as one function: Talk in, facts out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from opnote.extract.aftercare import aftercare
from opnote.extract.diagnoses import diagnoses
from opnote.extract.events import afternoon, answered, events
from opnote.extract.findings import findings
from opnote.extract.frames import Frame, Slot
from opnote.extract.header import header, sides
from opnote.extract.linker import choose
from opnote.extract.model import Choice, Extraction, Fact
from opnote.extract.procedures import LIGAMENTS, procedures
from opnote.extract.scene import scenes
from opnote.extract.slots import from_mention
from opnote.extract.things import RULES
from opnote.extract.topics import carry_on
from opnote.language.talk import Talk
from opnote.lexicon import Lexicon


def extract(talk: Talk, lexicon: Lexicon) -> Extraction:
    """All facts of a talk. The procedures come first: they tell which ligaments can be the topic."""
    plain = list(scenes(talk, frozenset()))
    done = [frame for scene in plain for frame in procedures(scene)]
    structures = frozenset(
        str(f.get("structure"))
        for f in done
        if f.get("structure") and f.get("action") in ("reconstruction", "repair", "augmentation", "tenodesis")
    )
    ligaments = structures & LIGAMENTS or structures
    rebuilt = (
        frozenset(str(f.get("structure")) for f in done if f.get("action") in ("reconstruction", "tenodesis")) & ligaments or ligaments
    )
    told = list(scenes(talk, ligaments))
    choices: list[Choice] = []
    frames: list[Frame] = list(done)
    case = Frame("case", 0)
    slots: list[Slot] = []
    for scene in told:
        happened = events(scene)
        clocks = frozenset(f.slots["clock"].start for f in happened if "clock" in f.slots)
        chosen = choose(scene, lexicon, taken=clocks)
        choices += chosen
        made = [frame for kind, rule in RULES.items() for frame in rule(scene, chosen, rebuilt if kind == "graft" else ligaments)]
        made += findings(scene, chosen, ligaments)
        frames += [*made, *happened, *aftercare(scene)]
        slots += header(scene, chosen, lexicon)
    slots += [from_mention("side", mention) for _, mention in sides(told)] + diagnoses(told)
    answered(frames, told)
    frames = [f for f in frames if f.type not in ("tensioning", "isometry") or ligaments]  # other joints are held and bent too
    frames = carry_on(afternoon(frames), told, ligaments, talk)
    facts = list(_case_facts(talk, case, slots)) + [f for i, frame in enumerate(frames, start=1) for f in _facts(talk, i, frame)]
    return Extraction(tuple(facts), tuple(choices))


def _case_facts(talk: Talk, case: Frame, slots: Iterable[Slot]) -> Iterator[Fact]:
    for slot in slots:
        if (slot.value, slot.low, slot.high) != (None, None, None):
            yield from _fact(talk, 0, case, slot)


def _facts(talk: Talk, number: int, frame: Frame) -> Iterator[Fact]:
    for slot in frame.slots.values():
        if (slot.value, slot.low, slot.high) != (None, None, None):
            yield from _fact(talk, number, frame, slot)


def _fact(talk: Talk, number: int, frame: Frame, slot: Slot) -> Iterator[Fact]:
    yield _one(talk, number, frame.type, slot, superseded=False)
    for old in _old(talk, slot):
        yield _one(talk, number, frame.type, old, superseded=True)


def _old(talk: Talk, slot: Slot) -> Sequence[Slot]:
    from_terms = [
        from_mention(slot.attribute, c.old)
        for c in talk.corrected
        if (c.new.start, c.new.end) == (slot.start, slot.end) and not hasattr(c.old, "unit")
    ]
    return (*slot.superseded, *from_terms)


def _one(talk: Talk, number: int, kind: str, slot: Slot, *, superseded: bool) -> Fact:
    return Fact(
        talk.heard.transcript.source, number, kind, slot.attribute, slot.value, (talk.raw(slot.start, slot.end),), slot.start,
        slot.low, slot.high, slot.unit, slot.said, slot.approximate, superseded, slot.inherited, slot.why,
    )  # fmt: skip
