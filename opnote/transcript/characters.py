"""Characters that are no part of what was said."""

from __future__ import annotations

import re

from opnote.transcript.widths import plain_forms

#: Control characters that no text has (white space and separators excepted).
CONTROLS = re.compile(r"[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f]")
#: Characters without a shape (soft hyphen, zero-width spaces and joiners, direction marks, byte order marks).
SHAPELESS = re.compile("[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]")
#: White space that is no single space. A search, because a list of all words of a long line would take twenty times its memory.
_WIDE_SPACE = re.compile(r"\s{2,}|[^\S ]")
_LONE_SURROGATE = re.compile("[\ud800-\udfff]")


def spoken_characters(text: str) -> str:
    r"""``text`` without control and shapeless characters, in plain letters and figures, all white space as single spaces.

    >>> spoken_characters(" left\u200e\x00 \u00a0knee ")
    'left knee'
    """
    text, _ = plain_forms(SHAPELESS.sub("", CONTROLS.sub("", text)))
    return _WIDE_SPACE.sub(" ", _LONE_SURROGATE.sub("\ufffd", text)).strip()
