"""The facts of the case as a whole: anesthesia, antibiotic, losses, counts, disposition, identifiers, the date, the side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.cues import never_share
from opnote.extract.denials import bloodless, open_fields
from opnote.extract.frames import Slot
from opnote.extract.identifiers import announced
from opnote.extract.model import Choice
from opnote.extract.people import named, people
from opnote.extract.scene import Scene, Stretch, apart
from opnote.extract.slots import from_mention, from_quantity, mentioned, won
from opnote.extract.spelling import in_order
from opnote.language.model import Quantity
from opnote.language.terms import Mention

EARLY = 0.2  # share of the talk in which the case is introduced
LATE = 0.7  # share of the talk after which a place alone is where the patient goes
DOSE, BIRTH = "antibiotic_dose", "date_of_birth"
DOSE_WITHIN = 6  # words between a drug and its dose
WARNED_WITHIN = 4  # words between a drug and the warning of it
BARRED_WITHIN = 8  # words between a date and the word that makes it another one
OPENING = 2  # statements of a talk in which its speaker and its patient are told
OPENED_BY = ("surgeon", "patient_id")
KNEE = "knee"  # the limb alone that is operated on here: "left hand, please" asks for one
A_DAY = len("2026-11-25")  # month and year alone are no date of surgery
BESIDE_A_DATE = 4  # other words in a statement that is a date, and a clock time or a number with it
CUFF_MMHG, CUFF_STEP, CUFF_LEAST = (150, 400), 5, 0.5  # pressures of a cuff are set in steps; the score from which a lone one is believed


def header(scene: Scene, choices: Sequence[Choice]) -> list[Slot]:
    """The slots of the case that a statement gives: "general anesthesia, cefazolin two grams, EBL fifty"."""
    slots = [slot for slot in won(scene, choices, "case") if slot.attribute != DOSE]
    if not scene.barred("case"):
        slots += [*_cuff(scene, choices), *_single_terms(scene), *_antibiotics(scene), *people(scene), *_identified(scene)]
    return [*slots, *open_fields(scene), *bloodless(scene), *_disposition(scene)]


def _single_terms(scene: Scene) -> Iterator[Slot]:
    """Counts anywhere, the position before a graft is fixed, the anesthesia also later under its heading."""
    yield from mentioned(scene, "counts", "counts")
    if not scene.focus.fixed and not scene.says("off-the-table"):
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
    """Whether a mass stands beside a drug and is no other drug's, not even of one that was taken back."""
    beside = quantity.kind == "mass" and apart(quantity, drug) <= DOSE_WITHIN
    taken_back = [c.old for c in scene.talk.corrected if isinstance(c.old, Mention) and c.old.kind == drug.kind]
    if any(drug.start > old.start and apart(quantity, old) < apart(quantity, drug) and quantity.end <= drug.start for old in taken_back):
        return False
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
        if quantity.kind == "date" and _is_day(quantity) and _is_of_surgery(scene, quantity):
            yield from_quantity("case", "date_of_surgery", in_order(quantity, scene.talk, scene.lexicon))[0]
        if quantity.kind == "date" and announced(scene, quantity, "case") == BIRTH:
            yield from_quantity("case", BIRTH, in_order(quantity, scene.talk, scene.lexicon))[0]


def _is_day(quantity: Quantity) -> bool:
    """Whether a date is a day, whichever of its readings it is."""
    return all(len(str(day)) == A_DAY for day in quantity.readings or (quantity.value,))


def _is_patients(scene: Scene, quantity: Quantity) -> bool:
    others = [announced(scene, quantity, kind) for kind in ("implant", "graft")]
    return (announced(scene, quantity, "case") is not None or _opens_with(scene, quantity)) and not any(others)


def _opens_with(scene: Scene, quantity: Quantity) -> bool:
    """ "Dr Holm dictating, number is 5520981": a bare number where a talk begins by telling who speaks."""
    place = quantity.start
    while place > scene.statement.start and scene.talk.words[place - 1] in scene.words_of("field-is"):
        place -= 1
    numbered = scene.lead(place, 1) == ("number",) and scene.words_of("numbers-of-things").isdisjoint(scene.lead(place - 1, 1))
    return numbered and scene.statement.index < OPENING and bool(list(people(scene)))


def _is_of_surgery(scene: Scene, quantity: Quantity) -> bool:
    """Whether a date is announced, spoken of as today's, or said by itself at the start, and is no other one (of birth)."""
    entry = scene.lexicon.attributes["case", "date_of_surgery"]
    if any(hit.use == "never" and abs(hit.start - quantity.start) <= BARRED_WITHIN for hit in scene.hits_of(entry)):
        return False
    if scene.of("event") or scene.says("today") or (scene.statement.index < OPENING and scene.led_by(quantity.start, "it-is-the")):
        return True
    return announced(scene, quantity, "case") == entry.name or _alone_and_early(scene, quantity)


def _alone_and_early(scene: Scene, quantity: Quantity) -> bool:
    """A date that is a statement of its own among the first of the talk, or stands there with the time or the patient's number."""
    entry = scene.lexicon.attributes["case", "date_of_surgery"]
    asked = any(hit.use == "never" for hit in scene.focus.cues.get((entry.type, entry.name), ()))
    cues = [hit for name in OPENED_BY for hit in scene.hits_of(scene.lexicon.attributes["case", name])]
    spoken: Sequence[Stretch] = [*scene.quantities, *people(scene), *cues]
    told = {place for said in spoken for place in range(said.start, said.end)}
    places = range(scene.statement.start, scene.statement.end)
    rest = [place for place in places if place not in told and scene.talk.words[place].isalnum()]
    early = scene.statement.start < EARLY * len(scene.talk.words)
    return len(rest) <= BESIDE_A_DATE and early and not asked and not scene.focus.fixed


def _cuff(scene: Scene, choices: Sequence[Choice]) -> Iterator[Slot]:
    """A lone number that can only be the pressure of the cuff ("the tourniquet went up at eight, that's three hundred")."""
    for choice in choices:
        best, quantity = next(iter(choice.candidates), None), choice.quantity
        if choice.won is not None or best is None or (best.type, best.attribute) != ("case", "tourniquet_mmHg"):
            continue
        value = quantity.value
        set_so = isinstance(value, float) and CUFF_MMHG[0] <= value <= CUFF_MMHG[1] and value % CUFF_STEP == 0
        if quantity.kind == "number" and set_so and best.score >= CUFF_LEAST:
            why = ("a pressure, and nothing else claims it",)
            yield Slot("tourniquet_mmHg", quantity.start, quantity.end, value, unit="mm[Hg]", why=why)


def _disposition(scene: Scene) -> list[Slot]:
    return [from_mention("disposition", m) for m in scene.of("disposition") if _is_sent(scene, m)]


def _is_sent(scene: Scene, place: Mention) -> bool:
    """Whether the patient goes to a place that is named ("to the ward"), or is in it already ("in the recovery room")."""
    lead = scene.lead(place.start, 2)
    if "to" in lead or lead == ("for", "the") or (lead == ("in", "the") and place.value == "recovery room"):
        return True
    if _names_the_next_stop(scene, place):
        return True
    went = place.value == "home" and place.end - place.start > 1
    tonight = not scene.words_of("for-the-night").isdisjoint(scene.between(place.end, place.end + 1))
    return went or tonight or not scene.words_of("names-the-disposition").isdisjoint(scene.lead(place.start, 3))


def _names_the_next_stop(scene: Scene, place: Mention) -> bool:
    """ "Recovery room, please, everyone.": a place that begins a statement at the end of the operation."""
    late = scene.focus.fixed and scene.statement.start > LATE * len(scene.talk.words)
    stops = not scene.words_of("behind-a-stop").isdisjoint(scene.between(place.end, place.end + 1))
    return late and place.start == scene.statement.start and stops


def sides(scenes: Sequence[Scene]) -> list[Slot]:
    """The mentions that tell the operated side: in diagnoses and procedures first, elsewhere in the talk only if those are silent."""
    said = [(scene, mention) for scene in scenes for mention in scene.of("side")]
    titled = [mention for scene, mention in said if _titles(scene)]
    named = titled or [mention for scene, mention in said if not scene.barred("case")] or _complained_of(said)
    return [from_mention("side", mention) for mention in named]


def _complained_of(said: Sequence[tuple[Scene, Mention]]) -> list[Mention]:
    """The side of the history where nothing else tells one, and the history but one ("right knee pain")."""
    named = {m.value for scene, _ in said[:1] for m in scene.talk.mentions if m.kind == "side"}  # in whatever stance
    told = [m for scene, m in said if not scene.words_of("of-the-knee").isdisjoint(scene.between(m.end, m.end + 2))]
    return told if len(named) == 1 else []


def placed(slots: Sequence[Slot], scenes: Sequence[Scene]) -> list[Slot]:
    """The slots of a case, without a position where the patient was then brought into one that the record has no word for."""
    other = any(scene.of("other position") for scene in scenes)
    return [slot for slot in named(slots) if not (other and slot.attribute == "position")]


def _titles(scene: Scene) -> bool:
    """Whether a side in this statement is that of the operation: under its headings, or beside an action."""
    headed = scene.section in scene.words_of("sections-of-the-side")
    named = bool(scene.of("action")) and not scene.barred("case")  # "she had a left knee arthroscopy in 2009" is history
    return headed or named or scene.says("titles-of-the-case") or _is_told_by_itself(scene) or _closes(scene)


def _is_told_by_itself(scene: Scene) -> bool:
    """ "Time out. Right knee.": a statement that says no more than the knee."""
    said = {place for mention in scene.of("side") for place in range(mention.start, mention.end)}
    rest = [word for place, word in enumerate(scene.words, start=scene.statement.start) if place not in said and word.isalnum()]
    return KNEE in rest and scene.words_of("around-the-knee").issuperset({*rest} - {KNEE})


def _closes(scene: Scene) -> bool:
    """ "So that's the left knee done": what is over is what was operated on."""
    led = any(scene.led_by(mention.start, "points-at-what-is-over") for mention in scene.of("side"))
    return led and scene.says("is-over") and KNEE in scene.words
