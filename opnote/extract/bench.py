"""The graft in hand: while a tendon is taken and prepared, what is called out is its size ("Twenty-two centimetres." - "Six is snug.")."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from opnote.extract.cues import never_share
from opnote.extract.frames import Frame, Slot
from opnote.extract.model import Candidate, Choice
from opnote.extract.scene import USABLE, Bench, Scene
from opnote.extract.score import range_score
from opnote.language.model import Quantity
from opnote.language.statements import Statement
from opnote.lexicon import AttributeEntry

LASTS = 8  # statements in which nothing is said of the graft, after which it is no longer in hand
CUT_LASTS = 3  # statements after a cut in which what is left of the tendon is called out
CALLED_OUT = 6  # words of a statement that calls out a number and little more
LENGTH = ("graft", "length_mm")
TENDON_MM = (140.0, 350.0)  # a length said in centimetres that, with a tendon in hand, is hardly anything else's
STRIP_MM = (55.0, 130.0)  # and one in millimetres, once a length was called out in them
MM_A = {"cm": 10.0, "mm": 1.0}
INCISION, PLACES = "incision", ("bone", "landmark")
LEFT_FOR = ("tunnel", "isometry")  # what the talk turns to when the graft is put by
LEFT_BY = ("implant kind", "event", "exam", "compartment")  # and by which vocabularies it does
IN_HAND = "a length, with the graft in hand"


def moved(bench: Bench | None, scene: Scene) -> Bench | None:
    """Whether a graft is in hand after a statement."""
    index, called = scene.statement.index, _unit_called(scene)
    goes_on = bench is not None and not _turns_away(scene) and (bool(called) or _calls_a_number(scene, bench))
    if _takes(scene) or goes_on:
        return Bench(index, called or (bench.unit if bench else ""))
    return bench if bench is not None and index - bench.at < LASTS and not _turns_away(scene) else None


def _takes(scene: Scene) -> bool:
    """Whether a statement takes or prepares a tendon: names one, its strands or its tools."""
    named = any(m.kind in ("tissue", "strands") and scene.talk.stances[m.start].name in USABLE for m in scene.spoken)
    return (named or scene.says("speaks-of-a-graft")) and not _turns_away(scene)


def _turns_away(scene: Scene) -> bool:
    """Whether a statement turns to something else; "then cut it" opens no incision, "a two centimetre cut over the patella" does."""
    opened = {m.value for m in scene.of("opens")}
    placed = bool(scene.of(*PLACES)) or any(q.kind == "length" for q in scene.quantities)
    if opened & {*LEFT_FOR} or (INCISION in opened and placed and not _unit_called(scene)):
        return True
    return bool(scene.of(*LEFT_BY))


def _unit_called(scene: Scene) -> str:
    """The unit of the last length of a tendon in a statement, "" where there is none."""
    told = [q.said[1] for q in scene.quantities if q.kind == "length" and q.said is not None and _is_of_a_tendon(q.value, q.said[1])]
    return told[-1] if told else ""


def _calls_a_number(scene: Scene, bench: Bench) -> bool:
    """Whether a bare number is called out that, in the unit of the length before it, is another length of a tendon."""
    numbers = [q.value for q in scene.quantities if q.kind == "number" and isinstance(q.value, float)]
    return _calls_out(scene) and any(_is_of_a_tendon(MM_A.get(bench.unit, 0.0) * number, bench.unit) for number in numbers)


def _is_of_a_tendon(value: object, unit: str) -> bool:
    return unit in MM_A and _within(value, TENDON_MM if unit == "cm" else STRIP_MM)


def by_bench(scene: Scene, choices: Sequence[Choice]) -> list[Choice]:
    """The choices of a statement, with the lengths of the graft in hand among those that were left open."""
    bench = scene.focus.bench
    if bench is None or _turns_away(scene):
        return list(choices)
    entry = scene.lexicon.attributes[LENGTH]
    return [_measured(scene, choice, bench, entry) for choice in choices]


def _measured(scene: Scene, choice: Choice, bench: Bench, entry: AttributeEntry) -> Choice:
    quantity = choice.quantity
    is_open = choice.won is None or choice.won.type == INCISION
    if not is_open or never_share(scene, quantity, entry) or _sizes_what_follows(scene, quantity):
        return choice
    if quantity.kind == "length" and quantity.said is not None and quantity.said[1] == "cm" and _is_of_a_tendon(quantity.value, "cm"):
        return _told(scene, choice, entry)
    called = quantity.kind == "number" and _calls_out(scene) and _was_cut(scene)
    if not called or not isinstance(quantity.value, float):
        return choice
    value = MM_A.get(bench.unit, 0.0) * quantity.value
    if not _is_of_a_tendon(value, bench.unit):
        return choice
    why = (*quantity.why, "in the unit before it")
    said = replace(quantity, kind="length", value=value, unit="mm", said=(quantity.value, bench.unit), why=why)
    return _told(scene, replace(choice, quantity=said), entry)


def _sizes_what_follows(scene: Scene, quantity: Quantity) -> bool:
    """Whether a length stands before the noun that it sizes ("a twenty centimetre needle driver")."""
    behind = [word for word in scene.between(quantity.end, min(scene.statement.end, quantity.end + 1)) if word.isalpha()]
    return not scene.words_of("behind-a-length").issuperset(behind)


def _calls_out(scene: Scene) -> bool:
    """Whether a statement says little more than a number, or what the tendon is cut to."""
    words = [word for word in scene.words if word.isalnum()]
    return len(words) <= CALLED_OUT or scene.says("cuts-a-tendon")


def _was_cut(scene: Scene) -> bool:
    """Whether the tendon was cut here or just before: only then is a bare number what is left of it, and not somebody's age."""
    statements, index = scene.talk.statements, scene.statement.index
    before = [scene.talk.words[s.start : s.end] for s in statements[max(0, index - CUT_LASTS) : index]]
    asked = [words for words in before if words[-1] == "?"]
    answers = all(not scene.words_of("asks-what-is-left").isdisjoint(words) for words in asked)
    return answers and any(_cuts(scene, words) for words in (*before, scene.words))


def _told(scene: Scene, choice: Choice, entry: AttributeEntry) -> Choice:
    score = range_score(scene, choice.quantity, entry)
    return replace(choice, won=Candidate(entry.type, entry.name, score, ((IN_HAND, score),)), why=IN_HAND)


def trimmed(frames: Sequence[Frame], scenes: Sequence[Scene]) -> list[Frame]:
    """The frames of a talk, without lengths as harvested: those of a tendon in hand that is cut afterwards."""
    in_hand = [scene for scene in scenes if scene.focus.bench is not None and not _turns_away(scene)]
    held = {scene.statement.index for scene in in_hand}
    cuts = [scene.statement for scene in in_hand if _cuts(scene, scene.words)]
    for frame in frames:
        slot = frame.slots.get(LENGTH[1]) if frame.type == LENGTH[0] and frame.statement in held else None
        if slot is not None and _within(slot.value, TENDON_MM) and any(_follows(cut, frame, slot) for cut in cuts):
            del frame.slots[LENGTH[1]]
    return [frame for frame in frames if frame.type != LENGTH[0] or frame.slots]


def _cuts(scene: Scene, words: Sequence[str]) -> bool:
    """Whether words tell that a tendon is shortened ("snip that off"), which "I'll not trim it" denies."""
    denied = scene.words_of("leaves-a-tendon-whole")
    return any(
        word in scene.words_of("cuts-a-tendon") and denied.isdisjoint(words[max(0, place - 1) : place]) for place, word in enumerate(words)
    )


def _follows(cut: Statement, frame: Frame, slot: Slot) -> bool:
    """Whether a tendon is cut soon after its length was said."""
    return cut.start > slot.end and cut.index - frame.statement <= LASTS


def _within(value: object, bounds: tuple[float, float]) -> bool:
    return isinstance(value, (int, float)) and bounds[0] <= value <= bounds[1]
