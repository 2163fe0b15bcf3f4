"""The linker: which attribute of which thing a quantity fills.

Every attribute of the table that accepts the quantity's kind is a candidate. It is scored by its cue words (how near, on the side
the table says), by the things the statement speaks of, by the range in which its values lie, and against the words beside which it
means something else. The best one wins only when it is good enough and clearly better than the next.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from opnote.extract.model import Candidate, Choice
from opnote.extract.scene import Scene
from opnote.language.model import Quantity
from opnote.language.phrases import Hit
from opnote.lexicon import AttributeEntry, Lexicon

REACH_AFTER, REACH_NEVER = 4, 5  # words within which a cue speaks to a quantity
ENOUGH, MARGIN = 1.15, 0.2
ANCHORS: dict[str, frozenset[str]] = {  # the vocabularies whose words bring a thing up
    "graft": frozenset({"tissue", "source", "strands"}),
    "tunnel": frozenset({"cortices"}),
    "implant": frozenset({"implant kind", "material", "implant disposition"}),
    "tensioning": frozenset({"stress", "rotation"}),
    "finding": frozenset({"exam", "end point"}),
    "isometry": frozenset({"isometry result"}),
    "augmentation": frozenset(),
    "incision": frozenset(),
    "case": frozenset({"antibiotic"}),
}
LENGTH_OR_VOLUME = "mil: mL or mm"  # how the number grammar marks a unit that may be either
LINGERING = frozenset({"graft", "tunnel"})  # stay under discussion for a few statements
TELLING = frozenset({"grade", "force", "pressure", "volume", "duration", "mass"})  # kinds that only few attributes take
NOT_BY_SCORE = frozenset({"postop", "event", "procedure"})  # modules of their own tie these


@dataclass(frozen=True, slots=True)
class Weights:
    """How much each kind of evidence counts; found by hand on the annotated dictations, see tests/benchmarks."""

    cue: float = 2.0
    cue_step: float = 0.22
    comma: float = 0.35
    other_quantity: float = 0.7
    long_cue: float = 0.15
    anchor: float = 1.0
    anchor_step: float = 0.07
    topic: float = 0.35
    lately: float = 0.1
    absent: float = -1.2
    usual: float = 0.4
    outside: float = -1.6
    outside_with_unit: float = -1.0
    bare: float = -0.5
    telling: float = 0.5
    carried: float = 0.5
    counted: float = 0.8
    mode: float = 0.7
    shape: float = 0.9
    never: float = -2.2
    section: float = -1.5


W = Weights()
SECTIONS_AGAINST: dict[str, frozenset[str]] = {  # parts of a dictation in which a thing is not worked on
    "tunnel": frozenset({"preop diagnosis", "postop diagnosis", "indications", "plan", "header", "procedures"}),
    "graft": frozenset({"plan", "preop diagnosis", "postop diagnosis", "indications"}),
    "implant": frozenset({"plan", "preop diagnosis", "postop diagnosis", "indications"}),
    "tensioning": frozenset({"plan", "preop diagnosis", "postop diagnosis", "indications", "header"}),
    "isometry": frozenset({"plan", "indications", "header"}),
    "finding": frozenset({"plan", "indications", "header", "preop diagnosis", "postop diagnosis"}),
    "incision": frozenset({"plan", "indications", "header"}),
    "augmentation": frozenset({"plan", "indications", "header"}),
}


def choose(scene: Scene, lexicon: Lexicon, *, taken: frozenset[int] = frozenset()) -> list[Choice]:
    """A choice for every quantity of a statement but those that begin at ``taken`` tokens (clock times of events)."""
    choices = [_choice(scene, quantity, lexicon) for quantity in scene.quantities if quantity.start not in taken]
    return _listed_pairs(scene, _down_to(scene, _beside_depth(scene, choices, lexicon), lexicon))


def _down_to(scene: Scene, choices: list[Choice], lexicon: Lexicon) -> list[Choice]:
    """ "ream six, to twenty five": a number behind "to" that fits a depth and no diameter, after the diameter of a tunnel."""
    entry = lexicon.attributes[("tunnel", "depth_mm")]
    won = [c.won and (c.won.type, c.won.attribute) for c in choices]
    if ("tunnel", "diameter_mm") not in won or ("tunnel", "depth_mm") in won:
        return choices
    out = list(choices)
    for index in range(won.index(("tunnel", "diameter_mm")) + 1, len(choices)):
        choice = choices[index]
        lead = scene.between(max(scene.statement.start, choice.quantity.start - 1), choice.quantity.start)
        plain = choice.won is None and choice.quantity.kind in ("number", "length") and _range_score(choice.quantity, entry) > 0
        if plain and lead == ("to",) and not never_share(scene, choice.quantity, entry):
            out[index] = replace(
                choice, won=Candidate("tunnel", "depth_mm", W.usual, (("down to", W.usual),)), why="behind the diameter, down to"
            )
            break
    return out


def _listed_pairs(scene: Scene, choices: list[Choice]) -> list[Choice]:
    """ "plugs ten by twenty two and ten by twenty five": the second pair of a list is what the first is."""
    out = list(choices)
    for index in range(1, len(choices)):
        first, second = out[index - 1], choices[index]
        joined = scene.between(first.quantity.end, second.quantity.start) == ("and",)
        if first.won is not None and first.won.attribute == "plug_mm" and joined and second.quantity.kind == "pair":
            out[index] = replace(
                second, won=replace(first.won, parts=(("listed with the one before", first.won.score),)), why="listed with the one before"
            )
    return out


def _beside_depth(scene: Scene, choices: list[Choice], lexicon: Lexicon) -> list[Choice]:
    """ "seven again, twenty five deep": a bare number that fits a diameter, just before the depth of a tunnel, is its diameter."""
    entry = lexicon.attributes[("tunnel", "diameter_mm")]
    won = {(c.won.type, c.won.attribute) for c in choices if c.won}
    if ("tunnel", "depth_mm") not in won or ("tunnel", "diameter_mm") in won:
        return choices
    out = list(choices)
    for index, (first, second) in enumerate(pairwise(choices)):
        deep = second.won is not None and (second.won.type, second.won.attribute) == ("tunnel", "depth_mm")
        bare = first.won is None and first.quantity.kind in ("number", "length") and _range_score(first.quantity, entry) > 0
        if deep and bare and second.quantity.start - first.quantity.end <= 4 and not never_share(scene, first.quantity, entry):
            out[index] = replace(
                first, won=Candidate("tunnel", "diameter_mm", W.usual, (("beside the depth", W.usual),)), why="just before the depth"
            )
    return out


def _choice(scene: Scene, quantity: Quantity, lexicon: Lexicon) -> Choice:
    candidates = sorted(
        (c for entry in lexicon.attributes.values() if (c := _better(scene, quantity, entry, lexicon)) is not None),
        key=lambda c: (-c.score, c.type, c.attribute),
    )
    if not candidates:
        return Choice(quantity, (), None, "no attribute takes this kind of quantity here")
    best = candidates[0]
    if best.score < ENOUGH:
        return Choice(quantity, tuple(candidates), None, f"the best, {best.type}.{best.attribute}, scores {best.score:.2f} of {ENOUGH}")
    rival = next((c for c in candidates[1:] if (c.type, c.attribute) != (best.type, best.attribute)), None)
    if rival is not None and best.score - rival.score < MARGIN:
        why = f"{best.type}.{best.attribute} leads {rival.type}.{rival.attribute} by {best.score - rival.score:.2f} of {MARGIN}"
        return Choice(quantity, tuple(candidates), None, why)
    entry = lexicon.attributes[best.type, best.attribute]
    return Choice(in_centimetres(scene, quantity, entry), tuple(candidates), best, "leads clearly")


def _better(scene: Scene, quantity: Quantity, entry: AttributeEntry, lexicon: Lexicon) -> Candidate | None:
    """The score of a quantity in its own place, or in the place of the value it corrects."""
    own = score(scene, in_centimetres(scene, quantity, entry), entry, lexicon)
    olds = [
        c.old for c in scene.talk.corrected if (c.new.start, c.new.end) == (quantity.start, quantity.end) and isinstance(c.old, Quantity)
    ]
    for old in olds:
        there = score(scene, replace(quantity, start=old.start, end=old.end), entry, lexicon)
        if there is not None and (own is None or there.score > own.score):
            own = replace(there, parts=(*there.parts, ("in the place of what it corrects", 0.0)))
    return own


def in_centimetres(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> Quantity:
    """A bare number in the unit of the length before it ("twenty four centimetres, cut to sixteen"), where millimetres make no sense."""
    if quantity.kind != "number" or entry.unit != "mm" or entry.hard is None or not isinstance(quantity.value, float):
        return quantity
    before = [q for q in scene.quantities if q.end <= quantity.start and q.kind == "length"]
    if not before or before[-1].said is None or before[-1].said[1] != "cm":
        return quantity
    if quantity.value >= entry.hard[0] or not entry.hard[0] <= 10 * quantity.value <= entry.hard[1]:
        return quantity
    return replace(
        quantity,
        kind="length",
        value=10 * quantity.value,
        unit="mm",
        said=(quantity.value, "cm"),
        why=(*quantity.why, "centimetres, as said before it"),
    )


def score(scene: Scene, quantity: Quantity, entry: AttributeEntry, lexicon: Lexicon) -> Candidate | None:
    """One candidate with the parts of its score, or None where the attribute cannot take the quantity."""
    if entry.value != "quantity" or entry.type in NOT_BY_SCORE:
        return None
    if entry.name == "count" and not _countable(quantity):
        return None
    bare = quantity.kind == "number"
    if bare and LENGTH_OR_VOLUME in quantity.why:
        bare = False
        if not set(entry.quantities) & {"length", "volume"}:
            return None
    elif quantity.kind not in entry.quantities and not (bare and entry.bare):
        return None
    if entry.type == "finding" and entry.name == "flexion_deg" and _named(quantity) and not _placed_at(scene, quantity):
        return None
    if bare and entry.unit == "deg" and not _whole_angle(quantity):
        return None
    cue = _pair_cue(scene, quantity, entry, lexicon) if quantity.kind == "pair" else cue_score(scene, quantity, entry)
    named = entry.unit_is_cue and not bare and bool(anchors(scene, entry.type))
    if cue is None and ((entry.needs_cue and not named) or (bare and not _touches_anchor(scene, quantity, entry.type))):
        return None
    parts = [
        ("cue", cue or 0.0),
        ("thing", _anchor_score(scene, quantity, entry.type)),
        ("range", _range_score(quantity, entry)),
        ("mode", _mode_score(scene, entry.type)),
        ("plural", _plural_score(scene, quantity, entry)),
        ("own unit", W.telling if quantity.kind in TELLING else 0.0),
        ("no unit", W.bare if bare else 0.0),
        ("never", W.never * never_share(scene, quantity, entry, trust=_trust(quantity, cue))),
        ("section", W.section if scene.section in SECTIONS_AGAINST.get(entry.type, ()) else 0.0),
    ]
    kept = tuple((name, round(value, 3)) for name, value in parts if value)
    return Candidate(entry.type, entry.name, round(sum(v for _, v in parts), 3), kept)


def _named(quantity: Quantity) -> bool:
    """Whether an angle is said by name ("full extension")."""
    return any(why.startswith("term ") for why in quantity.why)


def _placed_at(scene: Scene, quantity: Quantity) -> bool:
    """Whether an examination is said to be done at a named angle ("stable in full extension"), not to reach it."""
    lead = scene.between(max(scene.statement.start, quantity.start - 1), quantity.start)
    return (
        bool({"in", "at", "with"} & {*lead, scene.talk.words[quantity.start]})
        or quantity.start == scene.statement.start
        or bool({"knee", "dead", "out"} & {scene.talk.words[quantity.start]})
    )


def _whole_angle(quantity: Quantity) -> bool:
    """Angles of the knee are said in steps of five degrees; another number without its unit is no angle (common practice)."""
    values = [v for v in (quantity.value, quantity.low, quantity.high) if isinstance(v, (int, float))]
    return all(v % 5 == 0 for v in values)


def _pair_cue(scene: Scene, quantity: Quantity, entry: AttributeEntry, lexicon: Lexicon) -> float | None:
    """A pair is announced by the cues of either of its two attributes ("seven by twenty-five deep")."""
    other = lexicon.attributes.get((entry.type, "depth_mm" if entry.type == "tunnel" else "length_mm"))
    scores = [cue_score(scene, quantity, e) for e in (entry, other) if e is not None]
    return max((s for s in scores if s is not None), default=None)


def _trust(quantity: Quantity, cue: float | None) -> float:
    """How much a word behind the quantity that means something else counts: less beside a cue right at hand, and beside a pair."""
    return 0.4 if quantity.kind == "pair" or (cue is not None and cue >= W.cue - W.cue_step) else 1.0


def cue_score(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> float | None:
    """How strongly the nearest cue word of an attribute speaks to a quantity; None without one in reach."""
    best: float | None = None
    for hit in cues(scene, entry):
        if quantity.start <= hit.start and hit.end <= quantity.end:  # its own unit is the cue ("twenty cycles")
            best = W.cue
            continue
        side_before = hit.use in ("before", "near") and hit.end <= quantity.start
        side_after = hit.use in ("after", "near") and hit.start >= quantity.end
        if not (side_before or side_after):
            continue
        left, right = (hit.end, quantity.start) if side_before else (quantity.end, hit.start)
        if right - left > (entry.reach if side_before else REACH_AFTER):
            continue
        far = 7 / entry.reach if side_before and entry.reach > 7 else 1.0
        value = (
            W.cue
            - _step(entry, before=side_before) * (right - left)
            - far * _between_cost(scene, left, right)
            + W.long_cue * (hit.end - hit.start - 1)
        )
        best = value if best is None else max(best, value)
    return best if best is not None else _carried(scene, quantity, entry)


def _step(entry: AttributeEntry, *, before: bool) -> float:
    """What a word of distance costs: less where the table lets a cue reach farther."""
    return W.cue_step * 7 / entry.reach if before and entry.reach > 7 else W.cue_step


def _carried(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> float | None:
    """The strength of a cue at the end of the statement before ("Tunnel length? ... forty-four")."""
    ends = [h for h in scene.before if h.entry is entry and h.use == "before"]
    first = min((q.start for q in scene.quantities), default=quantity.start)
    if not ends or quantity.start > first:
        return None
    hit = max(ends, key=lambda h: (h.end, h.end - h.start))
    gap = quantity.start - hit.end
    if gap > entry.reach:
        return None
    return W.cue - W.carried - _step(entry, before=True) * gap + W.long_cue * (hit.end - hit.start - 1)


def cues(scene: Scene, entry: AttributeEntry) -> Iterable[Hit]:
    """The hits of an attribute's cue words, and of the vocabularies it names with an @."""
    yield from (h for h in scene.hits if h.entry is entry and h.use in ("before", "after", "near"))
    for use in ("before", "after", "near"):
        kinds = {said[1:] for said in getattr(entry, use) if said.startswith("@")}
        yield from (Hit(m.start, m.end, use, entry) for m in scene.mentions if m.kind in kinds)


def never_share(scene: Scene, quantity: Quantity, entry: AttributeEntry, *, trust: float = 1.0) -> float:
    """How much (0 to 1) a word that means something else stands beside the quantity, with no other quantity nearer to it."""
    worst = 0.0
    for hit in scene.hits:
        if hit.use != "never" or hit.entry is not entry:
            continue
        left, right = (hit.end, quantity.start) if hit.end <= quantity.start else (quantity.end, hit.start)
        if left > right or right - left > REACH_NEVER or _others(scene, left, right):
            continue
        if any(o.entry is entry and o.use in ("before", "after", "near") and o.start <= hit.start and hit.end <= o.end for o in scene.hits):
            continue  # part of a cue ("over the pin")
        stop = any(w in (",", "and", "then") for w in scene.between(left, right))
        behind = trust if hit.start >= quantity.end or quantity.kind == "pair" else 1.0
        worst = max(worst, (1.0 - 0.15 * (right - left)) * (0.2 if stop else 1.0) * behind)
    return worst


def _between_cost(scene: Scene, left: int, right: int) -> float:
    gap = scene.between(left, right)
    commas = sum(word in (",", "and") for word in gap) + 2 * sum(word == "then" for word in gap)
    return W.comma * commas + W.other_quantity * _others(scene, left, right)


def _others(scene: Scene, left: int, right: int) -> int:
    """Quantities between two places that might claim a cue; those that say what they are (a clock time, a date) do not."""
    return sum(
        left <= q.start and q.end <= right for q in scene.quantities if q.kind not in ("ordinal", "clock", "date", "suture size", "age")
    )


def anchors(scene: Scene, kind: str) -> list[tuple[int, int]]:
    """Where a statement brings a kind of thing up."""
    words = ANCHORS.get(kind, frozenset())
    if kind == "tensioning" and scene.mode == "testing":
        words = frozenset({"rotation"})
    return [(m.start, m.end) for m in scene.mentions if m.kind in words or (m.kind == "opens" and m.value == kind)]


def _countable(quantity: Quantity) -> bool:
    """Things are counted in whole numbers from two."""
    return isinstance(quantity.value, (int, float)) and quantity.value >= 2 and quantity.value == int(quantity.value)


def _plural_score(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> float:
    """Before a plural ("two anchors") a whole number counts; before a singular it measures."""
    if entry.type != "implant" or quantity.kind != "number" or entry.name not in ("count", "diameter_mm"):
        return 0.0
    kinds = [m for m in scene.of("implant kind") if 0 <= m.start - quantity.end <= 4]
    if not kinds:
        return 0.0
    plural = scene.talk.words[kinds[0].end - 1].endswith("s") and _countable(quantity)
    return W.counted if plural == (entry.name == "count") else -W.counted


def _mode_score(scene: Scene, kind: str) -> float:
    """A statement that holds a fixation speaks for tensioning and against findings, one that tests a ligament the other way."""
    if kind not in ("tensioning", "finding") or not scene.mode:
        return 0.0
    return W.mode if (scene.mode == "holding") == (kind == "tensioning") else -W.mode


def _distance(places: Sequence[tuple[int, int]], quantity: Quantity) -> int | None:
    return min((max(start - quantity.end, quantity.start - end, 0) for start, end in places), default=None)


def _anchor_score(scene: Scene, quantity: Quantity, kind: str) -> float:
    if kind == "case":
        return 0.3
    distance = _distance(anchors(scene, kind), quantity)
    if kind == "implant" and quantity.kind == "pair" and _screw_like(quantity):
        return max(W.shape, W.anchor - W.anchor_step * (distance or 0))  # "nine by thirty" is how a screw is asked for
    if distance is not None:
        return max(0.2, W.anchor - W.anchor_step * distance)
    topical = kind in scene.topics or (kind == "finding" and scene.exam is not None) or bool(ANCHORS.get(kind, frozenset()) & scene.topics)
    if topical:
        return W.topic
    lately = kind in scene.recent or bool(ANCHORS.get(kind, frozenset()) & scene.recent)
    return W.lately if lately and kind in LINGERING else W.absent


def _touches_anchor(scene: Scene, quantity: Quantity, kind: str) -> bool:
    distance = _distance(anchors(scene, kind), quantity)
    return distance is not None and distance <= 2


def _screw_like(pair: Quantity) -> bool:
    """Whether a pair has the proportions of a screw: thin and longer than thick."""
    first, second = (part.value for part in pair.parts)
    return isinstance(first, float) and isinstance(second, float) and 3.5 <= first <= 12 and 10 <= second <= 60 and second > first


def _range_score(quantity: Quantity, entry: AttributeEntry) -> float:
    if quantity.kind == "pair" and entry.type in ("implant", "tunnel"):
        return W.usual if _screw_like(quantity) else 0.0
    values = [v for v in (quantity.low, quantity.high, quantity.value) if isinstance(v, (int, float)) and not isinstance(v, bool)]
    if not values or entry.usual is None:
        return 0.0
    if all(entry.usual[0] <= v <= entry.usual[1] for v in values):
        return W.usual
    hard = entry.hard or entry.usual
    if all(hard[0] <= v <= hard[1] for v in values):
        return 0.0
    return (
        W.outside if quantity.kind == "number" else W.outside_with_unit
    )  # a slip stays as said; a bare number is more likely something else
