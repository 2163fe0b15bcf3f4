"""The account's rows put together again as the statements of the dictation."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from opnote.record.model import AccountRow, Record

# A sentence is put together from its parts up to this length; beyond it the marks are too few to go by. Common practice.
_LONGEST = 60
# Left over from a sentence of which a part was set aside, fewer words than this say nothing by themselves. Common practice.
_SHARD = 6
_KEPT = ("used", "narrative", "unplaced")


@dataclass(frozen=True)
class Statement:
    """The account's rows of one statement, and the types and attributes of the values its words gave."""

    rows: tuple[AccountRow, ...]
    gave: frozenset[tuple[str, str]]

    @cached_property
    def stands(self) -> bool:
        """Whether any of its words are used or narrative; what was only left unplaced does not stand by itself, nor does a shard."""
        return any(row.status in ("used", "narrative") and row.read.strip() for row in self.rows) and not self.is_a_shard

    @cached_property
    def is_a_shard(self) -> bool:
        """Whether a part set aside leaves over only pieces of a few words that give no value.

        "I did" of "I did think of a tape" would say what was not said; the worksheet lists it.
        """
        statuses = {row.status for row in self.rows}
        pieces = [len(row.read.split()) for row in self.rows if row.status == "narrative"]
        return "used" not in statuses and "set aside" in statuses and 0 < max(pieces, default=0) < _SHARD

    @property
    def source(self) -> str:
        """The source it was said in."""
        return self.rows[0].source

    @cached_property
    def unplaced(self) -> tuple[AccountRow, ...]:
        """Its words that nobody could place."""
        return tuple(row for row in self.rows if row.status == "unplaced")

    @cached_property
    def raw(self) -> str:
        """Its words as read, without what was set aside.

        A word nobody could place stays, so that no sentence has a hole; so do the marks that a spoken layout word stands for.
        """
        return " ".join(row.read for row in self.rows if row.status in _KEPT or _mark(row))

    @cached_property
    def section(self) -> str:
        """The section of the dictation in which its first standing words were said."""
        return next((row.section for row in self.rows if row.status in _KEPT), "")

    @cached_property
    def narrative_words(self) -> int:
        """How many of its words gave no value."""
        return sum(len(row.read.split()) for row in self.rows if row.status != "used" and row.status in _KEPT)

    @cached_property
    def ended(self) -> bool:
        """Whether it was dictated to its end: its last words bear a full stop or the like."""
        return self.rows[-1].read.rstrip().endswith((".", "?", "!")) or self.rows[-1].quote.endswith((".", "?", "!"))

    @property
    def start_s(self) -> float | None:
        """The second at which it begins, where the source has seconds."""
        return self.rows[0].start_s

    @property
    def end_s(self) -> float | None:
        """The second at which it ends, where the source has seconds."""
        return self.rows[-1].end_s


def _mark(row: AccountRow) -> bool:
    """Whether a filler is a spoken mark ("comma"): it is read, and not as a word."""
    return row.status == "filler" and bool(row.read) and not any(char.isalnum() for char in row.read)


def statements(record: Record) -> tuple[Statement, ...]:
    """The statements of a record's account, in the order of the talk; in a dictation with marks, whole sentences."""
    given = _by_stretch(_given(record))
    grouped = groupby(record.account, key=lambda row: (row.source, row.statement))
    parts = [Statement(rows, _gave(rows, given)) for rows in (tuple(group) for _, group in grouped)]
    marked = {source for source in {part.source for part in parts} if _marked([part for part in parts if part.source == source])}
    whole: list[Statement] = []
    for part in parts:
        if whole and part.source in marked and _goes_on(whole[-1], part):
            before = whole.pop()
            part = Statement(before.rows + part.rows, before.gave | part.gave)
        whole.append(part)
    return tuple(whole)


def _marked(parts: list[Statement]) -> bool:
    """Whether most statements of a source bear a mark at their end."""
    return 2 * sum(part.ended for part in parts) > len(parts)


def _goes_on(before: Statement, after: Statement) -> bool:
    """Whether a statement is the rest of the one before it."""
    if before.ended or before.source != after.source or before.rows[-1].section != after.rows[0].section:
        return False
    return sum(len(row.quote.split()) for row in before.rows) < _LONGEST


_Given = tuple[str, int, int, str, str]
_Stretches = Mapping[tuple[str, int], Sequence[_Given]]
_STRETCH = 512  # characters of a source


def _given(record: Record) -> Iterator[_Given]:
    for entity in record.entities:
        for name, attribute in entity.attributes.items():
            pieces = (*attribute.evidence, *(piece for candidate in attribute.candidates for piece in candidate.evidence))
            yield from ((piece.source, *piece.chars, entity.type, name) for piece in pieces)


def _by_stretch(given: Iterable[_Given]) -> _Stretches:
    """Values by the stretches of their source in which their words stand, so that none is looked at for every statement."""
    stretches: dict[tuple[str, int], list[_Given]] = {}
    for one in given:
        source, first, last, *_ = one
        for stretch in range(first // _STRETCH, max(first, last - 1) // _STRETCH + 1):
            stretches.setdefault((source, stretch), []).append(one)
    return stretches


def _gave(rows: tuple[AccountRow, ...], given: _Stretches) -> frozenset[tuple[str, str]]:
    start, end = rows[0].chars[0], rows[-1].chars[1]
    near = [given.get((rows[0].source, stretch), ()) for stretch in range(start // _STRETCH, end // _STRETCH + 1)]
    return frozenset((kind, name) for stretch in near for _, first, last, kind, name in stretch if first < end and last > start)
