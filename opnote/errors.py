"""The errors a caller can meet, and nothing else.

    OpnoteError                 anything below; its text is one line: what, where, what to try
    ├── TranscriptError         a dictation that cannot be read
    ├── SheetError              a case sheet that cannot be read
    ├── LexiconError            faults in lexicons/, all of them at once
    ├── TemplateError           a template that asks for what the note does not hold
    └── OutputError             a place that cannot be written

A doubt about what was *said* is never an error: it is a ``Finding``.
"""

from __future__ import annotations

from collections.abc import Sequence


class OpnoteError(Exception):
    """A problem the user can do something about.

    ``where`` is a file, ``line`` its line (from 1) when one is known, ``hint`` what to try.
    The text never holds words of a dictation.
    """

    def __init__(self, what: str, *, where: str = "", line: int | None = None, hint: str = "") -> None:
        self.what, self.where, self.line, self.hint = what, where, line, hint
        place = f"{where}:{line}" if where and line is not None else where
        super().__init__((f"{place}: " if place else "") + what + (f"; {hint}" if hint else ""))


class TranscriptError(OpnoteError):
    """Raised by ``opnote.transcript`` for a file that holds no dictation it can read."""


class SheetError(OpnoteError):
    """Raised for a case sheet (``--case``) that cannot be read."""


class LexiconError(OpnoteError):
    """Raised by ``opnote.lexicon`` with every fault of every file; its text is the first, and how many more there are."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(dict.fromkeys(faults))
        more = len(self.faults) - 1
        rest = f" (and {more} more; `opnote lexicon check DIR` tells all faults of a folder)" if more else ""
        super().__init__(self.faults[0] + rest)


class TemplateError(OpnoteError):
    """Raised by ``opnote.note`` when a template asks for something that the note's context does not hold."""


class OutputError(OpnoteError):
    """Raised when an output cannot be written; what stood there before is untouched."""
