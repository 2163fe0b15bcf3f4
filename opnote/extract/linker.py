"""The linker: which attribute of which thing a quantity fills.

Every attribute of the table that takes the quantity's kind is a candidate, with a score (``score.py``). The best one wins only when
it is good enough and clearly better than the next; what is left open may still be told by its neighbours (``neighbours.py``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.bench import by_bench
from opnote.extract.model import LEADS, Candidate, Choice
from opnote.extract.neighbours import by_neighbours
from opnote.extract.readings import fitting
from opnote.extract.scene import Scene
from opnote.extract.score import score
from opnote.language.model import Quantity
from opnote.lexicon import AttributeEntry

MM_A_CM = 10


def choose(scene: Scene, *, taken: frozenset[int] = frozenset()) -> list[Choice]:
    """A choice for every quantity of a statement but those that begin at ``taken`` tokens (clock times of events)."""
    return by_bench(scene, by_neighbours(scene, [_choice(scene, quantity) for quantity in scene.quantities if quantity.start not in taken]))


def _choice(scene: Scene, quantity: Quantity) -> Choice:
    corrections = [c for c in scene.talk.corrected if (c.new.start, c.new.end) == (quantity.start, quantity.end)]
    corrected = [c.old for c in corrections if isinstance(c.old, Quantity)]
    found = (_in_its_best_place(scene, quantity, corrected, entry) for entry in scene.lexicon.attributes.values())
    candidates = tuple(sorted((c for c in found if c is not None), key=lambda c: (-c.score, c.type, c.attribute)))
    doubt = _doubt(scene, candidates)
    if doubt:
        return Choice(quantity, candidates, None, doubt)
    best = candidates[0]
    return Choice(in_centimetres(scene, quantity, scene.lexicon.attributes[best.type, best.attribute]), candidates, best, LEADS)


def _doubt(scene: Scene, candidates: tuple[Candidate, ...]) -> str:
    """Why none of the candidates, best first, wins; "" when the first one does."""
    enough, margin = scene.weights.enough, scene.weights.margin
    if not candidates:
        return "no attribute takes this kind of quantity here"
    best = candidates[0]
    if best.score < enough:
        return f"the best, {best.type}.{best.attribute}, scores {best.score:.2f} of {enough}"
    if len(candidates) > 1 and round(best.score - candidates[1].score, 3) < margin:
        rival = candidates[1]
        return f"{best.type}.{best.attribute} leads {rival.type}.{rival.attribute} by {best.score - rival.score:.2f} of {margin}"
    return ""


def _in_its_best_place(scene: Scene, quantity: Quantity, corrected: Sequence[Quantity], entry: AttributeEntry) -> Candidate | None:
    """The score of a quantity in its own place, or in that of a value it corrects ("ten deep, no, sorry, twelve")."""
    best = score(scene, fitting(in_centimetres(scene, quantity, entry), entry, scene.lexicon), entry)
    for old in corrected:
        there = score(scene, replace(quantity, start=old.start, end=old.end), entry)
        if there is not None and (best is None or there.score > best.score):
            best = replace(there, parts=(*there.parts, ("in the place of what it corrects", 0.0)))
    return best


def in_centimetres(scene: Scene, quantity: Quantity, entry: AttributeEntry) -> Quantity:
    """A bare number in the unit of the length before it ("twenty four centimetres, cut to sixteen"), where millimetres make no sense."""
    if quantity.kind != "number" or entry.unit != "mm" or entry.hard is None or not isinstance(quantity.value, float):
        return quantity
    before = [q for q in scene.quantities if q.end <= quantity.start and q.kind == "length"]
    if not before or before[-1].said is None or before[-1].said[1] != "cm":
        return quantity
    low, high = entry.hard
    if quantity.value >= low or not low <= MM_A_CM * quantity.value <= high:
        return quantity
    why = (*quantity.why, "centimetres, as said before it")
    return replace(quantity, kind="length", value=MM_A_CM * quantity.value, unit="mm", said=(quantity.value, "cm"), why=why)
