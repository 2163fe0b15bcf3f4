"""Words that are never read as others and never taken for said twice, whatever a lexicon says.

The closed sets behind record-format.md, "Words read otherwise than heard": numbers, negations, the members of flip pairs.
"""

from __future__ import annotations


def word_set(words: str) -> frozenset[str]:
    """A closed set of words, written as a line of prose."""
    return frozenset(words.split())


NUMBERS = word_set(
    "oh zero nought naught one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand half quarter double triple"
)
DIGITS = word_set("oh zero one two three four five six seven eight nine 0 1 2 3 4 5 6 7 8 9")
LETTERS = word_set(
    "b c d e f g h j k l m n o p q r s t u v w x y z alpha alfa bravo charlie delta echo foxtrot golf hotel india juliet juliett kilo lima "
    "mike november oscar papa quebec romeo sierra tango uniform victor whiskey whisky xray yankee zulu"
)
"""Letters as they are read out, and the words of the spelling alphabet; "a" and "I" are words of their own."""
NEGATIONS = word_set("no not none never nor neither without nothing isn't wasn't aren't weren't didn't don't doesn't won't can't cannot")
FLIPS = word_set(
    "left right bilateral medial lateral medially laterally varus valgus internal external internally externally anterior posterior "
    "superior inferior anteriorly posteriorly proximal distal proximally distally flexion extension flexed extended adduction abduction "
    "positive negative unicortical bicortical tibia tibial fibula fibular femur femoral humerus humeral peroneal hyperextension "
    "staple semimembranosus open closed autograft allograft before after"
)
"""Members of pairs in which one turns the meaning of the other (knee-values.md, section 10, and the pairs of the vocabularies)."""
FLIP_PREFIXES = (
    "inter", "intra", "hyper", "hypo", "uni", "bi", "pre", "post", "supra", "infra", "sub", "ante", "auto", "allo", "ab", "ad", "un", "non",
    "de", "re", "in",
)  # fmt: skip
TITLES = word_set("doctor doctors dr mr mrs ms mister miss professor prof surgeon sister nurse")


def is_number(word: str) -> bool:
    """Digits or a number word.

    >>> is_number("8.5"), is_number("twenty"), is_number("to")
    (True, True, False)
    """
    return word[:1].isdigit() or word in NUMBERS


def prefix(word: str) -> str:
    """The prefix that turns the meaning of ``word``, or none."""
    return next((p for p in FLIP_PREFIXES if word.startswith(p)), "")
