"""Diagnoses before and after, in the surgeon's words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import takewhile

from opnote.extract.diagnosis_list import NOUN, is_labelled, listed
from opnote.extract.frames import Slot
from opnote.extract.scene import Scene, overlaps
from opnote.language.terms import Mention

PREOP, POSTOP = "preop_diagnosis", "postop_diagnosis"
FIELD = {"preop diagnosis": PREOP, "postop diagnosis": POSTOP}  # part of the dictation -> attribute
SPELLED = re.compile(r"\b[a-z](?: [a-z]){2,}\b")
SIDES = ("left", "right")  # what stands before one and does not qualify the diagnosis is no part of it
EARLY = 0.25  # share of the talk in which the case is introduced
ADDED_WITHIN = 8  # words behind "same" among which "plus" adds to it
SAME_WITHIN = 5  # words of a later diagnosis among which "same" repeats the earlier one


def diagnoses(scenes: Sequence[Scene]) -> list[Slot]:
    """All diagnoses; "same" after the operation repeats those before it, with the words that say so."""
    before: list[Slot] = []
    after: list[Slot] = []
    last = ""  # the field that the statement before belongs to
    for scene in scenes:
        start = scene.statement.start + scene.statement.heading
        field = POSTOP if _is_contrasted(scene, last) else FIELD.get(scene.section, "")
        if field == PREOP and _tells(scene, before, last):
            turn = _turns_to_the_later(scene, start)
            items = _under_heading(scene, PREOP, start, turn)
            before += items
            after += [] if turn is None else _under_heading(scene, POSTOP, turn + 1)
            after += _repeated(items or before or _introduced(scenes), _same_afterwards(scene, items, start))
        elif (both := _before_and_after(scene)) is not None:
            before = before or [both]
            after += [replace(both, attribute=POSTOP)]
        elif field == POSTOP:
            same = _same_at(scene, start)
            first = start if same is None else _added(scene, same)
            after += _repeated(before or _introduced(scenes), same)
            after += [] if first is None else _under_heading(scene, POSTOP, first)
        last = field
    return [*(before or _introduced(scenes)), *_distinct(after)]


def _tells(scene: Scene, before: Sequence[Slot], last: str) -> bool:
    """Whether a statement lists the diagnoses, and does not only speak of one ("an MRI confirmed the diagnosis of ...")."""
    start = scene.statement.start + scene.statement.heading
    return not before or last == PREOP or scene.statement.heading == 0 or is_labelled(scene, start) or _same_at(scene, start) is not None


def _is_contrasted(scene: Scene, last: str) -> bool:
    """ "Preop diagnosis, PCL tear. Postop, PCL tear and a retained screw.": the second names diagnoses too, and no plan."""
    if last != PREOP:
        return False
    words = scene.words_of("afterwards")
    after = not words.isdisjoint(scene.words[: scene.statement.heading])
    listed_ = after and scene.section == "plan" and any(m.kind == NOUN for m in scene.mentions)
    return listed_ or _is_the_same_afterwards(scene)


def _is_the_same_afterwards(scene: Scene) -> bool:
    """ "Post op is the same thing": nothing but the heading stands before "same"."""
    lead = list(takewhile(lambda word: word not in scene.words_of("the-same"), scene.words))
    passed = scene.words_of("afterwards") | scene.words_of("leads-to-a-diagnosis") | scene.words_of("heads-a-diagnosis")
    return len(lead) < len(scene.words) and not scene.words_of("afterwards").isdisjoint(lead[:1]) and passed.issuperset(lead)


def _turns_to_the_later(scene: Scene, start: int) -> int | None:
    """The place of "postop" in "a tear, and postop, a tear and a lesion": what follows are the diagnoses after the operation."""
    words, commas = scene.talk.words, (",", ":")
    for place in range(start + 1, scene.statement.end - 1):
        parted = words[place - 1] in ("and", *commas) and (words[place + 1] in commas or words[place + 1] == "is")
        if parted and words[place] in scene.words_of("afterwards") and any(m.kind == NOUN and m.start > place for m in scene.talk.mentions):
            listed_ = _under_heading(scene, POSTOP, place + 1)
            return place if listed_ else None
    return None


def _before_and_after(scene: Scene) -> Slot | None:
    """ "Recurrent patellar dislocation before and after.": a statement that is one diagnosis, told to be both."""
    last = scene.statement.end
    while last > scene.statement.start and not scene.talk.words[last - 1].isalnum():
        last -= 1
    phrases = [tuple(phrase.split()) for phrase in scene.words_of("before-and-after")]
    told = next((phrase for phrase in phrases if scene.lead(last, len(phrase)) == phrase), None)
    nouns = [m for m in scene.of(NOUN) if told is not None and m.end <= last - len(told)]
    if told is None or not nouns:
        return None
    noun, first = nouns[0], scene.statement.start + scene.statement.heading
    between = scene.between(noun.end, last - len(told))
    if _first_qualifier(scene, noun) > first or not _is_diagnosis(scene, noun, first) or any(word.isalnum() for word in between):
        return None
    return Slot(PREOP, first, noun.end, scene.talk.doc[first : noun.end].text, why=("before and after",))


def _added(scene: Scene, same: int) -> int | None:
    """The place behind "same" at which further diagnoses begin ("the same plus a meniscal tear"), if any do."""
    adds = scene.words_of("adds-to-the-same")
    nouns = [
        m.start for m in scene.talk.mentions if m.kind == NOUN and m.start > same
    ]  # "the same thing, a tear and a lesion" adds nothing
    for place in range(same + 1, min([scene.statement.end, same + ADDED_WITHIN, *nouns])):
        if scene.talk.words[place] in adds:
            while place < scene.statement.end and scene.talk.words[place] in adds | scene.words_of("leads-to-a-diagnosis"):
                place += 1
            return place if any(m.kind == NOUN and m.start >= place for m in scene.mentions) else None
    return None


def _under_heading(scene: Scene, name: str, start: int, end: int | None = None) -> list[Slot]:
    """The diagnoses of a list that begins at a place, as worded."""
    worded = [(left, right, _joined(scene.talk.doc[left:right].text.strip(" .,;:"))) for left, right in listed(scene, start, end)]
    return [Slot(name, left, right, text, why=("under its heading",)) for left, right, text in worded if text]


def _joined(text: str) -> str:
    """A diagnosis with the letters of an abbreviation together ("a c l tear" is an ACL tear)."""
    return SPELLED.sub(lambda letters: letters[0].replace(" ", "").upper(), text)


def _same_at(scene: Scene, start: int) -> int | None:
    """The place of "same" right behind the heading, or the last word of the heading itself ("postop same")."""
    places = [*range(start, min(scene.statement.end, start + SAME_WITHIN)), start - 1]
    return next((place for place in places if scene.talk.words[place] in scene.words_of("the-same")), None)


def _same_afterwards(scene: Scene, items: Sequence[Slot], start: int) -> int | None:
    """The place of "same" in "a tear before, and after, same"."""
    floor = max((item.end for item in items), default=start)
    rest = scene.between(floor, scene.statement.end)
    if scene.words_of("afterwards").isdisjoint(rest):
        return None
    return next((place for place, word in enumerate(rest, start=floor) if word in scene.words_of("the-same")), None)


def _repeated(items: Iterable[Slot], place: int | None) -> list[Slot]:
    """Diagnoses after the operation that the word "same" at a place repeats."""
    if place is None:
        return []
    return [Slot(POSTOP, place, place + 1, item.value, why=("the same as before the operation",)) for item in items]


def _distinct(slots: Iterable[Slot]) -> Iterator[Slot]:
    """The first of each diagnosis, in any case."""
    seen: set[str] = set()
    for slot in slots:
        if str(slot.value).lower() not in seen:
            seen.add(str(slot.value).lower())
            yield slot


def _introduced(scenes: Iterable[Scene]) -> list[Slot]:
    """A diagnosis named without a heading while the case is introduced ("he's got a chronic grade three FCL tear")."""
    for scene in scenes:
        if _is_past_the_introduction(scene):
            return []
        for noun in _nouns(scene):
            start = _first_qualifier(scene, noun)
            if _is_diagnosis(scene, noun, start):
                text = scene.talk.doc[start : noun.end].text
                return [Slot(PREOP, start, noun.end, text, why=("named while the case is introduced",))]
    return []


def _is_past_the_introduction(scene: Scene) -> bool:
    late = scene.statement.start > EARLY * len(scene.talk.words)
    return late or scene.focus.fixed or scene.section in scene.words_of("sections-past-the-introduction")


def _nouns(scene: Scene) -> list[Mention]:
    """The diagnosis nouns of a statement that introduces the case; none where it does or examines something, or tells of a scan."""
    if any(q.kind == "clock" for q in scene.quantities) or scene.of("action", "exam") or scene.says("tells-of-a-scan"):
        return []
    structures = scene.of("structure")
    return [noun for noun in scene.of(NOUN) if not any(overlaps(noun, structure) for structure in structures)]


def _first_qualifier(scene: Scene, noun: Mention) -> int:
    """Back over the words that qualify a noun."""
    place, words = noun.start, scene.talk.words
    while place > scene.statement.start and words[place - 1].isalnum() and words[place - 1] not in scene.words_of("before-a-diagnosis"):
        if words[place] in SIDES and words[place - 1] not in scene.words_of("qualifies-a-diagnosis"):
            break
        place -= 1
    return place


def _is_diagnosis(scene: Scene, noun: Mention, start: int) -> bool:
    """Whether a noun with its qualifiers is a diagnosis: qualified as one, or with its structure, and no mere "pain"."""
    qualified = not scene.words_of("qualifies-a-diagnosis").isdisjoint(scene.between(start, noun.start))
    structured = any(start <= s.start < noun.end for s in scene.of("structure"))
    vague = scene.words_of("no-diagnosis-alone").issuperset(scene.between(noun.start, noun.end))
    return start < noun.start and (qualified or structured) and not vague
