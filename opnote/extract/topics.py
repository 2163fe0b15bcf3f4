"""What goes on from statement to statement: a size of the last tunnel, a lot of the last screw, a trial that is given up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.found import is_fate_of, named_by_fate, without_left
from opnote.extract.frames import CALLED_FOR, IDENTIFIED, ONLY_OPENED, PLACE, Frame
from opnote.extract.scene import Scene
from opnote.lexicon import Lexicon

TRIAL = 6  # statements between a trial of isometry and the word that gives it up
FATE = 4  # more statements for what became of an implant
HEADING = 5  # words of a statement that does no more than turn to a bone ("Now the tibia.")
NAMES = frozenset({"kind", "diameter_mm", "material"})  # what an implant is known by
CALLED_LASTS = 2  # statements in which what was called for is read off its box
FROM_THE_BOX = IDENTIFIED | {"material"}
LEFT_BY_NAME = frozenset({("tunnel", "bone")})  # what even contradicts if it was lent: the topic was that bone all along
NEW_EXAMINATION = frozenset({"flexion_deg", "opening_mm", "structure"})  # what is not merely added to the examination before


def carry_on(frames: Sequence[Frame], scenes: Sequence[Scene], lexicon: Lexicon) -> list[Frame]:
    """The frames of a talk in order, those that go on with an earlier one joined to it, and without those that came to nothing."""
    joined: list[Frame] = []
    last: dict[str, Frame] = {}
    headings = frozenset(m.start for scene in scenes if len(scene.words) <= HEADING for m in scene.of("bone"))
    for frame in named_by_fate(sorted(frames, key=lambda f: (f.statement, f.start))):
        previous = last.get(frame.type)
        if previous is not None and goes_on(previous, frame, lexicon) and not _is_headed(previous, frame, headings):
            _join(previous, frame)
            continue
        _into_the_tunnel(frame, last.get("tunnel"))
        joined.append(frame)
        last[frame.type] = frame
    given_up = [scene.statement.index for scene in scenes if scene.of("abandons")]
    joined = [frame for frame in without_left(joined, scenes) if not _is_only_opened(frame)]
    return [frame for frame in joined if frame.get("disposition") != "rejected" and not _is_abandoned(frame, given_up)]


def _is_only_opened(frame: Frame) -> bool:
    """Whether of an implant no more was said than that one was opened."""
    return frame.slots.keys() - PLACE == {"kind"} and ONLY_OPENED in frame.slots["kind"].why


def _join(previous: Frame, frame: Frame) -> None:
    """Adds what a frame says to an earlier one: what was said there stands, what was lent there gives way to what is said here."""
    for name, slot in frame.slots.items():
        if not slot.inherited and (name not in previous.slots or previous.slots[name].inherited):
            previous.slots[name] = slot
    previous.statement = frame.statement


def _is_headed(previous: Frame, frame: Frame, headings: frozenset[int]) -> bool:
    """Whether the talk has turned to another bone in so many words ("Tibia.") since the tunnel before."""
    old, new = previous.slots.get("bone"), frame.slots.get("bone")
    if frame.type != "tunnel" or old is None or new is None or not new.inherited or old.same(new):
        return False
    return new.start in headings and new.start >= previous.end


def _into_the_tunnel(frame: Frame, tunnel: Frame | None) -> None:
    """An implant is in the bone of the tunnel that its statement goes on about ("over the pin seven deep, and a screw in there")."""
    bone = tunnel.slots.get("bone") if tunnel is not None and tunnel.statement == frame.statement else None
    if frame.type == "implant" and bone is not None and not bone.inherited and "bone" in frame.slots and frame.slots["bone"].inherited:
        frame.slots["bone"] = replace(bone, inherited=True, why=("the bone of the tunnel",), superseded=())


def goes_on(previous: Frame, frame: Frame, lexicon: Lexicon) -> bool:
    """Whether a frame is said soon after the last of its kind, names nothing new and contradicts nothing of it."""
    lasts = lexicon.things[frame.type].lasts
    if lasts is None or frame.statement - previous.statement > lasts + _patience(frame):
        return False
    if frame.type == "finding":
        return _same_examination(previous, frame)
    if frame.type == "implant" and is_fate_of(previous, frame, lexicon.words["screws"]):
        return True
    renamed = frame.statement != previous.statement and _is_renamed(frame, lexicon.things[frame.type].renamed_by)
    if renamed and not _was_called_for(previous, frame):
        return False
    if frame.type == "implant" and frame.statement == previous.statement and not NAMES.isdisjoint(frame.slots):
        return False  # dealt apart: "lot K four one, and one more anchor", "the one that came out, one titanium button"
    if _is_a_screw_after_another_implant(previous, frame, lexicon):
        return False
    return not any(_contradicts(previous, frame, name) for name in frame.slots)


def _patience(frame: Frame) -> int:
    """What became of an implant may be said later than the rest: "that screw was taken out again"."""
    return FATE if frame.slots.keys() - PLACE == {"disposition"} else 0


def _is_renamed(frame: Frame, names: Sequence[str]) -> bool:
    return any(name in frame.slots and not frame.slots[name].inherited for name in names)


def _was_called_for(previous: Frame, frame: Frame) -> bool:
    """Whether an implant is the one just called for to a bone: "Tibial button." - "Cortical button, titanium, lot K four one"."""
    called = previous.slots.keys() - PLACE == {"kind"} and CALLED_FOR in previous.slots["kind"].why
    here = "bone" in frame.slots and not frame.slots["bone"].inherited
    soon = frame.statement - previous.statement <= CALLED_LASTS
    return frame.type == "implant" and called and soon and not here and bool(FROM_THE_BOX & frame.slots.keys())


def _is_a_screw_after_another_implant(previous: Frame, frame: Frame, lexicon: Lexicon) -> bool:
    """A diameter by a length is a screw's, not a button's."""
    kind = previous.get("kind")
    return frame.type == "implant" and "length_mm" in frame.slots and kind is not None and kind not in lexicon.words["screws"]


def _contradicts(previous: Frame, frame: Frame, name: str) -> bool:
    """Whether both frames say a slot of their own, and say it differently; a bone lent to a tunnel is left where another is named."""
    old, new = previous.slots.get(name), frame.slots[name]
    if old is None or new.inherited or old.same(new):
        return False
    return not old.inherited or (frame.type, name) in LEFT_BY_NAME


def _same_examination(previous: Frame, frame: Frame) -> bool:
    """Whether a frame only adds a grade, a result or an end point to the examination before it ("... No end point. That's a three.")."""
    exam = frame.slots.get("exam")
    if exam is None or not exam.inherited or exam.value != previous.get("exam") or NEW_EXAMINATION & frame.slots.keys():
        return False
    added = frame.slots.keys() - {"exam", "phase"}
    return bool(added) and added.isdisjoint(previous.slots) and frame.start >= previous.end


def _is_abandoned(frame: Frame, given_up: Sequence[int]) -> bool:
    """Whether a trial of isometry was given up soon after ("four, no, I'm moving the pin")."""
    if frame.type != "isometry" or frame.get("result") == "isometric":
        return False
    return any(0 <= at - frame.statement <= TRIAL for at in given_up)
