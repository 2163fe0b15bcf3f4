"""What a name is: its words, its end, how it is written."""

from __future__ import annotations

from opnote.extract.scene import Scene, Stretch

LONGEST = 3  # names a person has here, besides titles
SHORTEST = 2  # letters of a name
WRITTEN = {"doctor": "Dr", "mister": "Mr", "professor": "Prof", "dr": "Dr", "mr": "Mr"}


def name_end(scene: Scene, at: int, limit: int, *, least: int) -> int | None:
    """The end of the name that begins at a token, or None: a title and one to three name words, or ``least`` to three name words."""
    titled = at < limit and scene.talk.words[at] in scene.words_of("titles")
    first = at + titled
    end = first
    while end < limit and end - first < LONGEST and is_name(scene, end):
        end += 1
    if end - first < (1 if titled else least):
        return None
    return end + _degree(scene, end, limit)


def _degree(scene: Scene, at: int, limit: int) -> int:
    """How many words at a place are a degree ("PA-C", "p a")."""
    degrees = scene.words_of("degrees-of-people")
    return next((count for count in (1, 2) if at + count <= limit and " ".join(scene.between(at, at + count)) in degrees), 0)


def is_name(scene: Scene, place: int) -> bool:
    """Whether a token can be a part of a name: letters, no word of the trade, no function word, no number."""
    word = scene.talk.words[place]
    if len(word) < SHORTEST or not word.replace("'", "").replace("-", "").isalpha():
        return False
    if word in scene.words_of("never-names") or word in scene.words_of("titles"):
        return False
    if _inside(place, *scene.quantities, *scene.mentions):
        return False
    return scene.talk.doc[place].text[:1].isupper() or word not in scene.lexicon.vocabulary


def _inside(place: int, *stretches: Stretch) -> bool:
    return any(stretch.start <= place < stretch.end for stretch in stretches)


def written(name: str) -> str:
    """A name as it is written: capitals where the recogniser gave none.

    >>> written("doctor leonard pawsey")
    'Dr Leonard Pawsey'
    """
    parts = name.replace(" p a", " PA").split()
    return " ".join(WRITTEN.get(part.lower().rstrip("."), part if part[:1].isupper() else part.capitalize()) for part in parts)
