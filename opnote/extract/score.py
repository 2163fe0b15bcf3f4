"""The score of one candidate: an attribute that a quantity might fill, with the parts that speak for and against it."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.extract.cues import cue_score, never_share
from opnote.extract.model import Candidate
from opnote.extract.scene import Scene, apart
from opnote.language.model import Quantity
from opnote.lexicon import AttributeEntry

LENGTH_OR_VOLUME = "mil: mL or mm"  # how the number grammar marks a unit that may be either
TELLING = frozenset({"grade", "force", "pressure", "volume", "duration", "mass"})  # kinds that only few attributes take
STEP_DEG = 5  # angles of the knee are said in steps of five degrees (common practice)
BESIDE = 2  # words within which a thing stands right beside a quantity
PLURAL_WITHIN = 4  # words between a count and what is counted ("two double-loaded anchors")
SIZES = {"implant": ("diameter_mm", "length_mm"), "tunnel": ("diameter_mm", "depth_mm")}
FEW = 3  # a bare number up to this is no such size
PAIR = 2  # numbers that size a thing ("seven by twenty three")
THIN_MM, LONG_MM = (3.5, 12), (10, 60)  # a screw's diameter and length


def score(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> Candidate | None:
    """One candidate with the parts of its score, or None where the attribute cannot take the quantity."""
    if not can_take(scene, quantity, entry):
        return None
    cue = _pair_cue(scene, quantity, entry) if quantity.kind == "pair" else cue_score(scene, quantity, entry)
    if cue is None and not _speaks_for_itself(scene, quantity, entry):
        return None
    parts = list(_parts(scene, quantity, entry, cue))
    kept = tuple((name, round(value, 3)) for name, value in parts if value)
    return Candidate(entry.type, entry.name, round(sum(value for _, value in parts), 3), kept)


def _parts(scene: Scene, quantity: Quantity, entry: AttributeEntry, cue: float | None) -> Iterator[tuple[str, float]]:
    weights, thing = scene.weights, scene.lexicon.things[entry.type]
    trust = weights.trusted if quantity.kind == "pair" or (cue is not None and cue >= weights.cue - weights.cue_step) else 1.0
    yield "cue", cue or 0.0
    yield "thing", anchor_score(scene, quantity, entry.type)
    yield "range", range_score(scene, quantity, entry)
    yield "mode", _mode_score(scene, entry.type)
    yield "plural", plural_score(scene, quantity, entry)
    yield "own unit", weights.telling if quantity.kind in TELLING else 0.0
    yield "no unit", weights.bare if is_bare(quantity) else 0.0
    yield "never", weights.never * never_share(scene, quantity, entry, trust=trust)
    yield "section", weights.section if scene.section in thing.hardly_in else 0.0


def can_take(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> bool:
    """Whether an attribute takes such a quantity at all: by its kind, its unit, and what a count or an angle is."""
    if entry.value != "quantity" or not scene.lexicon.things[entry.type].by_score:
        return False
    if not _kind_fits(quantity, entry) or (entry.name == "count" and not _countable(quantity)):
        return False
    if quantity.kind == "pair" and len(quantity.parts) != PAIR:
        return False  # "seven by twenty by thirty" sizes no thing of the table
    if entry.name in SIZES.get(entry.type, ()) and _is_how_many(quantity):
        return False
    if is_bare(quantity) and entry.unit == "deg" and not _whole_angle(quantity):
        return False
    examined_at = entry.type == "finding" and entry.unit == "deg"
    return not examined_at or not _named(quantity) or _placed_at(scene, quantity)


def _is_how_many(quantity: Quantity) -> bool:
    """Whether a number beside a thing counts it ("one anchor", "two drill holes"): what is measured so thin is said with its unit."""
    value = quantity.value
    return is_bare(quantity) and isinstance(value, float) and value.is_integer() and value <= FEW


def is_bare(quantity: Quantity) -> bool:
    """Whether a quantity is a mere number: no unit was said, not even one that may be two things."""
    return quantity.kind == "number" and LENGTH_OR_VOLUME not in quantity.why


def _kind_fits(quantity: Quantity, entry: AttributeEntry) -> bool:
    if LENGTH_OR_VOLUME in quantity.why and quantity.kind == "number":
        return bool({*entry.quantities} & {"length", "volume"})
    return quantity.kind in entry.quantities or (entry.bare and quantity.kind == "number")


def _speaks_for_itself(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> bool:
    """Whether a quantity may fill an attribute without any of its cue words.

    With its unit it may where the table asks for no cue, or where the thing is named and the unit is cue enough; without, only
    right beside the thing.
    """
    if is_bare(quantity):
        return not entry.needs_cue and any(apart(quantity, anchor) <= BESIDE for anchor in scene.anchors[entry.type])
    return not entry.needs_cue or (entry.unit_is_cue and (bool(scene.anchors[entry.type]) or scene.brings_up_next(entry.type)))


def _named(quantity: Quantity) -> bool:
    """Whether an angle is said by name ("full extension")."""
    return any(why.startswith("term ") for why in quantity.why)


def _placed_at(scene: Scene, quantity: Quantity) -> bool:
    """Whether an examination is said to be done at a named angle ("stable in full extension"), not to reach it."""
    first = scene.talk.words[quantity.start]
    placed = {first, *scene.lead(quantity.start, 1)} & scene.words_of("done-at-an-angle")
    return bool(placed) or quantity.start == scene.statement.start or first in scene.words_of("position-of-the-knee")


def _whole_angle(quantity: Quantity) -> bool:
    """Whether a number can be an angle of the knee though no unit is said."""
    values = [v for v in (quantity.value, quantity.low, quantity.high) if isinstance(v, (int, float))]
    return all(v % STEP_DEG == 0 for v in values)


def _countable(quantity: Quantity) -> bool:
    """Whether a quantity can count things: a whole number from two."""
    return isinstance(quantity.value, (int, float)) and quantity.value >= 2 and quantity.value == int(quantity.value)


def _pair_cue(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> float | None:
    """A pair is announced by the cues of either of its two attributes ("seven by twenty-five deep")."""
    second = scene.lexicon.attributes.get((entry.type, scene.lexicon.things[entry.type].second))
    scores = [cue_score(scene, quantity, e) for e in (entry, second) if e is not None]
    return max((s for s in scores if s is not None), default=None)


def plural_score(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> float:
    """Before a plural ("two anchors") a whole number counts; before a singular it measures."""
    if entry.type != "implant" or quantity.kind != "number" or entry.name not in ("count", "diameter_mm"):
        return 0.0
    kinds = [m for m in scene.of("implant kind") if 0 <= m.start - quantity.end <= PLURAL_WITHIN]
    if not kinds:
        return 0.0
    plural = scene.talk.words[kinds[0].end - 1].endswith("s") and _countable(quantity)
    return scene.weights.counted if plural == (entry.name == "count") else -scene.weights.counted


def _mode_score(scene: Scene, kind: str) -> float:
    """A statement that holds a fixation speaks for tensioning and against findings, one that tests a ligament the other way."""
    mode = scene.lexicon.things[kind].mode
    if not mode or not scene.mode:
        return 0.0
    return scene.weights.mode if scene.mode == mode else -scene.weights.mode


def anchor_score(scene: Scene, quantity: Quantity, kind: str) -> float:
    """How much a type of thing is under discussion where the quantity stands."""
    weights = scene.weights
    if kind == "case":
        return weights.case
    distance = min((apart(quantity, anchor) for anchor in scene.anchors[kind]), default=0 if scene.brings_up_next(kind) else None)
    near = _topic_score(scene, kind) if distance is None else max(weights.anchor_least, weights.anchor - weights.anchor_step * distance)
    return max(near, weights.shape) if quantity.kind == "pair" and screw_like(quantity) and kind == _sized_in_pairs(scene) else near


def _sized_in_pairs(scene: Scene) -> str:
    """The thing that "nine by thirty" sizes where nothing else tells: that is how a screw is asked for, unless the talk was of a tunnel."""
    if scene.anchors["implant"] or scene.anchors["tunnel"]:
        return "implant"
    of_a_tunnel = _topic_score(scene, "tunnel") == scene.weights.topic and _topic_score(scene, "implant") != scene.weights.topic
    return "tunnel" if of_a_tunnel else "implant"


def _topic_score(scene: Scene, kind: str) -> float:
    """How much a thing that the statement itself does not bring up is still the topic."""
    thing, focus = scene.lexicon.things[kind], scene.focus
    signs = {kind, *thing.opened_by}
    in_hand = kind == "graft" and focus.bench is not None
    if signs & focus.topics or in_hand or (kind == "finding" and focus.exam is not None):
        return scene.weights.topic
    return scene.weights.lately if thing.lingers and signs & focus.heard.keys() else scene.weights.absent


def screw_like(pair: Quantity) -> bool:
    """Whether a pair has the proportions of a screw: thin, and longer than thick."""
    firsts, seconds = (part.readings or (part.value,) for part in pair.parts)
    return any(_is_screw_like(first, second) for first in firsts for second in seconds)


def _is_screw_like(first: float | str | None, second: float | str | None) -> bool:
    if not isinstance(first, float) or not isinstance(second, float):
        return False
    return THIN_MM[0] <= first <= THIN_MM[1] and LONG_MM[0] <= second <= LONG_MM[1] and second > first


def range_score(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> float:
    """How plausible the value is. A slip stays as said: with its unit it loses less, for a bare number is more likely something else."""
    weights = scene.weights
    if quantity.kind == "pair" and entry.type in ("implant", "tunnel"):
        return weights.usual if screw_like(quantity) else 0.0
    values = [v for v in (quantity.low, quantity.high, quantity.value) if isinstance(v, (int, float)) and not isinstance(v, bool)]
    if not values or entry.usual is None:
        return 0.0
    low, high = min(values), max(values)
    if entry.usual[0] <= low and high <= entry.usual[1]:
        return weights.usual
    hard = entry.hard or entry.usual
    if hard[0] <= low and high <= hard[1]:
        return 0.0
    return weights.outside if quantity.kind == "number" else weights.outside_with_unit
