"""The word sets and things of the lexicons are all used, and all there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import opnote
from opnote.errors import LexiconError
from opnote.lexicon import load

SOURCE = "\n".join(path.read_text(encoding="utf-8") for path in Path(opnote.__file__).parent.rglob("*.py"))
ASKED_FOR = re.compile(r'(?:words_of\(|says\(|led_by\([^()"]*,\s*|\bwords\[)"([a-z-]+)"')
LEXICON = load()

THING = """
[[thing]]
id = "tunnel"
{line}
source = "a test"
"""


@pytest.mark.parametrize("name", sorted(LEXICON.words))
def test_every_word_set_is_used(name: str) -> None:
    assert f'"{name}"' in SOURCE


@pytest.mark.parametrize("name", sorted(set(ASKED_FOR.findall(SOURCE))))
def test_every_word_set_that_is_asked_for_is_there(name: str) -> None:
    assert name in LEXICON.words


def test_every_type_of_the_table_is_a_thing() -> None:
    assert {kind for kind, _ in LEXICON.attributes} == set(LEXICON.things)


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ('opened_by = ["tunnels"]', 'no such vocabulary: "tunnels"'),
        ('lent = ["bones"]', 'no such attribute: "bones"; did you mean "bone"?'),
        ('second = "length"', 'no such attribute: "length"'),
        ("lasts = -1", "lasts: must be 0 or more"),
        ("last = 1", 'last: no such field; did you mean "lasts"?'),
    ],
)
def test_faults_of_a_thing_are_told(tmp_path: Path, line: str, fault: str) -> None:
    (tmp_path / "things.toml").write_text(THING.format(line=line), encoding="utf-8")
    with pytest.raises(LexiconError, match=re.escape(fault)):
        load(folders=[tmp_path])


def test_an_attribute_of_an_unknown_thing_is_a_fault(tmp_path: Path) -> None:
    entry = '[[attribute]]\ntype = "drape"\nname = "colour"\nlabel = "colour"\nvalue = "words"\nsource = "a test"\n'
    (tmp_path / "ours.toml").write_text(entry, encoding="utf-8")
    with pytest.raises(LexiconError, match='no such thing: "drape"'):
        load(folders=[tmp_path])
