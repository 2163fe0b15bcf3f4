"""Structures with what was seen of them: "lateral meniscus intact", "the ACL was torn"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene
from opnote.extract.slots import as_said, from_mention
from opnote.language.terms import Mention

STRETCH = 9  # words between a structure and what is said of it
OF_WITHIN = 10  # words between what is said and the structure it is said "of"
DESCRIBED_BY = 3  # words that describe a tear ("small radial tear")
DENIALS = frozenset({"no", "not", "nor", "without"})
PLAIN = "torn"  # a tear of no kind
PLAIN_FRAME = frozenset({"exam", "structure", "result"})
JOINED_BY = 3  # words between structures that share a result


def seen(scene: Scene) -> list[Frame]:
    """The findings of structures in a statement."""
    return [_frame(scene, result, structure) for result, named in results_of_structures(scene) for structure in named]


def kept(frames: Sequence[Frame]) -> Iterator[Frame]:
    """The frames of a talk without a plain "torn" of a structure of which a kind of tear is told too."""
    told = {frame.get("structure") for frame in frames if frame.type == "finding" and str(frame.get("result")).endswith(" tear")}
    for frame in frames:
        plain = frame.type == "finding" and frame.get("result") == PLAIN and frame.get("structure") in told
        if not (plain and frame.slots.keys() <= PLAIN_FRAME):
            yield frame


def _frame(scene: Scene, result: Mention, structure: Mention) -> Frame:
    value = "meniscus" if structure.value in scene.words_of("menisci") else "ligament"
    exam = Slot("exam", structure.start, structure.end, value, why=("what kind of structure it is",))
    slots = {"exam": exam, "structure": from_mention("structure", structure), "result": _worded(scene, result)}
    return Frame("finding", scene.statement.index, slots)


def _worded(scene: Scene, result: Mention) -> Slot:
    """A tear in the speaker's words ("small radial tear"); other results by their term."""
    if not _is_noun(scene, result) or scene.talk.words[result.start] in DENIALS:
        return as_said(scene, result)
    start = result.start
    while start > scene.statement.start and result.start - start < DESCRIBED_BY and _describes(scene, start - 1):
        start -= 1
    if start == result.start and result.end - start == 1:  # a plain "tear" is no kind of tear
        return from_mention("result", result)
    return Slot("result", start, result.end, " ".join(scene.between(start, result.end)), why=("as worded",))


def _is_noun(scene: Scene, result: Mention) -> bool:
    return scene.talk.words[result.end - 1] in scene.words_of("nouns-of-damage")


def _describes(scene: Scene, place: int) -> bool:
    word = scene.talk.words[place]
    counted = any(q.start <= place < q.end for q in scene.quantities)  # "15 mm" is no kind of tear
    return (
        not counted and word.isalpha() and word not in scene.words_of("describes-nothing") and not scene.is_in(place, "structure", "exam")
    )


def results_of_structures(scene: Scene) -> list[tuple[Mention, list[Mention]]]:
    """Each result of a structure with the structures it speaks of.

    These are the ones listed before it, else the one it is "of", or the one it stands right before ("there was an intact ACL").
    """
    exams = {exam.start for exam in scene.of("exam")}  # "pristine articular cartilage" is no meniscus
    results = [m for m in scene.of("result") if m.value in scene.words_of("results-of-structures") and m.end not in exams]
    pairs: list[tuple[Mention, list[Mention]]] = []
    for index, result in enumerate(results):
        if pairs and pairs[-1][0] is not result and _is_component(scene, pairs[-1], result):
            continue
        named = _before(scene, result, results[:index]) or _behind(scene, result, results) or _led(scene, result)
        named = named or _by_compartment(scene, result)
        if named:
            pairs.append((result, named))
    return pairs


def _is_component(scene: Scene, pair: tuple[Mention, list[Mention]], result: Mention) -> bool:
    """Whether a result is a part of the one before it: "a complex tear with a horizontal component of the lateral meniscus"."""
    whole, named = pair
    return whole.end <= result.start < named[0].start and _is_noun(scene, whole)


def _led(scene: Scene, result: Mention) -> list[Mention]:
    """The structure right behind a word that describes it, where it is told that it was seen."""
    shown = not scene.words_of("shows-what-is-there").isdisjoint(scene.between(scene.statement.start, result.start))
    if _is_noun(scene, result) or not (shown or scene.section == "findings"):
        return []
    return [s for s in scene.of("structure") if s.start == result.end]


def _by_compartment(scene: Scene, result: Mention) -> list[Mention]:
    """The meniscus of the compartment that is looked into ("the lateral compartment was entered. There was a bucket handle tear")."""
    meniscal = [place for place in range(scene.statement.start, scene.statement.end) if _is_meniscal(scene, place)]
    compartments = [m for m in scene.of("compartment") if m.end <= result.start]
    compartment = compartments[-1] if compartments else scene.focus.compartment
    if not meniscal or scene.of("structure") or compartment is None or compartment.value not in scene.words_of("sides-of-the-knee"):
        return []
    if scene.talk.words[result.start] not in DENIALS and not DENIALS.isdisjoint(scene.between(scene.statement.start, result.start)):
        return []
    place = min(meniscal, key=lambda p: abs(p - result.start))
    return [Mention(place, place + 1, "structure", f"{compartment.value} meniscus", compartment.term)]


def _is_meniscal(scene: Scene, place: int) -> bool:
    return scene.talk.words[place] in scene.words_of("of-the-meniscus")


def _before(scene: Scene, result: Mention, earlier: Sequence[Mention]) -> list[Mention]:
    """The structures listed before a result, since the last result or examination: "ACL and PCL intact"."""
    exams = [exam.end for exam in scene.of("exam") if exam.end <= result.start]
    floor = max([*(r.end for r in earlier), *exams], default=scene.statement.start)
    before = [s for s in scene.of("structure") if floor <= s.start and s.end <= result.start]
    if not before or result.start - before[-1].end > STRETCH or _is_diagnosis(scene, result, before[-1]):
        return []
    return _listed(scene, before)


def _behind(scene: Scene, result: Mention, results: Sequence[Mention]) -> list[Mention]:
    """The structure that a result is said of: "a radial tear of the lateral meniscus"."""
    behind = [s for s in scene.of("structure") if 0 <= s.start - result.end <= OF_WITHIN]
    if not behind or scene.words_of("said-of-a-structure").isdisjoint(scene.between(result.end, behind[0].start)):
        return []
    between = [r for r in results if result.end <= r.start < behind[0].start]
    apart = any(not scene.words_of("adds-a-component").issuperset(scene.between(result.end, result.end + 1)) for _ in between)
    return [] if apart else behind[:1]


def _is_diagnosis(scene: Scene, result: Mention, structure: Mention) -> bool:
    """ "ACL tear" names a diagnosis; what was seen is said with a verb or of a meniscus."""
    if not _is_noun(scene, result) or structure.value in scene.words_of("menisci") or scene.section == "findings":
        return False
    return scene.words_of("says-what-was-seen").isdisjoint(scene.between(structure.end, result.start))


def _listed(scene: Scene, before: Sequence[Mention]) -> list[Mention]:
    """The last structure and those joined to it by commas and "and"."""
    named = [before[-1]]
    for structure in reversed(before[:-1]):
        gap = scene.between(structure.end, named[0].start)
        if not 0 < len(gap) <= JOINED_BY or not scene.words_of("joins-structures").issuperset(gap):
            break
        named.insert(0, structure)
    return named
