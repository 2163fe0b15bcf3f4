"""Events with their clock: time out, antibiotic, tourniquet, incision, fixation, closure, end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention
from opnote.language.model import Quantity
from opnote.language.terms import Mention

WITHOUT_CLOCK = frozenset({"time out", "tourniquet up", "tourniquet down"})
REACH = 9
NOON = 12 * 60
SHORT = 9  # words of a statement that says little more than a clock time
LINKS = frozenset(
    {
        "at",
        "as",
        "got",
        "i",
        "'ve",
        "have",
        "please",
        "everybody",
        "everyone",
        "up",
        "down",
        "went",
        "in",
        "given",
        "going",
        "it",
        "'s",
        "is",
        "was",
        "time",
        ",",
        ":",
        "now",
        "from",
        "the",
        "held",
        "done",
        "being",
        "on",
        "and",
        "performed",
        "called",
        "of",
        "a",
    }
)


def events(scene: Scene) -> list[Frame]:
    """The events of a statement; those that need a clock only with one."""
    if scene.section == "indications":
        return []
    mentions = scene.of("event")
    clocks = [q for q in scene.quantities if clock_of(q)]
    frames: list[Frame] = []
    for index, mention in enumerate(mentions):
        following = mentions[index + 1].start if index + 1 < len(mentions) else scene.statement.end
        clock = _clock(scene, mention, clocks, following)
        if clock is None and mention.value not in WITHOUT_CLOCK:
            continue
        frame = Frame("event", scene.statement.index)
        frame.slots["name"] = from_mention("name", mention)
        if clock is not None:
            frame.slots["clock"] = Slot("clock", clock.start, clock.end, clock_of(clock), why=clock.why)
        frames.append(frame)
    frames += _cuffs(scene, clocks, frames)
    return frames + _antibiotic(scene, clocks, frames)


def clock_of(quantity: Quantity) -> str | None:
    """The clock time a quantity is or may be ("eight fifty two" beside an event)."""
    if quantity.kind == "clock" and isinstance(quantity.value, str):
        return quantity.value
    return next((why.removeprefix("clock=") for why in quantity.why if why.startswith("clock=")), None)


def _clock(scene: Scene, mention: Mention, clocks: list[Quantity], following: int) -> Quantity | None:
    after = [q for q in clocks if mention.end <= q.start < following and q.start - mention.end <= REACH and _linked(scene, mention.end, q)]
    if after:
        return after[0]
    before = [q for q in clocks if q.end <= mention.start and mention.start - q.end <= 2 and _begins(scene, q.start)]
    return before[-1] if before else None


def _begins(scene: Scene, place: int) -> bool:
    """Whether a place begins a statement or a part of one: a clock time there leads, it does not follow ("in at ten, time out done")."""
    return place == scene.statement.start or scene.talk.words[place - 1] in (",", ":", ";")


def _cuffs(scene: Scene, clocks: list[Quantity], frames: list[Frame]) -> list[Frame]:
    """ "tourniquet up at five past eight, down at nine forty-two": the word before each clock time tells which it is."""
    if not {"tourniquet", "cuff"} & set(scene.words):
        return []
    taken = {f.slots["clock"].start for f in frames if "clock" in f.slots}
    out = []
    for clock in clocks:
        lead = scene.between(max(scene.statement.start, clock.start - 2), clock.start)
        word = next((w for w in reversed(lead) if w in ("up", "down")), None)
        if word is None or clock.start in taken or clock.kind != "clock":
            continue
        at = clock.start - 1 - list(reversed(lead)).index(word)
        named = [f for f in frames if f.get("name") == f"tourniquet {word}" and "clock" not in f.slots]
        frame = (
            named[0]
            if named
            else Frame(
                "event", scene.statement.index, {"name": Slot("name", at, at + 1, f"tourniquet {word}", why=("said of the tourniquet",))}
            )
        )
        frame.slots["clock"] = Slot("clock", clock.start, clock.end, clock_of(clock), why=clock.why)
        if not named:
            out.append(frame)
    return out


def answered(frames: Sequence[Frame], scenes: Sequence[Scene]) -> None:
    """A time out without a clock takes the one said right after it in a statement of its own ("Time out, please. It's ten past two.")."""
    by_index = {scene.statement.index: scene for scene in scenes}
    used = {f.slots["clock"].start for f in frames if "clock" in f.slots}
    for frame in frames:
        if frame.type != "event" or "clock" in frame.slots:
            continue
        for later in (frame.statement, frame.statement + 1, frame.statement + 2):
            scene = by_index.get(later)
            clocks = [q for q in scene.quantities if clock_of(q) and q.start not in used and q.start >= frame.end] if scene else []
            short = (
                scene is not None
                and bool(clocks)
                and (scene.statement.end - scene.statement.start <= SHORT or clocks[0].start - scene.statement.start <= 3)
            )
            if scene is not None and later > frame.statement and scene.of("event"):
                break
            if scene is not None and {"tourniquet", "cuff"} & set(scene.words) and clocks and clocks[0].kind != "clock":
                break
            if len(clocks) == 1 and (short or (later == frame.statement and clocks[0].kind == "clock")):
                frame.slots["clock"] = Slot(
                    "clock", clocks[0].start, clocks[0].end, clock_of(clocks[0]), why=(*clocks[0].why, "said right after")
                )
                used.add(clocks[0].start)
                break


def _linked(scene: Scene, left: int, clock: Quantity) -> bool:
    """A plain clock time may stand anywhere in reach; one that may be a number only behind words like "at"."""
    gap = scene.between(left, clock.start)
    return clock.kind == "clock" or not gap or set(gap) <= LINKS


def afternoon(frames: Sequence[Frame]) -> list[Frame]:
    """The frames with the clock of the afternoon where another event is said in 24 hours ("thirteen oh five ... ten past three")."""
    anchors = [_minutes(f.slots["clock"].value) for f in frames if f.type == "event" and "clock" in f.slots]
    late = [m for m in anchors if m >= NOON]
    for frame in frames:
        slot = frame.slots.get("clock") if frame.type == "event" else None
        if slot is None or not late or _minutes(slot.value) >= NOON or any(w in ("am", "oh-prefixed") for w in slot.why):
            continue
        minutes = _minutes(slot.value)
        if min(abs(minutes + NOON - m) for m in late) < min(abs(minutes - m) for m in late):
            clock = f"{minutes // 60 + 12:02d}:{minutes % 60:02d}"
            frame.slots["clock"] = replace(slot, value=clock, why=(*slot.why, "afternoon, as the other times are"))
    return list(frames)


def _minutes(clock: object) -> int:
    hours, minutes = str(clock).split(":")
    return 60 * int(hours) + int(minutes)


def _antibiotic(scene: Scene, clocks: list[Quantity], taken: list[Frame]) -> list[Frame]:
    """ "cefazolin two grams, that went in at oh seven thirty one": the drug's clock."""
    used = {frame.slots["clock"].start for frame in taken if "clock" in frame.slots}
    for drug in scene.of("antibiotic"):
        for clock in clocks:
            gap = set(scene.between(drug.end, clock.start))
            if (
                clock.kind == "clock"
                and clock.start not in used
                and 0 <= clock.start - drug.end <= 14
                and not gap & {"tourniquet", "incision", "cuff"}
            ):
                frame = Frame("event", scene.statement.index)
                frame.slots["name"] = Slot("name", drug.start, drug.end, "antibiotic given", why=("the drug with its clock",))
                frame.slots["clock"] = Slot("clock", clock.start, clock.end, clock_of(clock), why=clock.why)
                return [frame]
    return []
