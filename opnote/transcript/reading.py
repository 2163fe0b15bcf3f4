"""What a format's reader hands over: pieces of speech in the order of the file, and what was irregular about the file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from opnote.transcript.model import Mend, MendKind

#: A mend of the same kind is listed line by line up to this many times, above it once with its count.
LISTED = 5


@dataclass(frozen=True, slots=True)
class SpokenWord:
    """A word with the seconds and the confidence (0 to 1) that the recogniser gave it."""

    text: str
    start_s: float
    end_s: float
    confidence: float | None = None


@dataclass(frozen=True, slots=True)
class Piece:
    """Words that stand together in the file: a cue, a turn, a line or a paragraph, as yet without a place in the whole text."""

    text: str
    line: int | None
    start_s: float | None = None
    end_s: float | None = None
    speaker: str | None = None
    paragraph: bool = False
    named: bool = False
    words: tuple[SpokenWord, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """All pieces of a file, and every irregularity that was tolerated."""

    pieces: tuple[Piece, ...]
    mends: tuple[Mend, ...] = ()


@dataclass(slots=True)
class MendLog:
    """Collects mends while a file is read; ``mends()`` gives them in the order of the lines."""

    _lines: dict[tuple[str, MendKind], list[int | None]] = field(default_factory=dict)

    def note(self, line: int | None, what: str, kind: MendKind = "shape") -> None:
        """Remember that ``what`` was tolerated on ``line``."""
        self._lines.setdefault((what, kind), []).append(line)

    def extend(self, mends: Iterable[Mend]) -> None:
        """Remember mends that are already made."""
        for mend in mends:
            self.note(mend.line, mend.what, mend.kind)

    def mends(self) -> tuple[Mend, ...]:
        """All mends in the order of the lines; what recurs more than ``LISTED`` times stands once, with its count."""
        listed: list[Mend] = []
        for (what, kind), lines in self._lines.items():
            if len(lines) > LISTED:
                listed.append(Mend(lines[0], f"{what} ({len(lines)} times, first here)", kind))
            else:
                listed.extend(Mend(line, what, kind) for line in lines)
        return tuple(sorted(listed, key=lambda mend: (mend.line or 0, mend.what)))
