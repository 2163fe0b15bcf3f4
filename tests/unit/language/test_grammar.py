"""The grammar is that of the lexicon in hand: where a department lays its own set of words over a built-in one, that set decides."""

from __future__ import annotations

from pathlib import Path

import pytest

from opnote.hearing import hear
from opnote.language.phrases import Phrasebook
from opnote.language.talk import Talk, understand
from opnote.lexicon import Lexicon, load
from opnote.transcript import read_bytes

ENTRY = '[[words]]\nid = "{id}"\nnote = "a test"\nwords = ["zzz"]\nsource = "a test"\n'


def _talk(said: str, lexicon: Lexicon) -> Talk:
    return understand(hear(read_bytes(said.encode(), name="test"), lexicon), lexicon, Phrasebook(lexicon))


def _without(name: str, folder: Path) -> Lexicon:
    """The built-in lexicons, with one set of words replaced by a word that nobody says."""
    (folder / "ours.toml").write_text(ENTRY.format(id=name), encoding="utf-8")
    return load(folders=[folder])


@pytest.mark.parametrize(
    ("name", "said", "word"),
    [
        ("any-of-a-kind", "A staple is for giants.", "staple"),
        ("timeless-verbs", "A staple is for giants.", "staple"),
        ("titles-of-persons", "Doctor Lindqvist uses a staple.", "staple"),
        ("habits", "Doctor Lindqvist uses a staple.", "staple"),
        ("bare-verbs", "Staples migrate.", "staples"),
        ("turns-away", "We might use a staple, but the tunnel is nine.", "tunnel"),
        ("limbs", "The other knee. A staple.", "staple"),
        ("read-aloud", "One one one one.", "one"),
        ("deeds", "Tensioned at ninety, the paper says eighty.", "ninety"),
        ("tells-how", "Tensioned at ninety, the paper says eighty.", "ninety"),
        ("speaks-of-persons", "The tunnel is fifty, if it blows out we have a staple.", "fifty"),
        ("says-what-it-was", "The other knee was seen. That was a grade two.", "grade"),
        ("past-copulas", "The other knee was seen. That was a grade two.", "grade"),
        ("begins-a-noun", "The other knee was seen. That was a grade two.", "grade"),
        ("own-persons", "We fix ours with a staple.", "staple"),
        ("any-of-them", "We fix ours with a staple.", "staple"),
        ("of-this-knee-alone", "We fix ours, him too, with a staple.", "staple"),
        ("orders-of-mind", "I need everybody on the staple.", "staple"),
    ],
)
def test_stance_hangs_on_the_set(name: str, said: str, word: str, tmp_path: Path) -> None:
    """Each set is needed for the stance that the word has with the built-in ones."""
    with_it, without_it = (_talk(said, lexicon) for lexicon in (load(), _without(name, tmp_path)))
    place = with_it.words.index(word)
    assert with_it.stances[place].name != without_it.stances[place].name


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("before-the-new-value", "The tunnel is nine, no, it's an eight."),
        ("between-letters", "Lot four four seven bravo nine. The last digit is eight."),
    ],
)
def test_correction_hangs_on_the_set(name: str, said: str, tmp_path: Path) -> None:
    assert _talk(said, load()).corrected
    assert not _talk(said, _without(name, tmp_path)).corrected
