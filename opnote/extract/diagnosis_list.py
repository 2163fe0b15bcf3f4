"""The diagnoses listed behind a heading, as stretches of words."""

from __future__ import annotations

from collections.abc import Iterator

from opnote.extract.scene import Scene
from opnote.language.phrases import Hit
from opnote.language.terms import Mention
from opnote.lexicon import AttributeEntry, Section

NOUN = "diagnosis noun"
DIAGNOSES = frozenset({"preop diagnosis", "postop diagnosis"})
NEXT_FIELDS = frozenset({"date_of_surgery", "surgeon", "assistants", "patient_id"})  # of the case, that often follow without a stop
LONGEST = 32  # words of all diagnoses together
SHORTEST = 2  # words before "same" that are a diagnosis
SIDE_WORDS = 2  # "right knee"


def listed(scene: Scene, start: int, end: int | None = None) -> Iterator[tuple[int, int]]:
    """The stretches of the diagnoses behind a heading and before ``end``: pieces without a noun of their own belong to the piece before.

    Behind "Diagnosis:" whatever follows is one, otherwise only what has a noun ("tear", "rupture").
    """
    limit = _limit(scene, start, scene.statement.end if end is None else end)
    labelled = is_labelled(scene, start)
    joined: list[tuple[int, int]] = []
    for left, right in _pieces(scene, start, limit):
        named = _names_one(scene, left, right)
        if joined and not named and _talks_on(scene, left, right):
            break
        if joined and not named:
            joined[-1] = (joined[-1][0], right)
        elif named or right - left > 1:
            joined.append((left, right))
    for left, right in joined:
        if labelled or _names_one(scene, left, right):
            yield left, _without_side(scene, left, right)


def _talks_on(scene: Scene, left: int, right: int) -> bool:
    """Whether a piece tells how the diagnosis before it came, or speaks of something else ("..., which I'll get to")."""
    course = not scene.words_of("tells-the-course").isdisjoint(scene.between(left, right))
    return course or scene.talk.words[left] in scene.words_of("talks-on")


def _nouns(scene: Scene, left: int, right: int) -> list[Mention]:
    """The diagnosis nouns in a stretch, whatever their stance: a diagnosis is told of, not done."""
    return [m for m in scene.talk.mentions if m.kind == NOUN and left <= m.start < right]


def _names_one(scene: Scene, left: int, right: int) -> bool:
    return bool(_nouns(scene, left, right))


def is_labelled(scene: Scene, start: int) -> bool:
    """Whether the heading stood by itself, before a colon or as a sentence: whatever follows is then the diagnosis."""
    return ":" in scene.between(start - 1, start + 1) or scene.statement.heading == 0


def _limit(scene: Scene, start: int, end: int) -> int:
    """Where the diagnoses end: at the next heading or field, or after a plausible number of words."""
    limit = min(end, start + LONGEST)
    limit = min([limit, *(hit.start for hit in scene.hits if hit.start > start and _ends_the_list(scene, hit))])
    while limit > start and scene.talk.words[limit - 1] in scene.words_of("closes-a-diagnosis"):
        limit -= 1
    return limit


def _ends_the_list(scene: Scene, hit: Hit) -> bool:
    """Whether words of a field of the case or of another heading stand here; a single word may be part of a diagnosis."""
    entry = hit.entry
    if hit.end - hit.start == 1:
        return isinstance(entry, Section) and scene.talk.words[hit.start] in scene.words_of("ends-the-diagnoses")
    if isinstance(entry, AttributeEntry):
        return hit.use == "before" and entry.type == "case" and entry.name in NEXT_FIELDS
    return isinstance(entry, Section) and entry.section not in DIAGNOSES


def _pieces(scene: Scene, start: int, limit: int) -> Iterator[tuple[int, int]]:
    """The pieces of a list, cut at its commas, stops, numbers and between two nouns."""
    limit = _before_the_same(scene, start, limit)
    left = place = _skip(scene, start, limit)
    while place < limit:
        if not _cuts(scene, left, place, limit):
            place += 1
            continue
        if place > left:
            yield left, place
        left = place = _skip(scene, place + 1, limit)
    if left < limit:
        yield left, limit


def _before_the_same(scene: Scene, start: int, limit: int) -> int:
    """The end of a list before "and after, same"."""
    words = scene.talk.words
    same = next((place for place in range(start, limit) if words[place] in scene.words_of("the-same")), limit)
    if not start + SHORTEST < same < limit:
        return limit
    part = next((place for place in range(same, start, -1) if words[place] in (",", "and")), same)
    passed = scene.words_of("afterwards") | {",", "and"}
    while part - 1 > start and words[part] in passed and words[part - 1] in passed:
        part -= 1
    return part


def _cuts(scene: Scene, left: int, place: int, limit: int) -> bool:
    """Whether the next diagnosis of a list begins at a place."""
    word = scene.talk.words[place]
    if word != "and":
        return word in scene.words_of("parts-diagnoses")
    nouns = _nouns(scene, left, limit)
    parts_two = any(m.end <= place for m in nouns) and any(m.start > place for m in nouns)
    return parts_two or (place + 1 < limit and scene.talk.words[place + 1] in ("a", "an"))


def _skip(scene: Scene, place: int, limit: int) -> int:
    """Past lead words and list numbers."""
    words, lead = scene.talk.words, scene.words_of("leads-to-a-diagnosis")
    numbers, before = scene.words_of("list-numbers"), scene.words_of("before-list-numbers")
    named = {m.start for m in scene.talk.mentions if m.kind == "structure"}  # "a c l" begins with no article
    while place < limit and place not in named and (words[place] in lead or (words[place] in numbers and words[place - 1] in before)):
        place += 1
    return place


def _without_side(scene: Scene, left: int, right: int) -> int:
    """The end of a diagnosis before a trailing "right knee", which is the side of the case and not of its name."""
    words = scene.talk.words
    while right - left > SIDE_WORDS + 1 and words[right - 1] in (".", ","):
        right -= 1
    trailing = right - left > SIDE_WORDS + 1 and words[right - 1] in scene.words_of("knee") and words[right - 2] in ("left", "right")
    return right - SIDE_WORDS if trailing and words[right - 3] not in scene.words_of("keeps-the-side") else right
