"""Units whose name is not enough: "mil" (millilitre or millimetre), kilograms and pounds (of force or of mass)."""

from __future__ import annotations

from typing import Final

from opnote.language.quantities import units as u
from opnote.language.quantities import vocabulary as v
from opnote.language.quantities.atoms import Atoms

_WINDOW: Final = 6
_WIDE_WINDOW: Final = 10
_LONGEST_STRENGTH: Final = 6
_FLUID: Final = v.word_set(
    "blood loss ebl fluid fluids saline irrigation crystalloid colloid local anaesthetic anesthetic injected infiltrated infiltration "
    "syringe aspirated haemarthrosis hemarthrosis effusion urine bupivacaine ropivacaine lidocaine lignocaine"
)
_SOLID: Final = v.word_set(
    "deep depth long length wide width thick across diameter drill drilled ream reamed reamer tunnel socket screw anchor graft pin wire "
    "proximal distal posterior anterior medial lateral below above behind opening opens opened gap incision hole sleeve sizer plug "
    "thread bolt moving moved moves changes changed change further along apart valgus varus drawer glide laxity slack tendon tibia "
    "femur tubercle line shift travel quadrupled tripled doubled semi semitendinosus gracilis hamstring peroneus allograft autograft"
)
_PULL: Final = v.word_set("tension tensioned tensioning pull pulled pulling pretension pretensioned load loaded force traction held board")
_WEIGHT: Final = v.word_set("weighs weighed weighing weight heavy")


def choose_unit(unit: u.Unit, atoms: Atoms, start: int, end: int) -> u.Unit:
    """The unit that ``unit`` stands for in its place: atoms ``start`` to ``end`` hold the number and the unit."""
    if unit is u.MIL:
        return _mil(atoms, start, end)
    if unit is u.KILOGRAM and _PULL.intersection(atoms.before(start, _WINDOW)):
        return u.KILOGRAM_FORCE
    if unit is u.POUND and _is_weight(atoms, start):
        return u.POUND_MASS
    return unit


def _mil(atoms: Atoms, start: int, end: int) -> u.Unit:
    """Millilitres near a fluid, millimetres near a tool or a tunnel, else neither: the nearer word decides."""
    if atoms[end].word == "of" and "percent" in atoms.words(end + 1, _LONGEST_STRENGTH):
        return u.ML  # "twenty mil of nought point two five percent"
    after = tuple(atoms[place].word for place in range(end, end + 3) if atoms[place].kind != "stop")
    for word in (*after, *atoms.before(start, _WIDE_WINDOW)):
        if word in _FLUID:
            return u.ML
        if word in _SOLID:
            return u.MM
    return u.MIL


def _is_weight(atoms: Atoms, start: int) -> bool:
    before = atoms.before(start, _WINDOW)
    return bool(_WEIGHT.intersection(before)) and "bearing" not in before
