"""The facts of the case as a whole: side, anesthesia, antibiotic, losses, specimens, disposition, identifiers and dates."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.frames import Slot
from opnote.extract.linker import never_share
from opnote.extract.model import Choice
from opnote.extract.people import people
from opnote.extract.scene import Scene
from opnote.extract.slots import from_mention, won
from opnote.extract.things import _identifier_name
from opnote.language.terms import Mention
from opnote.lexicon import AttributeEntry, Lexicon

NEVER_HERE = frozenset({"indications", "plan"})
DENIED = frozenset({"no", "without", "nil", "none", "nothing", "zero", "not"})
LISTED = frozenset({",", "or", "and", "nor", "any", ":", "the", "no", "surgical"})
ABSENT = frozenset({"none", "nil", "no", "zero", "nothing"})
DETERMINERS = frozenset({"a", "an", "the", "one", "and", "with", "of", "that", "this", "no", "my", "in", "over"})
EARLY = 0.2  # share of the talk in which the case is introduced
OPEN_FIELDS = ("specimens", "drains", "complications")


def header(scene: Scene, choices: Sequence[Choice], lexicon: Lexicon) -> list[Slot]:
    """The slots of the case that a statement gives."""
    slots = [s for s in won(choices, "case", scene.talk.corrected) if s.attribute not in ("antibiotic_dose",)]
    if scene.section not in NEVER_HERE:
        slots += _single_terms(scene, lexicon)
        slots += _antibiotic(scene, lexicon)
        slots += [slot for _, names in people(scene, lexicon) for slot in names]
        slots += list(_identified(scene, lexicon))
    slots += _denied(scene, lexicon)
    slots += _disposition(scene)
    return slots


def _single_terms(scene: Scene, lexicon: Lexicon) -> list[Slot]:
    slots = [from_mention("counts", m) for m in scene.of("counts")]
    slots += [from_mention("position", m) for m in scene.of("position") if not scene.after_fixation]
    early = scene.section in ("anesthesia", "header") or not scene.after_fixation
    slots += [from_mention("anesthesia", m) for m in scene.of("anesthesia") if early]
    return slots


def _antibiotic(scene: Scene, lexicon: Lexicon) -> list[Slot]:
    entry, dose = lexicon.attributes[("case", "antibiotic")], lexicon.attributes[("case", "antibiotic_dose")]
    slots: list[Slot] = []
    for drug in scene.of("antibiotic"):
        if _beside_never(scene, entry, drug):
            continue
        slots.append(from_mention("antibiotic", drug))
        masses = [
            q for q in scene.quantities if (q.kind == "mass" and drug.start - q.end >= -4) or (q.kind == "mass" and q.start >= drug.end)
        ]
        near = [q for q in masses if max(q.start - drug.end, drug.start - q.end) <= 6 and not never_share(scene, q, dose)]
        if near and isinstance(near[0].value, float):
            value = f"{near[0].value:g} {near[0].unit}"
            slots.append(Slot("antibiotic_dose", near[0].start, near[0].end, value, why=(*near[0].why, "dose beside the drug")))
    return slots


def _beside_never(scene: Scene, entry: AttributeEntry, drug: Mention) -> bool:
    """Whether the drug is the one that is warned of ("allergic to penicillin"), and not another one nearby."""

    def apart(drug: Mention, start: int, end: int) -> int:
        return max(start - drug.end, drug.start - end)

    drugs = scene.of("antibiotic")
    warnings = [h for h in scene.hits if h.use == "never" and h.entry is entry and apart(drug, h.start, h.end) <= 4]
    return any(min(drugs, key=lambda d: apart(d, h.start, h.end)) is drug for h in warnings)


def _identified(scene: Scene, lexicon: Lexicon) -> Iterator[Slot]:
    """The patient's number and the date of surgery."""
    date = lexicon.attributes[("case", "date_of_surgery")]
    for quantity in scene.quantities:
        if quantity.kind == "identifier" and _identifier_name(scene, quantity.start, "identifier", "case"):
            others = [_identifier_name(scene, quantity.start, "identifier", kind) for kind in ("implant", "graft")]
            if not any(others):
                yield Slot("patient_id", quantity.start, quantity.end, quantity.value, why=quantity.why)
        if quantity.kind == "date" and isinstance(quantity.value, str) and len(quantity.value) == 10:
            said = _identifier_name(scene, quantity.start, "date", "case") is not None or _alone_and_early(
                scene, quantity.start, quantity.end
            )
            barred = any(h.use == "never" and h.entry is date and abs(h.start - quantity.start) <= 8 for h in scene.hits)
            spoken = bool(scene.of("event")) or {"today", "today's"} & set(scene.words)
            if (said or spoken) and not barred:
                yield Slot("date_of_surgery", quantity.start, quantity.end, quantity.value, why=quantity.why)


def _alone_and_early(scene: Scene, start: int, end: int) -> bool:
    """A date that is a statement of its own among the first of the talk."""
    rest = (start - scene.statement.start) + (scene.statement.end - end)
    return rest <= 2 and scene.statement.start < EARLY * len(scene.talk.words) and not scene.after_fixation


def _denied(scene: Scene, lexicon: Lexicon) -> list[Slot]:
    """ "no drain", "specimens: none", "no drains, specimens or complications"."""
    slots: list[Slot] = []
    for name in OPEN_FIELDS:
        entry = lexicon.attributes[("case", name)]
        for hit in scene.hits:
            if hit.use != "before" or hit.entry is not entry or scene.talk.stances[hit.start].name not in ("done", "planned", "not done"):
                continue
            found = _none_before(scene, hit.start, lexicon) or _after(scene, hit.end) or _placed(scene, hit.start, hit.end, name)
            if found:
                value, start, end = found
                slots.append(Slot(name, min(start, hit.start), max(end, hit.end), value, why=("said of the field",)))
                break
    return slots


def _none_before(scene: Scene, start: int, lexicon: Lexicon) -> tuple[str, int, int] | None:
    """A denial before the field's name, with only other such names in between."""
    fields = {h.start: h.end for h in scene.hits if h.use == "before" and getattr(h.entry, "name", "") in OPEN_FIELDS}
    inside = {place for begin, end in fields.items() for place in range(begin, end)}
    words = scene.talk.words
    place = start - 1
    while place >= scene.statement.start and start - place <= 14:
        if words[place] in ABSENT or words[place] == "without":
            return "none", place, start
        if words[place] in ("sent", "for", "to") and place > scene.statement.start and words[place - 1] in ("nothing", "sent", "none"):
            place -= 1
            continue
        if (
            place not in inside
            and words[place] not in LISTED
            and words[place] not in ("intraoperative", "immediate", "apparent", "known", "wound")
        ):
            return None
        place -= 1
    return None


PLACED = frozenset({"left", "placed", "put", "inserted", "brought", "exits", "secured", "sutured", "sewn", "stitched", "leaving"})


def _placed(scene: Scene, start: int, end: int, name: str) -> tuple[str, int, int] | None:
    """ "I left a small suction drain in": the drain with the words before it."""
    if name != "drains" or scene.talk.stances[start].name != "done" or not PLACED & set(scene.words):
        return None
    first = start
    while (
        first > scene.statement.start
        and start - first < 4
        and scene.talk.words[first - 1] not in DETERMINERS | PLACED
        and scene.talk.words[first - 1].isalpha()
    ):
        first -= 1
    return scene.talk.doc[first:end].text, first, end


def _after(scene: Scene, end: int) -> tuple[str, int, int] | None:
    """A denial or the words after the field's name and a colon."""
    words, limit = scene.talk.words, scene.statement.end
    place = end
    while place < limit and words[place] in (":", "were", "was", "is", "are", ",", "colon"):
        place += 1
    if place >= limit:
        return None
    if words[place] in ABSENT:
        return "none", end, place + 1
    if end < limit and words[end] == ":":
        stop = place
        while stop < limit and words[stop] not in (".", ";") and stop - place < 14:
            stop += 1
        text = scene.talk.doc[place:stop].text.strip()
        return (text, place, stop) if text else None
    return None


def _disposition(scene: Scene) -> list[Slot]:
    slots = []
    for mention in scene.of("disposition"):
        lead = scene.talk.words[max(scene.statement.start, mention.start - 3) : mention.start]
        went = mention.value == "home" and len(scene.between(mention.start, mention.end)) > 1
        tonight = bool({"tonight", "overnight"} & set(scene.between(mention.end, mention.end + 1)))
        if (
            "to" in lead[-2:]
            or lead[-2:] == ("for", "the")
            or tonight
            or "disposition" in lead
            or went
            or (lead[-2:] == ("in", "the") and mention.value == "recovery room")
        ):
            slots.append(from_mention("disposition", mention))
    return slots


def sides(scenes: Sequence[Scene]) -> list[tuple[Scene, Mention]]:
    """The mentions that tell the operated side: in diagnoses and procedures first, elsewhere in the talk only if those are silent."""
    named: list[tuple[Scene, Mention]] = []
    other: list[tuple[Scene, Mention]] = []
    for scene in scenes:
        for mention in scene.of("side"):
            heading = scene.section in ("preop diagnosis", "postop diagnosis", "procedures")
            titled = bool(scene.of("action")) or bool({"operation", "procedure", "laterality", "marked", "op"} & set(scene.words))
            (named if heading or titled else other).append((scene, mention))
    return named or [(s, m) for s, m in other if s.section not in NEVER_HERE]
