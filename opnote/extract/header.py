"""The facts of the case as a whole: anesthesia, antibiotic, losses, counts, disposition, identifiers, the date, the side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.cues import never_share
from opnote.extract.denials import open_fields
from opnote.extract.frames import Slot
from opnote.extract.identifiers import announced
from opnote.extract.model import Choice
from opnote.extract.people import people
from opnote.extract.scene import Scene, apart
from opnote.extract.slots import from_mention, mentioned, won
from opnote.language.model import Quantity
from opnote.language.terms import Mention

EARLY = 0.2  # share of the talk in which the case is introduced
DOSE, BIRTH = "antibiotic_dose", "date_of_birth"
DOSE_WITHIN = 6  # words between a drug and its dose
WARNED_WITHIN = 4  # words between a drug and the warning of it
BARRED_WITHIN = 8  # words between a date and the word that makes it another one
A_DAY = len("2026-11-25")  # month and year alone are no date of surgery
BESIDE_A_DATE = 2  # other words in a statement that is a date


def header(scene: Scene, choices: Sequence[Choice]) -> list[Slot]:
    """The slots of the case that a statement gives: "general anesthesia, cefazolin two grams, EBL fifty"."""
    slots = [slot for slot in won(scene, choices, "case") if slot.attribute != DOSE]
    if not scene.barred("case"):
        slots += [*_single_terms(scene), *_antibiotics(scene), *people(scene), *_identified(scene)]
    return [*slots, *open_fields(scene), *_disposition(scene)]


def _single_terms(scene: Scene) -> Iterator[Slot]:
    """Counts anywhere, the position before a graft is fixed, the anesthesia also later under its heading."""
    yield from mentioned(scene, "counts", "counts")
    if not scene.focus.fixed:
        yield from mentioned(scene, "position", "position")
    if not scene.focus.fixed or scene.section in ("anesthesia", "header"):
        yield from mentioned(scene, "anesthesia", "anesthesia")


def _antibiotics(scene: Scene) -> Iterator[Slot]:
    for drug in scene.of("antibiotic"):
        if _is_warned_of(scene, drug):
            continue
        yield from_mention("antibiotic", drug)
        dose = next((q for q in scene.quantities if _is_dose(scene, q, drug)), None)
        if dose is not None and isinstance(dose.value, float):
            value = f"{dose.value:g} {dose.unit}"
            yield Slot(DOSE, dose.start, dose.end, value, why=(*dose.why, "dose beside the drug"))


def _is_dose(scene: Scene, quantity: Quantity, drug: Mention) -> bool:
    """Whether a mass stands beside a drug and is no other drug's."""
    beside = quantity.kind == "mass" and apart(quantity, drug) <= DOSE_WITHIN
    return beside and not never_share(scene, quantity, scene.lexicon.attributes["case", DOSE])


def _is_warned_of(scene: Scene, drug: Mention) -> bool:
    """Whether the drug is the one that is warned of ("allergic to penicillin"), and not another one nearby."""
    entry, drugs = scene.lexicon.attributes["case", "antibiotic"], scene.of("antibiotic")
    warnings = [hit for hit in scene.hits_of(entry) if hit.use == "never" and apart(drug, hit) <= WARNED_WITHIN]
    return any(min(drugs, key=lambda d: apart(d, warning)) is drug for warning in warnings)


def _identified(scene: Scene) -> Iterator[Slot]:
    """The patient's number, the date of surgery and that of birth."""
    for quantity in scene.quantities:
        if quantity.kind == "identifier" and _is_patients(scene, quantity):
            yield Slot("patient_id", quantity.start, quantity.end, quantity.value, why=quantity.why)
        if quantity.kind == "date" and len(str(quantity.value)) == A_DAY and _is_of_surgery(scene, quantity):
            yield Slot("date_of_surgery", quantity.start, quantity.end, quantity.value, why=quantity.why)
        if quantity.kind == "date" and announced(scene, quantity, "case") == BIRTH:
            yield Slot(BIRTH, quantity.start, quantity.end, quantity.value, why=quantity.why)


def _is_patients(scene: Scene, quantity: Quantity) -> bool:
    others = [announced(scene, quantity, kind) for kind in ("implant", "graft")]
    return announced(scene, quantity, "case") is not None and not any(others)


def _is_of_surgery(scene: Scene, quantity: Quantity) -> bool:
    """Whether a date is announced, spoken of as today's, or said by itself at the start, and is no other one (of birth)."""
    entry = scene.lexicon.attributes["case", "date_of_surgery"]
    if any(hit.use == "never" and abs(hit.start - quantity.start) <= BARRED_WITHIN for hit in scene.hits_of(entry)):
        return False
    if scene.of("event") or scene.says("today"):
        return True
    return announced(scene, quantity, "case") == entry.name or _alone_and_early(scene, quantity)


def _alone_and_early(scene: Scene, quantity: Quantity) -> bool:
    """A date that is a statement of its own among the first of the talk."""
    rest = len(scene.words) - (quantity.end - quantity.start)
    return rest <= BESIDE_A_DATE and scene.statement.start < EARLY * len(scene.talk.words) and not scene.focus.fixed


def _disposition(scene: Scene) -> list[Slot]:
    return [from_mention("disposition", m) for m in scene.of("disposition") if _is_sent(scene, m)]


def _is_sent(scene: Scene, place: Mention) -> bool:
    """Whether the patient goes to a place that is named ("to the ward"), or is in it already ("in the recovery room")."""
    lead = scene.lead(place.start, 2)
    if "to" in lead or lead == ("for", "the") or (lead == ("in", "the") and place.value == "recovery room"):
        return True
    went = place.value == "home" and place.end - place.start > 1
    tonight = not scene.words_of("for-the-night").isdisjoint(scene.between(place.end, place.end + 1))
    return went or tonight or not scene.words_of("names-the-disposition").isdisjoint(scene.lead(place.start, 3))


def sides(scenes: Sequence[Scene]) -> list[Slot]:
    """The mentions that tell the operated side: in diagnoses and procedures first, elsewhere in the talk only if those are silent."""
    said = [(scene, mention) for scene in scenes for mention in scene.of("side")]
    titled = [mention for scene, mention in said if _titles(scene)]
    named = titled or [mention for scene, mention in said if not scene.barred("case")]
    return [from_mention("side", mention) for mention in named]


def _titles(scene: Scene) -> bool:
    """Whether a side in this statement is that of the operation: under its headings, or beside an action."""
    headed = scene.section in scene.words_of("sections-of-the-side")
    return headed or bool(scene.of("action")) or scene.says("titles-of-the-case")
