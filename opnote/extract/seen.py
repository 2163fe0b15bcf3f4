"""Structures with what was seen of them: "lateral meniscus intact", "the ACL was torn"."""

from __future__ import annotations

from collections.abc import Sequence

from opnote.extract.frames import Frame, Slot
from opnote.extract.scene import Scene
from opnote.extract.slots import as_said, from_mention
from opnote.language.terms import Mention

STRETCH = 9  # words between a structure and what is said of it
OF_WITHIN = 7  # words between what is said and the structure it is said "of"
DESCRIBED_BY = 3  # words that describe a tear ("small radial tear")
JOINED_BY = 3  # words between structures that share a result


def seen(scene: Scene) -> list[Frame]:
    """The findings of structures in a statement."""
    return [_frame(scene, result, structure) for result, named in results_of_structures(scene) for structure in named]


def _frame(scene: Scene, result: Mention, structure: Mention) -> Frame:
    value = "meniscus" if structure.value in scene.words_of("menisci") else "ligament"
    exam = Slot("exam", structure.start, structure.end, value, why=("what kind of structure it is",))
    slots = {"exam": exam, "structure": from_mention("structure", structure), "result": _worded(scene, result)}
    return Frame("finding", scene.statement.index, slots)


def _worded(scene: Scene, result: Mention) -> Slot:
    """A tear in the speaker's words ("small radial tear"); other results by their term."""
    if not _is_noun(scene, result):
        return as_said(scene, result)
    start = result.start
    while start > scene.statement.start and result.start - start < DESCRIBED_BY and _describes(scene, start - 1):
        start -= 1
    return Slot("result", start, result.end, " ".join(scene.between(start, result.end)), why=("as worded",))


def _is_noun(scene: Scene, result: Mention) -> bool:
    return scene.talk.words[result.end - 1] in scene.words_of("nouns-of-damage")


def _describes(scene: Scene, place: int) -> bool:
    word = scene.talk.words[place]
    return word.isalpha() and word not in scene.words_of("describes-nothing") and not scene.is_in(place, "structure", "exam")


def results_of_structures(scene: Scene) -> list[tuple[Mention, list[Mention]]]:
    """Each result of a structure with the structures it speaks of: those listed before it, else the one it is "of"."""
    results = [m for m in scene.of("result") if m.value in scene.words_of("results-of-structures")]
    pairs = []
    for index, result in enumerate(results):
        named = _before(scene, result, results[:index]) or _behind(scene, result, results)
        if named:
            pairs.append((result, named))
    return pairs


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
    behind = [s for s in behind if not any(result.end <= r.start < s.start for r in results)]
    said_of = behind and {"of", "in"} & {*scene.between(result.end, behind[0].start)}
    return behind[:1] if said_of else []


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
