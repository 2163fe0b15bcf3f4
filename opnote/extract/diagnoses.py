"""Diagnoses before and after, in the surgeon's words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.frames import Slot
from opnote.extract.scene import Scene
from opnote.lexicon import Section

FIELD = {"preop diagnosis": "preop_diagnosis", "postop diagnosis": "postop_diagnosis"}
SAME = frozenset({"same", "unchanged"})
LEAD = frozenset(
    {":", "is", "was", "a", "an", "the", "are", "were", "and", ",", "as", "'s", "colon", "for", "today", "this", "again", "of"}
)
EARLY = 0.25  # share of the talk in which the case is introduced
BEFORE_NOUNS = frozenset(
    "a an the and or but with has had have got is was it this that he she they we i so of for in on to his her their then from s there"
    " been no not also just".split()
)
LONGEST = 16
NUMBERS = {"one", "two", "three", "four", "five", "1", "2", "3", "4", "5", "1.", "2.", "3.", "4.", "5."}


def diagnoses(scenes: Sequence[Scene]) -> list[Slot]:
    """All diagnoses; "same" after the operation repeats those before it, with the words that say so."""
    found: dict[str, list[Slot]] = {"preop_diagnosis": [], "postop_diagnosis": []}
    for scene in scenes:
        name = FIELD.get(scene.section)
        if name is None:
            continue
        start = scene.statement.start + scene.statement.heading
        same = next((i for i in range(start, min(scene.statement.end, start + 5)) if scene.talk.words[i] in SAME), None)
        if name == "postop_diagnosis" and (same is not None or scene.talk.words[start - 1] in SAME):
            place = same if same is not None else start - 1
            found[name] += [
                Slot(name, place, place + 1, s.value, why=("the same as before the operation",)) for s in found["preop_diagnosis"]
            ]
            continue
        items = list(_items(scene, name, start))
        found[name] += items
        tail = _same_after(scene, items, start) if name == "preop_diagnosis" else None
        if tail is not None:
            found["postop_diagnosis"] += [
                Slot("postop_diagnosis", tail, tail + 1, s.value, why=("the same as before the operation",)) for s in items
            ]
    if not found["preop_diagnosis"]:
        found["preop_diagnosis"] = _introduced(scenes)
    return found["preop_diagnosis"] + _distinct(found["postop_diagnosis"])


def _introduced(scenes: Sequence[Scene]) -> list[Slot]:
    """A diagnosis named without a heading while the case is introduced ("he's got a chronic grade three FCL tear")."""
    for scene in scenes:
        if (
            scene.after_fixation
            or scene.statement.start > EARLY * len(scene.talk.words)
            or scene.section in ("findings", "description", "procedures")
        ):
            return []
        if any(q.kind == "clock" for q in scene.quantities) or scene.of("action", "exam") or "scan" in scene.words or "mri" in scene.words:
            continue
        for noun in (m for m in scene.of("diagnosis noun") if not any(m.start < s.end and s.start < m.end for s in scene.of("structure"))):
            start = _np_start(scene, noun.start)
            qualified = {"chronic", "acute", "recurrent", "complete"} & set(scene.between(start, noun.start))
            named = any(start <= s.start < noun.end for s in scene.of("structure"))
            if noun.start - start >= 1 and (qualified or named) and set(scene.between(noun.start, noun.end)) - {"pain", "injury", "wear"}:
                return [
                    Slot(
                        "preop_diagnosis",
                        start,
                        noun.end,
                        scene.talk.doc[start : noun.end].text,
                        why=("named while the case is introduced",),
                    )
                ]
    return []


def _np_start(scene: Scene, place: int) -> int:
    """Back over the words that qualify a noun."""
    while place > scene.statement.start and scene.talk.words[place - 1].isalnum() and scene.talk.words[place - 1] not in BEFORE_NOUNS:
        place -= 1
    return place


def _same_after(scene: Scene, items: Sequence[Slot], start: int) -> int | None:
    """The place of "same" in "a tear before, and after, same"."""
    floor = max((s.end for s in items), default=start)
    places = [i for i in range(floor, scene.statement.end) if scene.talk.words[i] in SAME]
    after = {"after", "afterwards", "postop", "post", "postoperative"} & set(scene.between(floor, scene.statement.end))
    return places[0] if places and after else None


def _distinct(slots: Sequence[Slot]) -> list[Slot]:
    seen: set[str] = set()
    return [s for s in slots if not (str(s.value).lower() in seen or seen.add(str(s.value).lower()))]  # type: ignore[func-returns-value]


def _items(scene: Scene, name: str, start: int) -> Iterator[Slot]:
    limit = _limit(scene, start)
    pieces = list(_pieces(scene, start, limit))
    nouns = [m for m in scene.talk.mentions if m.kind == "diagnosis noun" and start <= m.start < limit]
    joined: list[tuple[int, int]] = []
    for left, right in pieces:
        names_one = any(left <= m.start < right for m in nouns)
        if joined and not names_one:
            joined[-1] = (joined[-1][0], right)
        elif names_one or (not joined and right - left > 1) or (_labelled(scene, start) and right - left > 2):
            joined.append((left, right))
    for left, right in joined:
        if any(left <= m.start < right for m in nouns) or _labelled(scene, start):
            right = _without_side(scene, left, right)
            text = scene.talk.doc[left:right].text.strip(" .,;:")
            if text:
                yield Slot(name, left, right, text, why=("under its heading",))


def _without_side(scene: Scene, left: int, right: int) -> int:
    """The end of a diagnosis before a trailing "right knee", which is the side of the case and not of its name."""
    words = scene.talk.words
    while right - left > 3 and words[right - 1] in (".", ","):
        right -= 1
    trailing = right - left > 3 and words[right - 1] in ("knee", "leg") and words[right - 2] in ("left", "right")
    return right - 2 if trailing and words[right - 3] not in (",", "the", "of") else right


def _labelled(scene: Scene, start: int) -> bool:
    """Whether the heading stood by itself, before a colon or as a sentence: whatever follows is then the diagnosis."""
    here = scene.talk.words[start - 1 : start + 1]
    return ":" in here or scene.statement.heading == 0


def _limit(scene: Scene, start: int) -> int:
    """Where the diagnosis ends: at the next heading or field, or after a plausible number of words."""
    limit = min(scene.statement.end, start + 2 * LONGEST)
    for hit in scene.hits:
        entry = hit.entry
        field = (
            hit.use == "before"
            and getattr(entry, "type", "") == "case"
            and getattr(entry, "name", "") in ("date_of_surgery", "surgeon", "assistants", "patient_id")
            and hit.end - hit.start > 1
        )
        heading = hit.use == "section" and isinstance(entry, Section) and hit.end - hit.start > 1 and entry.section not in FIELD
        if (field or heading) and start < hit.start < limit:
            limit = hit.start
    while limit > start and scene.talk.words[limit - 1] in ("and", ",", ".", "so", "um", ";"):
        limit -= 1
    return limit


def _pieces(scene: Scene, start: int, limit: int) -> Iterator[tuple[int, int]]:
    words = scene.talk.words
    stop = next((i for i in range(start, limit) if words[i] in SAME), limit)
    if start + 2 < stop < limit:
        limit = next((i for i in range(stop, start, -1) if words[i] in (",", "and")), stop)
    left = _skip(words, start, limit)
    place = left
    while place < limit:
        cut = (
            words[place] in (",", ";", ".")
            or _parts_two(scene, left, place, limit)
            or (words[place] == "and" and place + 1 < limit and words[place + 1] in ("a", "an"))
            or words[place] == "number"
            or words[place] in ("2.", "3.", "4.", "5.")
        )
        if cut:
            if place > left:
                yield left, place
            left = place = _skip(words, place, limit)
            continue
        place += 1
    if left < limit:
        yield left, limit


def _parts_two(scene: Scene, left: int, place: int, limit: int) -> bool:
    """ "and" between two diagnoses, each with a noun of its own."""
    nouns = [m for m in scene.talk.mentions if m.kind == "diagnosis noun" and left <= m.start < limit]
    return scene.talk.words[place] == "and" and any(m.end <= place for m in nouns) and any(m.start > place for m in nouns)


def _skip(words: Sequence[str], place: int, limit: int) -> int:
    """Past lead words and list numbers."""
    while place < limit and (
        words[place] in LEAD
        or words[place] in (".", ";", "number")
        or (words[place] in NUMBERS and words[place - 1] in ("number", ":", ".", ",", "2", "1"))
    ):
        place += 1
    return place
