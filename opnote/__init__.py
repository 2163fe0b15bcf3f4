"""From a surgeon's timed dictation to the draft of an operative note, each value with the second at which it was said.

>>> import opnote
>>> case = opnote.draft("sample_dictations/acl-hamstring-dictated/transcript.txt")
>>> case.note.title
'Operative note'

The names below are imported when they are first used, so that ``import opnote`` costs nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from opnote.case import Draft, draft, facts
    from opnote.errors import OpnoteError
    from opnote.record.model import Record

__all__ = ["Draft", "OpnoteError", "Record", "__version__", "draft", "facts"]

__version__ = "0.1.0"

_HOME = {
    "Draft": "opnote.case",
    "draft": "opnote.case",
    "facts": "opnote.case",
    "OpnoteError": "opnote.errors",
    "Record": "opnote.record.model",
}


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOME[name]), name)


def __dir__() -> list[str]:
    return sorted(__all__)
