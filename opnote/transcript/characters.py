"""Characters that are no part of what was said."""

from __future__ import annotations

import re

#: Control characters that no text has (white space and separators excepted).
CONTROLS = re.compile(r"[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f]")
#: Characters without a shape (soft hyphen, zero-width spaces and joiners, direction marks, byte order marks).
SHAPELESS = re.compile("[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]")
_LONE_SURROGATE = re.compile("[\ud800-\udfff]")


def spoken_characters(text: str) -> str:
    """``text`` without control and shapeless characters, all white space as single spaces.

    >>> spoken_characters(" left\\u200e\\x00 \\u00a0knee ")
    'left knee'
    """
    text = SHAPELESS.sub("", CONTROLS.sub("", text))
    return " ".join(_LONE_SURROGATE.sub("\ufffd", text).split())
