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
    """Raised by ``opnote.lexicon`` with every fault of every file."""

    def __init__(self, faults: list[str]) -> None:
        self.faults = tuple(faults)
        count = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
        super().__init__(f"{count} in the lexicons\n  " + "\n  ".join(faults), hint="mend them and run `opnote lexicon check`")


class TemplateError(OpnoteError):
    """Raised by ``opnote.note`` when a template asks for something that the note's context does not hold."""


class OutputError(OpnoteError):
    """Raised when an output cannot be written; what stood there before is untouched."""
