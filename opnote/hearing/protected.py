"""Words that are never read as others and never taken for said twice, whatever a lexicon says.

The closed sets behind record-format.md, "Words read otherwise than heard": numbers, negations, the members of flip pairs, and
the words by which a speaker takes something back.
"""

from __future__ import annotations

NUMBERS = frozenset(
    """oh zero nought naught one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen
    eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand half quarter double triple point""".split()
)
UNITS = frozenset(
    """mm cm ml mg g millimeter millimetre millimeters millimetres centimeter centimetre centimeters centimetres milliliter millilitre
    milliliters millilitres mil mils gram grams milligram milligrams newton newtons degree degrees pound pounds inch inches minute
    minutes hour hours week weeks day days percent""".split()
)
NEGATIONS = frozenset("no not none never nor neither without nothing isn't wasn't aren't weren't didn't don't doesn't won't can't cannot".split())
TAKING_BACK = frozenset("correction sorry scratch strike wait actually rather mean make excuse apologies delete cancel".split())
FLIPS = frozenset(
    """left right bilateral medial lateral medially laterally varus valgus internal external internally externally anterior posterior
    interior inferior superior anteriorly posteriorly proximal distal proximally distally flexion extension flexed extended adduction
    abduction positive negative unicortical bicortical tibia tibial fibula fibular femur femoral humerus humeral peroneal perineal
    peritoneal hyperextension hypoextension staple stable semimembranosus open closed autograft allograft before after up down""".split()
)
FLIP_PREFIXES = ("inter", "intra", "hyper", "hypo", "uni", "bi", "pre", "post", "supra", "infra", "sub", "ante", "auto", "allo", "ab", "ad", "un", "non")
TITLES = frozenset("doctor doctors dr mr mrs ms miss professor prof surgeon sister nurse".split())


def is_number(word: str) -> bool:
    """Digits or a number word.

    >>> is_number("8.5"), is_number("twenty"), is_number("to")
    (True, True, False)
    """
    return word[:1].isdigit() or word in NUMBERS


def prefix(word: str) -> str:
    """The prefix that turns the meaning of ``word``, or none."""
    return next((p for p in FLIP_PREFIXES if word.startswith(p)), "")
