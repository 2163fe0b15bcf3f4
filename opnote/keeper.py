"""What the keeper of the lexicons asks: what is wrong with them, where a word stands, what a spoken quantity is read as.

Like the commands this module may look into every stage; it decides nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

from opnote.check import knowledge_of
from opnote.errors import LexiconError
from opnote.hearing import Heard, hear
from opnote.language.grammar import Grammar
from opnote.language.hints import heard
from opnote.language.model import Quantity
from opnote.language.phrases import phrasebook
from opnote.language.quantities import Explained, explained
from opnote.language.talk import understand
from opnote.lexicon import Correction, Hint, Lexicon, Mishearing, StanceCue, load
from opnote.lexicon.files import content, folder_faults
from opnote.resources import lexicons_dir
from opnote.transcript import read_bytes

SILENT_FIELDS = ("source", "note", "example", "counter_example")  # words about an entry, not of it


@dataclass(frozen=True, slots=True)
class Place:
    """Where a word stands in the lexicons: file, kind of entry, its id, the field, the phrases there, what the entry stands for."""

    file: str
    table: str
    id: str
    field: str
    phrases: tuple[str, ...]
    means: str


def faults(folders: Sequence[Path] = (), *, examples: bool = True) -> tuple[str, ...]:
    """Everything that is wrong with the built-in lexicons under ``folders``: file, entry, field, what is wrong.

    With ``examples`` the example and counter-example of each stance cue, hint, mis-hearing and correction are run, once nothing else is
    wrong.
    """
    found: list[str] = []
    lexicon = _loaded(lambda: load(folders=folders), found)
    _loaded(lambda: knowledge_of(lexicon or load(), folders=folders), found)
    if examples and lexicon is not None and not found:
        found += [*_cue_examples(lexicon), *_hint_examples(lexicon), *_mishearing_examples(lexicon), *_correction_examples(lexicon)]
    return tuple(dict.fromkeys(found))


def _loaded(loading: Callable[[], Any], found: list[str]) -> Any:
    try:
        return loading()
    except LexiconError as error:
        found += error.faults
        return None


def _cue_examples(lexicon: Lexicon) -> Iterator[str]:
    """A cue must tell the stance of some word of its example, and not of the last term of its counter-example.

    A cue of things done leaves no trace of its own, it only keeps others away: the last term is then done, or is not.
    """
    book = phrasebook(lexicon)

    def told(phrase: str, cue: StanceCue, *, last_term: bool) -> bool:
        talk = understand(_heard(phrase, lexicon), lexicon, book)
        stances = talk.stances
        if talk.mentions and (last_term or cue.stance == "done"):
            stances = stances[talk.mentions[-1].start : talk.mentions[-1].end]
        return any(stance.name == "done" if cue.stance == "done" else stance.cue == cue.id for stance in stances)

    for cue in lexicon.cues:
        at = f"{_at(lexicon, cue)}: cue {cue.id}"
        if not told(cue.example, cue, last_term=False):
            yield f"{at}: example: the cue tells the stance of no word in it"
        if cue.counter_example and told(cue.counter_example, cue, last_term=True):
            yield f"{at}: counter_example: the cue must not reach its last term, and does"


def _hint_examples(lexicon: Lexicon) -> Iterator[str]:
    """A hint must count in its example, and not in its counter-example."""
    book = phrasebook(lexicon)
    grammar = Grammar.of(lexicon.words)

    def counts(phrase: str, hint: Hint) -> bool:
        talk = understand(_heard(phrase, lexicon), lexicon, book)
        return hint.id in heard(talk.words, talk.statements, talk.hits, lexicon.hints, grammar)

    for hint in lexicon.hints:
        at = f"{_at(lexicon, hint)}: hint {hint.id}"
        if not counts(hint.example, hint):
            yield f"{at}: example: the hint does not count in it"
        if hint.counter_example and counts(hint.counter_example, hint):
            yield f"{at}: counter_example: the hint must not count in it, and does"


def _mishearing_examples(lexicon: Lexicon) -> Iterator[str]:
    """A mis-hearing must be read, or doubted, in its example, and nothing at all in its counter-example."""
    for entry in lexicon.mishearings:
        at = f"{_at(lexicon, entry)}: mishearing {entry.id}"
        heard = _heard(entry.example, lexicon)
        if entry.id not in {edit.why for edit in heard.edits} | {reading.why for reading in heard.readings}:
            yield f"{at}: example: the entry reads nothing in it"
        silent = _heard(entry.counter_example, lexicon) if entry.counter_example else None
        if silent and entry.id in {edit.why for edit in silent.edits} | {reading.why for reading in silent.readings}:
            yield f"{at}: counter_example: the entry must leave it alone, and does not"


def _correction_examples(lexicon: Lexicon) -> Iterator[str]:
    """Words of a correction must take something back in their example, and nothing in their counter-example."""
    book = phrasebook(lexicon)
    for entry in lexicon.corrections:
        at = f"{_at(lexicon, entry)}: correction {entry.id}"
        if not understand(_heard(entry.example, lexicon), lexicon, book).corrected:
            yield f"{at}: example: nothing is taken back in it"
        if entry.counter_example and understand(_heard(entry.counter_example, lexicon), lexicon, book).corrected:
            yield f"{at}: counter_example: nothing must be taken back in it, and something is"


def _heard(phrase: str, lexicon: Lexicon) -> Heard:
    return hear(read_bytes(phrase.encode(), name="example"), lexicon)


def _at(lexicon: Lexicon, entry: StanceCue | Hint | Mishearing | Correction) -> str:
    return lexicon.places.get(id(entry), "lexicons")


def find(word: str, folders: Sequence[Path] = ()) -> tuple[Place, ...]:
    """Every entry in which a word or phrase stands, in any case, as a whole word. Raises ``LexiconError`` for a file that is no TOML."""
    if faults := [fault for folder in folders for fault in folder_faults(folder)]:
        raise LexiconError(faults)
    wanted = re.compile(rf"(?<![\w-]){re.escape(' '.join(word.split()))}(?![\w-])", re.IGNORECASE)
    return tuple(place for folder in (lexicons_dir(), *folders) for place in _places(folder, wanted))


def _places(folder: Path, wanted: re.Pattern[str]) -> Iterator[Place]:
    for path in sorted(folder.rglob("*.toml")):
        file, faults = path.relative_to(folder).as_posix(), list[str]()
        _, tables = content(path, file, faults)
        if faults:
            raise LexiconError(faults)
        for table, rows in tables.items():
            for row in rows if isinstance(rows, list) else ():
                yield from _in_row(file, table, row, wanted) if isinstance(row, dict) else ()


def _in_row(file: str, table: str, row: dict[str, Any], wanted: re.Pattern[str]) -> Iterator[Place]:
    name = str(row.get("id") or f"{row.get('type')}.{row.get('name')}")
    for field, value in row.items():
        phrases = _phrases(value)
        hits = tuple(text for text in phrases if field not in SILENT_FIELDS and wanted.search(text))
        if hits:
            yield Place(file, table, name, field, hits, _means(row))


def _phrases(value: object) -> list[str]:
    """The texts of a field: its own, or those of its list, also where the list holds lists."""
    if isinstance(value, list):
        return [text for part in value for text in _phrases(part)]
    return [value] if isinstance(value, str) else []


def _means(row: dict[str, Any]) -> str:
    """What an entry stands for: a term's kind and value, what a mis-hearing is read as, a cue's stance ..."""
    parts = [row.get(key) for key in ("kind", "value", "meant", "stance", "section", "label") if isinstance(row.get(key), str)]
    return ": ".join(str(part) for part in parts if part)


class Spoken(NamedTuple):
    """A quantity in a phrase, explained; ``gave_way_to`` are the words that took its place, where the speaker corrected it."""

    told: Explained
    quantity: Quantity
    gave_way_to: str = ""


def quantities(phrase: str, folders: Sequence[Path] = ()) -> tuple[Spoken, ...]:
    """The quantities in a spoken phrase, as the pipeline would take them: after hearing, with the speaker's own corrections."""
    lexicon = load(folders=folders)
    talk = understand(_heard(" ".join(phrase.split()), lexicon), lexicon, phrasebook(lexicon))
    corrected = {change.old: talk.doc[change.said.start : change.said.end].text for change in talk.corrected if change.old != change.said}
    return tuple(
        Spoken(explained(quantity, talk.doc[quantity.start : quantity.end].text), quantity, corrected.get(quantity, ""))
        for quantity in talk.quantities
    )
