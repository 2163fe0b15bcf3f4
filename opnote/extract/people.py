"""Names: the surgeon and the assistants, read off the words around their roles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.frames import Slot
from opnote.extract.names import is_name, name_end, written
from opnote.extract.scene import USABLE, Scene, holds, overlaps
from opnote.language.phrases import Hit
from opnote.lexicon import AttributeEntry

ROLES = ("surgeon", "assistants")
SMALL_WORDS = 4  # words between a role and its name ("the surgeon today is ...")
ALONE_WITHIN = 1  # words behind a role within which a single name word is a name
ANSWER_WITHIN = 2  # words between a role at the end of a statement and the next one
ROUND = 5  # words of a statement that is a name with its role ("Holm, operating surgeon.")
LEAST = 2  # words of a name without a title
FIRST = 2  # statements of a talk in which a speaker says who is here
GREETING = 6  # words before a name that is here ("hey", "okay, the patella one")
APPOSITION = 4  # words between two commas that tell what a person is
HERE, POSSESSIVE = ("here",), ("'s",)
BESIDE = "name beside its role"
INTRODUCED = "introduced by name"  # the reason of a name that only tells who speaks


def people(scene: Scene) -> Iterator[Slot]:
    """The names of the surgeon and the assistants in a statement: "surgeon Dr Holm, assisted by Dr Berg"."""
    taken: list[Slot] = []
    for role in ROLES:
        entry = scene.lexicon.attributes["case", role]
        named = [slot for hit in _cues(scene, entry) for slot in _named(scene, hit, entry)]
        named = [slot for slot in named or _answered(scene, entry) if not any(overlaps(slot, other) for other in taken)]
        taken += named
        yield from named


def named(slots: Sequence[Slot]) -> list[Slot]:
    """The slots of a case without the people who only said who speaks, where somebody else is told to have operated."""
    told = any(slot.attribute == "surgeon" and INTRODUCED not in slot.why for slot in slots)
    return [slot for slot in slots if not (told and slot.attribute == "surgeon" and INTRODUCED in slot.why)]


def _cues(scene: Scene, entry: AttributeEntry) -> list[Hit]:
    """The words for a role, longest ones only ("assistant surgeon" is not "assistant"), said of this operation."""
    hits = [hit for hit in scene.hits_of(entry) if hit.use in ("before", "after") and scene.talk.stances[hit.start].name in USABLE]
    return [hit for hit in hits if not any(_is_part(hit, other) for other in hits)]


def _is_part(hit: Hit, other: Hit) -> bool:
    return other.use == hit.use and holds(other, hit) and other.end - other.start > hit.end - hit.start


def _named(scene: Scene, hit: Hit, entry: AttributeEntry) -> Iterator[Slot]:
    return _behind(scene, hit, entry) if hit.use == "before" else _in_front(scene, hit, entry)


def _behind(scene: Scene, hit: Hit, entry: AttributeEntry) -> Iterator[Slot]:
    """The names behind a role: "first assistant was Dr Berg"."""
    words, at = scene.talk.words, hit.end
    small = scene.words_of("between-role-and-name") - scene.words_of("titles")
    while at < scene.statement.end and words[at] in small and at - hit.end < SMALL_WORDS:
        at += 1
    if not _announces(scene, hit, at):
        return iter(())
    role = words[hit.end - 1] in scene.words_of("roles") and at - hit.end <= ALONE_WITHIN
    why = INTRODUCED if _introduces(scene, hit) else BESIDE
    return _listed(scene, at, entry, limit=scene.statement.end, least=1 if role else LEAST, why=why)


def _introduces(scene: Scene, hit: Hit) -> bool:
    """Whether words only tell who speaks, or who somebody is ("this is Dr Holm")."""
    return " ".join(scene.between(hit.start, hit.end)) in scene.words_of("introductions")


def _announces(scene: Scene, hit: Hit, at: int) -> bool:
    """Whether words announce a name at a place; "I'm" and "with" do so only where one is written or titled as a name."""
    inside = at < scene.statement.end
    titled = inside and scene.talk.words[at] in scene.words_of("titles")
    said = " ".join(scene.between(hit.start, hit.end))
    if titled or said in scene.words_of("only-with-a-title"):
        return titled
    return said not in scene.words_of("introductions") or (inside and scene.talk.doc[at].text[:1].isupper())


def _in_front(scene: Scene, hit: Hit, entry: AttributeEntry) -> Iterator[Slot]:
    """The names before a role: "Dr Holm, operating", "Dr Berg and Dr Lund assisting"."""
    words, floor = scene.talk.words, scene.statement.start
    if scene.between(hit.start, hit.end) == HERE and not _is_here(scene, hit):
        return iter(())
    start = _before_the_apposition(scene, hit.start, "said-of-a-name" if entry.many else "tells-the-surgeon")
    while start > floor and words[start - 1] in scene.words_of("between-name-and-role"):
        start -= 1
    start = _first_name(scene, start, listed=entry.many)
    if start == hit.start and start > floor and words[start - 1] == ",":
        start = _first_name(scene, start - 1, listed=False)
    while start < hit.start and words[start] in scene.words_of("joins-names"):
        start += 1
    alone = start == floor and sum(word.isalnum() for word in scene.words) <= ROUND
    return _listed(scene, start, entry, limit=hit.start, least=1 if alone else LEAST)


def _is_here(scene: Scene, hit: Hit) -> bool:
    """ "Hey, Tobin Ashgrove here, ...": at the start of a talk the speaker's name; "I have Dr Holm here" is of somebody else."""
    name = _first_name(scene, hit.start, listed=False)
    behind = scene.between(hit.end, min(hit.end + 1, scene.statement.end))
    starts = scene.statement.index < FIRST and name < hit.start and name - scene.statement.start <= GREETING
    ends = scene.words_of("behind-who-is-here").issuperset(behind)
    return starts and ends and scene.words_of("before-somebody-else").isdisjoint(scene.lead(name, 1))


def _before_the_apposition(scene: Scene, place: int, told: str) -> int:
    """Back over what a person is, between commas: "Dr Holm, consultant, dictating"; ``told`` names the words for it."""
    words, start = scene.talk.words, place
    if scene.lead(start, 1) != (",",):
        return place
    start -= 1
    while start > scene.statement.start and place - start <= APPOSITION and words[start - 1] in scene.words_of(told):
        start -= 1
    return start - 1 if start < place - 1 and scene.lead(start, 1) == (",",) else place


def _first_name(scene: Scene, start: int, *, listed: bool) -> int:
    """Back from a place over the words of a name, or of a list of names."""
    passed = scene.words_of("titles")
    if listed:
        passed = passed | scene.words_of("joins-names") | scene.words_of("said-of-a-name")
    while start > scene.statement.start and (scene.talk.words[start - 1] in passed or is_name(scene, start - 1)):
        start -= 1
    return start


def _listed(scene: Scene, at: int, entry: AttributeEntry, *, limit: int, least: int, why: str = BESIDE) -> Iterator[Slot]:
    """The names of a list that begins at a place; only the first where an attribute holds one."""
    between = scene.words_of("joins-names") | scene.words_of("said-of-a-name")
    while at < limit:
        end = name_end(scene, at, limit, least=least)
        if end is None or (limit == scene.statement.end and scene.between(end, end + 1) == POSSESSIVE):
            return
        yield Slot(entry.name, at, end, written(scene.talk.doc[at:end].text), why=(why,))
        if not entry.many:
            return
        at = end
        while at < limit and scene.talk.words[at] in between:
            at += 1


def _answered(scene: Scene, entry: AttributeEntry) -> Iterator[Slot]:
    """ "And assistant?" - "Dr Berg.": a titled name that answers the statement before."""
    asked = [hit.end for hit in scene.hits_before(entry)]
    words, titles = scene.talk.words, scene.words_of("titles")
    first = scene.statement.start
    while first < scene.statement.end and not words[first].isalpha() and words[first] not in titles:
        first += 1
    titled = first < scene.statement.end and words[first] in titles
    if not titled or not asked or scene.statement.start - max(asked) > ANSWER_WITHIN:
        return iter(())
    return _listed(scene, first, entry, limit=scene.statement.end, least=LEAST)
