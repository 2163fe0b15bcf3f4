"""Letters and figures in other forms than the plain ones: full-width and styled figures, ligatures. "７ mm" is "7 mm"."""

from __future__ import annotations

import re
import unicodedata

#: Full-width forms, ligatures of Latin letters, styled letters and figures, and any figure that is not of ASCII.
#: Fractions and raised figures ("½", "²") are none of these: they mean something else than plain ones would.
_OTHER_FORMS = re.compile("[\uff01-\uff5e\ufb00-\ufb06\U0001d400-\U0001d7ff]|(?![0-9])\\d")


def plain_forms(text: str) -> tuple[str, int]:
    """``text`` in plain letters and figures, and how many characters were in another form.

    >>> plain_forms("\uff17 mm, \ufb01rm, \u0667, \u00bd")
    ('7 mm, firm, 7, ½', 3)
    """
    return _OTHER_FORMS.subn(_plain, text)


def first_other_form(text: str) -> int | None:
    """Where the first character in another form stands."""
    match = _OTHER_FORMS.search(text)
    return match.start() if match else None


def _plain(match: re.Match[str]) -> str:
    character = match.group()
    figure = unicodedata.decimal(character, None)
    return str(figure) if figure is not None else unicodedata.normalize("NFKC", character)
