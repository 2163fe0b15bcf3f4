"""Events with their clock: time out, antibiotic, tourniquet, incision, fixation, closure, end."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import zip_longest

from opnote.extract.clocks import clock_of, clock_slot
from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention
from opnote.language.model import Quantity
from opnote.language.terms import Mention

BEHIND, IN_FRONT = 9, 2  # words between an event and its clock time
DRUG_TO_CLOCK = 14  # words between a drug and the time at which it went in
UP_OR_DOWN = 2  # words before a clock time among which "up" or "down" tells which end of the tourniquet it is
ANSWERED_WITHIN = 2  # statements after a time out in which its clock time is said
SHORT = 9  # words of a statement that says little more than a clock time
SOON = 3  # words before a clock time with which a longer statement begins
ADDRESSED = 1  # words of a called-out time that may be anything: a name
PAUSES = (",", ":", ";")


def events(scene: Scene) -> list[Frame]:
    """The events of a statement; those that need a clock only with one ("incision at oh eight twelve")."""
    if scene.barred("event"):
        return []
    clocks = [q for q in scene.quantities if clock_of(q)]
    mentions = scene.of("event")
    frames: list[Frame] = []
    for mention, following in zip_longest(mentions, mentions[1:]):
        clock = _clock(scene, mention, clocks, following.start if following else scene.statement.end)
        if clock is not None or mention.value in scene.words_of("events-without-clock"):
            frames.append(_of_a_ligament(scene, _frame(scene, from_mention("name", mention), clock)))
    frames += _of_the_cuff(scene, clocks, frames)
    return frames + _of_the_antibiotic(scene, clocks, taken_clocks(frames))


def taken_clocks(frames: Sequence[Frame]) -> frozenset[int]:
    """The tokens at which the clock times of frames begin."""
    return frozenset(frame.slots["clock"].start for frame in frames if "clock" in frame.slots)


def _of_a_ligament(scene: Scene, frame: Frame) -> Frame:
    """ "ACL graft fixed, fourteen twenty-eight": an event that happens for each ligament is of the one that its statement names."""
    named = scene.of("structure")
    if frame.get("name") in scene.words_of("events-of-one-ligament") and len({structure.value for structure in named}) == 1:
        frame.slots["structure"] = from_mention("structure", named[0])
    return frame


def _frame(scene: Scene, name: Slot, clock: Quantity | None) -> Frame:
    return Frame("event", scene.statement.index, {"name": name} | ({"clock": clock_slot(clock)} if clock is not None else {}))


def _clock(scene: Scene, mention: Mention, clocks: Sequence[Quantity], following: int) -> Quantity | None:
    """The clock time of an event: behind it and before the next event, else just before it."""
    for clock in clocks:
        behind = mention.end <= clock.start < following and clock.start - mention.end <= BEHIND
        if behind and _linked(scene, mention.end, clock):
            return clock
    before = [q for q in clocks if q.end <= mention.start and _points_at(scene, q.end, mention.start) and _begins(scene, q.start)]
    return before[-1] if before else None


def _points_at(scene: Scene, left: int, right: int) -> bool:
    """Whether an event follows its clock time at once, or is pointed at ("ten oh two, that's the end of surgery")."""
    return right - left <= IN_FRONT or scene.words_of("points-at-an-event").issuperset(scene.between(left, right))


def _linked(scene: Scene, left: int, clock: Quantity) -> bool:
    """A plain clock time may stand anywhere in reach; one that may be a number, or what follows a pause, only behind words like "at"."""
    places = [clock.start, *(c.old.start for c in scene.talk.corrected if c.new.start == clock.start and left <= c.old.start)]
    parted = scene.between(left - 1, left) == (",",)  # "finished, ten oh two": nothing else may have been finished
    return (clock.kind == "clock" and not parted) or scene.words_of("links-to-a-clock").issuperset(scene.between(left, min(places)))


def _begins(scene: Scene, place: int) -> bool:
    """Whether a place begins a statement or a part of one: a clock time there leads, it does not follow ("in at ten, time out done")."""
    return place == scene.statement.start or scene.talk.words[place - 1] in PAUSES


def _of_the_cuff(scene: Scene, clocks: Sequence[Quantity], frames: Sequence[Frame]) -> list[Frame]:
    """ "tourniquet up at five past eight, down at nine forty-two": the word before each clock time tells which it is."""
    if not scene.says("cuff"):
        return []
    taken = taken_clocks(frames)
    made: list[Frame] = []
    for clock in clocks:
        name = _up_or_down(scene, clock)
        if name is None or clock.kind != "clock" or clock.start in taken:
            continue
        named = next((f for f in frames if f.get("name") == name.value and "clock" not in f.slots), None)
        if named is None:
            made.append(_frame(scene, name, clock))
        else:
            named.slots["clock"] = clock_slot(clock)
    return made


def _up_or_down(scene: Scene, clock: Quantity) -> Slot | None:
    """The end of the tourniquet that the word before a clock time tells."""
    for place in range(clock.start - 1, max(scene.statement.start, clock.start - UP_OR_DOWN) - 1, -1):
        word = scene.talk.words[place]
        if word in ("up", "down"):
            return Slot("name", place, place + 1, f"tourniquet {word}", why=("said of the tourniquet",))
    return None


def _of_the_antibiotic(scene: Scene, clocks: Sequence[Quantity], taken: Collection[int]) -> list[Frame]:
    """ "cefazolin two grams, that went in at oh seven thirty one": the drug's clock."""
    for drug in scene.of("antibiotic"):
        for clock in clocks:
            free = clock.kind == "clock" and clock.start not in taken and 0 <= clock.start - drug.end <= DRUG_TO_CLOCK
            if free and scene.words_of("not-the-drugs-clock").isdisjoint(scene.between(drug.end, clock.start)):
                name = Slot("name", drug.start, drug.end, "antibiotic given", why=("the drug with its clock",))
                return [_frame(scene, name, clock)]
    return []


def answered(frames: Sequence[Frame], scenes: Sequence[Scene]) -> list[Frame]:
    """The frames, a time out without a clock taking the one said right after it ("Time out, please. It's ten past two."), and the
    events that are told only so ("Knife to skin." - "Nine twenty-eight.").
    """
    events_ = [frame for frame in frames if frame.type == "event"]
    used = {*taken_clocks(frames)}
    for frame in events_:
        if "clock" not in frame.slots:
            _take(frame, _answer(frame, scenes, used), used)
    called = _called(events_, scenes)
    return [*frames, *(frame for frame in called if _take(frame, _answer(frame, scenes, used, alone=True), used))]


def _take(frame: Frame, clock: Quantity | None, used: set[int]) -> bool:
    """Gives an event the clock time that answers it, if there is one."""
    if clock is not None:
        frame.slots["clock"] = clock_slot(clock, "said right after")
        used.add(clock.start)
    return clock is not None


def _called(frames: Sequence[Frame], scenes: Sequence[Scene]) -> list[Frame]:
    """The events that a short statement tells or asks the time of, and that count only with their clock."""
    held = {frame.statement for frame in frames}
    found = []
    for scene in scenes:
        named = [m for m in scene.spoken if m.kind == "event" and m.value not in scene.words_of("events-without-clock")]
        brief = len(scene.words) <= SHORT and not scene.quantities
        if len(named) == 1 and brief and scene.statement.index not in held and not scene.barred("event"):
            found.append(_frame(scene, from_mention("name", named[0]), None))
    return found


def _answer(frame: Frame, scenes: Sequence[Scene], used: Collection[int], *, alone: bool = False) -> Quantity | None:
    """The clock time that answers an event, in its own statement or one of the next, before anything else happens.

    ``alone``: the statement of the clock time must say nothing else.
    """
    for scene in scenes[frame.statement : frame.statement + ANSWERED_WITHIN + 1]:
        own = scene.statement.index == frame.statement
        clocks = [q for q in scene.quantities if clock_of(q) and q.start not in used and q.start >= frame.end]
        if scene.of("event") and not own:
            return None
        if clocks and clocks[0].kind != "clock" and (scene.says("cuff") or frame.get("name") in scene.words_of("events-of-the-cuff")):
            return None  # "Tourniquet up. Two fifty." is its pressure
        if len(clocks) == 1 and (_says_little_else(scene, clocks[0]) or (own and clocks[0].kind == "clock")):
            return clocks[0] if not alone or _says_the_time(scene, clocks[0]) else None
    return None


def _says_the_time(scene: Scene, clock: Quantity) -> bool:
    """Whether the statement of a clock time says the time alone, to somebody perhaps ("Eleven forty-nine, sister, note it down.")."""
    words = (*scene.between(scene.statement.start, clock.start), *scene.between(clock.end, scene.statement.end))
    return sum(word.isalnum() and word not in scene.words_of("around-a-clock") for word in words) <= ADDRESSED


def _says_little_else(scene: Scene, clock: Quantity) -> bool:
    """Whether a statement is short, or begins with its clock time."""
    return len(scene.words) <= SHORT or clock.start - scene.statement.start <= SOON
