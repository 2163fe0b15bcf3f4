"""Names: the surgeon and the assistants, read off the words around their roles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.extract.frames import Slot
from opnote.extract.scene import Scene
from opnote.language.phrases import Hit
from opnote.lexicon import AttributeEntry, Lexicon

TITLES = frozenset({"dr", "dr.", "doctor", "mr", "mr.", "mister", "ms", "ms.", "miss", "mrs", "mrs.", "prof", "prof.", "professor"})
POST = frozenset({"md", "pa", "pa-c", "rnfa", "do", "np"})
JOINERS = frozenset({"and", "with", ",", "&"})
COPULAS = frozenset(
    {"is", "was", "are", "were", ":", "today", "'s", "will", "be", "me", "the", "this", "our", "by", "and", ",", "dr", "number", "one"}
)
STOP = frozenset(
    "a an the and or but i we you he she it they is was are were be been am do did this that there here on in at to of for from with by"
    " as so then now"
    " not no yes yeah okay ok"
    " date patient number today knee case note next please fellow resident fourth third first second year student nurse scrub"
    " physician assistant"
    " registrar consultant"
    " dictating operating speaking speaks scrubbed helped holding period comma colon also both again quick one supine"
    " procedure time had has have who will"
    " just only looking"
    " assisted assisting anesthesia anaesthesia anaesthetic left right pre post op preop postop surgeon surgeons me my our his her"
    " him them".split()
)
INTRODUCTIONS = (("i", "'m"), ("this", "is"))  # a name follows only if it is written or titled as one
ROLES = frozenset({"surgeon", "assistant", "assistants", "attending", "operator"})
LINKING = frozenset({"'s", "is", "will", "be", "was"})
ASIDES = frozenset(
    {
        "the",
        "fellow",
        "resident",
        "physician",
        "assistant",
        "pa",
        "registrar",
        "first",
        "second",
        "our",
        "my",
        "is",
        "senior",
        "junior",
        "house",
        "officer",
    }
)
LONGEST = 3  # names a person has here, besides titles


def people(scene: Scene, lexicon: Lexicon) -> Iterator[tuple[str, list[Slot]]]:
    """For "surgeon" and "assistants": the names that a statement gives."""
    for name in ("surgeon", "assistants"):
        entry = lexicon.attributes.get(("case", name))
        if entry is None:
            continue
        slots = [slot for hit in _cues(scene, entry) for slot in _names_at(scene, hit, entry, lexicon)]
        slots = slots or _answered(scene, entry, lexicon)
        if slots:
            yield name, slots


def _answered(scene: Scene, entry: AttributeEntry, lexicon: Lexicon) -> list[Slot]:
    """ "And assistant?" - "Dr ...": a titled name that answers the statement before."""
    asked = [h for h in scene.before if h.entry is entry and h.use == "before"]
    first = scene.statement.start
    while first < scene.statement.end and not scene.talk.words[first].isalpha() and scene.talk.words[first] not in TITLES:
        first += 1
    if (
        not asked
        or scene.statement.start - max(h.end for h in asked) > 2
        or first >= scene.statement.end
        or scene.talk.words[first] not in TITLES
    ):
        return []
    return list(_list_of_names(scene, first, entry.name, lexicon, many=entry.many))


def _cues(scene: Scene, entry: AttributeEntry) -> list[Hit]:
    hits = [h for h in scene.hits if h.entry is entry and h.use in ("before", "after")]
    return [
        h
        for h in hits
        if not any(
            o is not h and o.use == h.use and o.start <= h.start and h.end <= o.end and o.end - o.start > h.end - h.start for o in hits
        )
    ]


def _names_at(scene: Scene, hit: Hit, entry: AttributeEntry, lexicon: Lexicon) -> list[Slot]:
    words = scene.talk.words
    if hit.use == "before":
        at = hit.end
        while at < scene.statement.end and words[at] in COPULAS and words[at] not in TITLES and at - hit.end < 4:
            at += 1
        if words[hit.start : hit.end] in INTRODUCTIONS and not (
            at < scene.statement.end and (words[at] in TITLES or scene.talk.doc[at].text[:1].isupper())
        ):
            return []
        role = words[hit.end - 1] in ROLES and at - hit.end <= 1
        if words[hit.start : hit.end] == ("with",) and (at >= scene.statement.end or words[at] not in TITLES):
            return []
        return list(_list_of_names(scene, at, entry.name, lexicon, many=entry.many, least=1 if role else 2))
    start = hit.start
    while start > scene.statement.start and words[start - 1] in LINKING:
        start -= 1
    while start > scene.statement.start and (
        is_name(scene, start - 1, lexicon) or words[start - 1] in TITLES or (entry.many and words[start - 1] in JOINERS | ASIDES)
    ):
        start -= 1
    if start == hit.start and start > scene.statement.start and words[start - 1] == ",":
        start -= 1
        while start > scene.statement.start and (is_name(scene, start - 1, lexicon) or words[start - 1] in TITLES):
            start -= 1
    return list(_list_of_names(scene, start, entry.name, lexicon, many=entry.many, stop=hit.start))


def _list_of_names(
    scene: Scene, at: int, attribute: str, lexicon: Lexicon, *, many: bool, stop: int | None = None, least: int = 2
) -> Iterator[Slot]:
    words = scene.talk.words
    limit = scene.statement.end if stop is None else stop
    while at < limit:
        end = name_end(scene, at, limit, lexicon, least=least)
        if end is None:
            return
        yield Slot(attribute, at, end, written(scene.talk.doc[at:end].text), why=("name beside its role",))
        at = end
        while at < limit and (words[at] in JOINERS or words[at] in ASIDES):
            at += 1
        if not many:
            return


def name_end(scene: Scene, at: int, limit: int, lexicon: Lexicon, *, least: int = 2) -> int | None:
    """The end of the name that begins at a token, or None: a title and one to three name words, or two or three name words."""
    words = scene.talk.words
    titled = at < limit and words[at] in TITLES
    end = at + (1 if titled else 0)
    first = end
    while end < limit and end - first < LONGEST and is_name(scene, end, lexicon):
        end += 1
    if end - first < (1 if titled else least):
        return None
    if end < limit and words[end] in POST:
        end += 1
    elif end + 1 < limit and words[end : end + 2] == ("p", "a"):
        end += 2
    return end


def is_name(scene: Scene, place: int, lexicon: Lexicon) -> bool:
    """Whether a token can be a part of a name: letters, no word of the trade, no function word, no number."""
    word = scene.talk.words[place]
    text = scene.talk.doc[place].text
    if not word.replace("'", "").replace("-", "").isalpha() or len(word) < 2 or word in STOP or word in TITLES:
        return False
    if any(q.start <= place < q.end for q in scene.quantities) or any(m.start <= place < m.end for m in scene.mentions):
        return False
    return text[:1].isupper() or word not in lexicon.vocabulary


def written(name: str) -> str:
    """A name as it is written: capitals where the recogniser gave none.

    >>> written("doctor leonard pawsey")
    'Dr Leonard Pawsey'
    """
    titles = {"doctor": "Dr", "mister": "Mr", "professor": "Prof", "dr": "Dr", "mr": "Mr"}
    parts: Sequence[str] = name.replace(" p a", " PA").split()
    return " ".join(titles.get(p.lower().rstrip("."), p if p[:1].isupper() else p.capitalize()) for p in parts)
