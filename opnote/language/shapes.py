"""Builds of sentences that speak of things in general, whatever their words: "staples back out", "some would put a second one in"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from opnote.language.clauses import MARKS

LEADS = frozenset("and so but well now oh no yes , because though you know i mean that 's why see".split())
BASE = frozenset(
    "back migrate stretch slip break fail need want get go take hold do have give make cost pull loosen creep heal work like tend love "
    "hate come use put leave swear hurt bend snap rot tear wander settle keep stay let add lose start stop drill ream open fix pass find "
    "stand sit move run fit allow tell say prefer think add call resort end learn teach forget believe reckon sink cut tie choose "
    "err".split()
)
THIRD = frozenset(
    "is has gets goes takes holds does gives makes costs pulls loosens creeps heals works likes tends comes uses puts leaves needs wants "
    "hurts stays keeps lets adds loses starts stops fails breaks resorts errs sits stands fits allows prefers means depends lasts rules "
    "beats saves chooses drills reams fixes aims tells".split()
)
MODAL = frozenset("would will can may might should must could 'd 'll".split())
SOME = frozenset("some others few many most plenty everyone everybody nobody anyone anybody those people one folk folks".split())
SINGULAR = frozenset("everyone everybody nobody anyone anybody one plenty".split())  # "everybody stop" is an order
PLURALS_OF_THIS = frozenset("there's this was is us his its hers ours yours always sometimes perhaps yes less across".split())
SPEAKS_TO_THE_TABLE = frozenset("see know feel hear ready please guys all lot okay".split())
NO_PLURAL = ("ss", "us", "is")  # "meniscus", "gracilis", "less"
WAYS = frozenset("through in out up down over across under behind".split())  # "sutures go through" is told of these
ORDERS = frozenset("hold pull give push keep tell let run pass open move bend sit stand get stop".split())  # "you hold that"
ASKING = frozenset("do did does can could would will have are were should may might if 'd and n't as".split())


def shapes(words: Sequence[str], stretch: range) -> Iterator[str]:
    """The names of the builds that a stretch has."""
    start = stretch.start
    while start < stretch.stop - 1 and words[start] in LEADS:
        start += 1
    inside = words[start : stretch.stop]
    if len(inside) < 3:
        return
    if _bare_plural(inside):
        yield "bare plural"
    if _some_people(inside):
        yield "some people"
    if _generic_you(inside):
        yield "generic you"
    if _comparative(inside):
        yield "comparative"
    if "either" in inside[:-2] and "or" in inside[inside.index("either") :]:
        yield "either or"


def _bare_plural(inside: Sequence[str]) -> bool:
    """As in "staples back out", "old screws break": up to two words, the last a plural, and a verb of no time."""
    return any(
        word.endswith("s")
        and not word.endswith(NO_PLURAL)
        and len(word) > 3
        and word not in PLURALS_OF_THIS
        and inside[place + 1] in BASE
        and not (inside[place + 1] in ("go", "pass", "come") and WAYS.intersection(inside[place + 2 : place + 3]))
        for place, word in enumerate(inside[:2])
        if place + 1 < len(inside) and (place == 0 or (inside[0].isalpha() and inside[0] not in BASE | DETERMINED))
    )


DETERMINED = frozenset("the this that these those his her our my its both two three four it he she we i you they to of no".split())


def _some_people(inside: Sequence[str]) -> bool:
    """As in "some would say", "most would go", "one keeps it at ninety", "not everybody puts it in"."""
    first = 1 if inside[0] == "not" else 0
    if inside[first] not in SOME or first + 1 >= len(inside):
        return False
    verb = inside[first + 1]
    if verb in MODAL or verb in THIRD - {"is", "has"}:
        return True
    return inside[first] not in SINGULAR and (verb in BASE - {"tear", "cut", "break", "open"} or verb == "who")


def _generic_you(inside: Sequence[str]) -> bool:
    """As in "you start low", "you never fix it"; not "you see", "can you hold", "if you pull"."""
    for place, word in enumerate(inside[:-1]):
        if word != "you" or (place and inside[place - 1] in ASKING) or inside[-1] == "?":
            continue
        verb = inside[place + 1]
        if verb in ("never", "always", "just", "simply", "then") and place + 2 < len(inside):
            verb = inside[place + 2]
        if verb in BASE - ORDERS - SPEAKS_TO_THE_TABLE and "me" not in inside[place + 2 : place + 3]:
            return True
    return False


def _comparative(inside: Sequence[str]) -> bool:
    """As in "the bigger the man the bigger the screw"."""
    places = [i for i, word in enumerate(inside[:-1]) if word == "the" and inside[i + 1].endswith(("er", "more", "less"))]
    return len(places) == 2 and places[0] == 0 and inside[places[1] - 1] not in MARKS | {"and", "of", "on", "to", "in"}
