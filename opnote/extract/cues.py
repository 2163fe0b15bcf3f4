"""Cue words: how strongly the words around a quantity speak for an attribute, or against it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.scene import Scene, holds
from opnote.language.model import Quantity
from opnote.language.phrases import Hit
from opnote.lexicon import AttributeEntry

REACH_BEHIND = 4  # words within which a cue behind a quantity speaks to it; in front of it the table tells
REACH_NEVER = 5  # words within which a word that means something else does
USUAL_REACH = 7  # an attribute with a longer reach loses less for each word between
USES = ("before", "after", "near")
SILENT = ("ordinal", "clock", "date", "suture size", "age")  # quantities that say what they are: they claim no cue


def cue_score(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> float | None:
    """How strongly the nearest cue word of an attribute speaks to a quantity; None without one in reach."""
    scores = [value for hit in cues(scene, entry) if (value := _spoken_to(scene, quantity, entry, hit)) is not None]
    return max(scores, default=None) if scores else _carried(scene, quantity, entry)


def cues(scene: Scene, entry: AttributeEntry) -> Iterator[Hit]:
    """The hits of an attribute's cue words that are not said of something denied or foreign, and of the vocabularies it names with an @."""
    yield from (hit for hit in scene.hits_of(entry) if hit.use in USES and scene.stands(hit))
    yield from (Hit(m.start, m.end, use, entry) for use, kind in entry.vocabularies for m in scene.of(kind))


def _spoken_to(scene: Scene, quantity: Quantity, entry: AttributeEntry, hit: Hit) -> float | None:
    """How strongly one cue speaks to a quantity: by its distance, what stands between, and its length."""
    if holds(quantity, hit):  # its own unit is the cue ("twenty cycles")
        return scene.weights.cue
    in_front = hit.use != "after" and hit.end <= quantity.start
    behind = hit.use != "before" and hit.start >= quantity.end
    if not (in_front or behind):
        return None
    left, right = (hit.end, quantity.start) if in_front else (quantity.end, hit.start)
    if right - left > (entry.reach if in_front else REACH_BEHIND):
        return None
    ease = _ease(entry) if in_front else 1.0
    cost = scene.weights.cue_step * (right - left) + _cost_between(scene, left, right)
    return scene.weights.cue - ease * cost + scene.weights.long_cue * (hit.end - hit.start - 1)


def _ease(entry: AttributeEntry) -> float:
    """The share of the cost of distance that an attribute pays: less where the table lets its cues reach farther."""
    return min(1.0, USUAL_REACH / entry.reach)


def _carried(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> float | None:
    """The strength of a cue at the end of the statement before ("Tunnel length?" - "Forty-four.")."""
    ends = [hit for hit in scene.hits_before(entry) if scene.stands(hit)]
    if not ends or quantity.start > min((q.start for q in scene.quantities), default=quantity.start):
        return None
    cue = max(ends, key=lambda hit: (hit.end, hit.end - hit.start))
    gap = quantity.start - cue.end
    if gap > entry.reach:
        return None
    weights = scene.weights
    return weights.cue - weights.carried - _ease(entry) * weights.cue_step * gap + weights.long_cue * (cue.end - cue.start - 1)


def _cost_between(scene: Scene, left: int, right: int) -> float:
    """What the words between a cue and a quantity cost: breaks, and other quantities that may claim the cue."""
    gap = scene.between(left, right)
    breaks = sum(word in (",", "and") for word in gap) + 2 * gap.count("then")
    return scene.weights.comma * breaks + scene.weights.other_quantity * _claimants(scene, left, right)


def _claimants(scene: Scene, left: int, right: int) -> int:
    """How many quantities between two places may claim a cue."""
    return sum(left <= q.start and q.end <= right for q in scene.quantities if q.kind not in SILENT)


def never_share(scene: Scene, quantity: Quantity, entry: AttributeEntry, *, trust: float = 1.0) -> float:
    """How much (0 to 1) a word that means something else stands beside the quantity, with no other quantity nearer to it.

    In "the plug was ten by twenty" the plug makes the pair no screw. ``trust`` is the share that counts of a word behind it.
    """
    return max((_denied_by(scene, quantity, hit, trust) for hit in _nevers(scene, entry)), default=0.0)


def _nevers(scene: Scene, entry: AttributeEntry) -> Sequence[Hit]:
    """The words that make a quantity something else, without those that are part of a cue ("over the pin")."""
    own = scene.hits_of(entry)
    named = [hit for hit in own if hit.use in USES]
    return [hit for hit in own if hit.use == "never" and not any(holds(cue, hit) for cue in named)]


def _denied_by(scene: Scene, quantity: Quantity, hit: Hit, trust: float) -> float:
    """How much one such word speaks against the attribute: less with each word between, behind a break, or where the cue is trusted."""
    left, right = (hit.end, quantity.start) if hit.end <= quantity.start else (quantity.end, hit.start)
    if left > right or right - left > REACH_NEVER or _claimants(scene, left, right):
        return 0.0
    weights = scene.weights
    broken = weights.never_apart if {",", "and", "then"} & {*scene.between(left, right)} else 1.0
    doubted = trust if hit.start >= quantity.end or quantity.kind == "pair" else 1.0
    return (1.0 - weights.never_step * (right - left)) * broken * doubted
