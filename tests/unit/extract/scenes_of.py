"""Scenes of a phrase, for the tests of the parts of the stage."""

from __future__ import annotations

from opnote.extract.focus import scenes
from opnote.extract.scene import Scene
from opnote.extract.worked import Worked
from opnote.language.model import Quantity
from opnote.lexicon import AttributeEntry
from tests.stance import talk_of, tools


def scenes_of(said: str, *structures: str) -> list[Scene]:
    """Every statement of a phrase as a scene, ``structures`` being the ligaments of the operation."""
    lexicon, _ = tools()
    return list(scenes(talk_of(said), lexicon, Worked(frozenset(structures), frozenset(structures), {})))


def scene_of(said: str, *structures: str) -> Scene:
    """The last statement of a phrase as a scene."""
    return scenes_of(said, *structures)[-1]


def attribute(name: str) -> AttributeEntry:
    """An attribute of the table, named ``type.name``."""
    kind, _, own = name.partition(".")
    return tools()[0].attributes[kind, own]


def quantity_of(scene: Scene) -> Quantity:
    """The only quantity of a scene."""
    [quantity] = scene.quantities
    return quantity
