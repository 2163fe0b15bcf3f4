"""Fields that are filled by denying them or in free words: specimens, drains, complications."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from opnote.extract.frames import Slot
from opnote.extract.scene import Scene
from opnote.language.phrases import Hit
from opnote.lexicon import AttributeEntry

DENIED_WITHIN = 14  # words between a denial and the last field that it denies
WORDED_WITHIN = 14  # words behind a field and its colon that are said of it
DESCRIBED_BY = 4  # words that describe a drain
ASKED_WITHIN = 3  # words between a field and the end of the question for it
SHORT_ANSWER = 3  # words of "no, none."
NONE = "none"
DRAINS, LOSS = "drains", "ebl_mL"
NOTHING_LOST = (("nil",), ("none",))
TOLD = frozenset({"done", "planned", "not done"})  # stances in which a field is told of
ENDS = (".", ";")

Told = tuple[str, int, int]
"""What is said of a field, and on which tokens."""


def open_fields(scene: Scene) -> Iterator[Slot]:
    """What is said of each such field: "no drain", "specimens: none", "no drains, specimens or complications"."""
    yield from _answered(scene)
    for entry in fields(scene):
        for hit in scene.hits_of(entry):
            if hit.use != "before" or scene.talk.stances[hit.start].name not in TOLD:
                continue
            told = _denied_in_front(scene, hit) or _said_behind(scene, hit) or _left_in(scene, hit, entry)
            if told is not None:
                value, start, end = told
                yield Slot(entry.name, min(start, hit.start), max(end, hit.end), value, why=("said of the field",))
                break


def _answered(scene: Scene) -> Iterator[Slot]:
    """ "Complications?" - "None.": a denial that answers the field named right before."""
    first = scene.statement.start
    denied = scene.talk.words[first] in scene.words_of("absent")
    if not denied or (scene.talk.words[first] == "no" and len(scene.words) > SHORT_ANSWER):
        return
    for entry in fields(scene):
        asked = [hit for hit in scene.hits_before(entry) if "?" in scene.between(hit.end, hit.end + ASKED_WITHIN)]
        if asked and first - asked[-1].end <= ASKED_WITHIN and not scene.hits_of(entry):
            yield Slot(entry.name, asked[-1].start, first + 1, NONE, why=("answers the question for it",))


def bloodless(scene: Scene) -> Iterator[Slot]:
    """ "Blood loss nil", "Blood loss?" - "None.": a loss that is denied is one of nothing; one told to be small has no number."""
    entry = scene.lexicon.attributes["case", LOSS]
    asked = [h.end for h in scene.hits_before(entry) if _is_of_blood(scene, h) and "?" in scene.between(h.end, h.end + ASKED_WITHIN)]
    told = [hit for hit in scene.hits_of(entry) if hit.use == "before" and scene.talk.stances[hit.start].name in TOLD]
    places = [hit.end for hit in told if _is_of_blood(scene, hit)]
    if asked and scene.statement.start - asked[-1] <= ASKED_WITHIN:
        places.append(scene.statement.start)
    for first in places:
        place = first
        while place < scene.statement.end and scene.talk.words[place] in scene.words_of("field-is"):
            place += 1
        behind = scene.between(place + 1, min(place + 2, scene.statement.end))
        if scene.between(place, place + 1) in NOTHING_LOST and not any(word.isalnum() for word in behind):
            yield Slot(LOSS, place, place + 1, 0.0, unit="mL", why=("a loss that is denied",))
            return


def _is_of_blood(scene: Scene, hit: Hit) -> bool:
    """Whether a cue names the loss in full: "loss" alone may be one of motion."""
    return scene.words_of("loss-of-anything").isdisjoint(scene.between(hit.start, hit.end)) or hit.end - hit.start > 1


def fields(scene: Scene) -> list[AttributeEntry]:
    """The attributes of the case that are filled in words behind a cue of their own."""
    return [entry for entry in scene.lexicon.of("case") if entry.value == "words" and entry.before]


def _denied_in_front(scene: Scene, hit: Hit) -> Told | None:
    """A denial before the field's name, with only other such names in between."""
    names = [h for entry in fields(scene) for h in scene.hits_of(entry) if h.use == "before"]
    inside = {place for h in names for place in range(h.start, h.end)}
    deny = scene.words_of("absent") | scene.words_of("without")
    passed = scene.words_of("between-denial-and-field")
    for place in range(hit.start - 1, max(scene.statement.start, hit.start - DENIED_WITHIN) - 1, -1):
        word = scene.talk.words[place]
        if word in deny:
            return NONE, place, hit.start
        if place not in inside and word not in passed and not _sent_for(scene, place):
            return None
    return None


def _sent_for(scene: Scene, place: int) -> bool:
    """Whether a word is the "sent" or the "for" of "nothing sent for histology"."""
    return scene.talk.words[place] in scene.words_of("sent-for") and scene.led_by(place, "nothing-sent")


def _said_behind(scene: Scene, hit: Hit) -> Told | None:
    """A denial behind the field's name, or the words behind it and a colon."""
    words, limit = scene.talk.words, scene.statement.end
    others = {at for entry in fields(scene) for h in scene.hits_of(entry) if h.use == "before" for at in range(h.start, h.end)}
    place = hit.end
    while place < limit and (words[place] in scene.words_of("field-is") or place in others or _joins_fields(scene, place, others)):
        place += 1
    if place >= limit:
        return None
    if words[place] in scene.words_of("absent"):
        return NONE, hit.end, place + 1
    refused = words[place] == "not" and scene.words_of("refused-field").intersection(scene.between(place + 1, min(place + 2, limit)))
    if refused and not any(word.isalnum() for word in scene.between(place + 2, min(place + 3, limit))):
        return NONE, hit.end, place + 2
    if words[hit.end] != ":":
        return None
    stop = next((i for i in range(place, limit) if words[i] in ENDS or i - place == WORDED_WITHIN), limit)
    text = scene.talk.doc[place:stop].text.strip()
    return (text, place, stop) if text else None


def _joins_fields(scene: Scene, place: int, names: Collection[int]) -> bool:
    """Whether a word joins two fields that share what is said behind them ("drains and specimens: none")."""
    return scene.talk.words[place] in scene.words_of("joins-fields") and place + 1 in names


def _left_in(scene: Scene, hit: Hit, entry: AttributeEntry) -> Told | None:
    """ "I left a small suction drain in": the drain with the words before it."""
    placed = scene.words_of("leaves-a-drain")
    if entry.name != DRAINS or scene.talk.stances[hit.start].name != "done" or placed.isdisjoint(scene.words):
        return None
    first = hit.start
    while first > scene.statement.start and hit.start - first < DESCRIBED_BY:
        word = scene.talk.words[first - 1]
        if not word.isalpha() or word in scene.words_of("before-a-drain") or word in placed:
            break
        first -= 1
    return scene.talk.doc[first : hit.end].text, first, hit.end
