"""What stands in a cue besides its words: tags, voices, in-cue times, character references."""

from __future__ import annotations

import html
import re

_TAGS = r"v|c|i|b|u|s|ruby|rt|lang|font"
#: Only known tags are markup: a recogniser's "<9 mm" or "<b 9 mm" is text. No branch can cross another "<", so the search is linear.
_MARKUP = re.compile(
    rf"<(?P<close>/?)(?P<tag>{_TAGS})(?:\.[^\s<>]*)?(?P<annotation>\s[^<>]*)?>"
    r"|<(?:[0-9]+:)?[0-9]{1,2}:[0-9]{2}\.[0-9]+>"
    r"|\{\\[a-z][^{}\n]{0,80}\}"
    r"|(?P<reference>&(?:[A-Za-z][A-Za-z0-9]{1,30}|#[0-9]{1,7}|#[xX][0-9A-Fa-f]{1,6});)",
    re.IGNORECASE,
)


def plain_text(text: str) -> str:
    """``text`` without tags and in-cue times, character references resolved.

    >>> plain_text("a <i>firm</i> end point, &lt;3 mm")
    'a firm end point, <3 mm'
    >>> plain_text("diameter <9 mm and > 8")
    'diameter <9 mm and > 8'
    """
    return "".join(part for _, part in voices(text))


def voices(text: str) -> list[tuple[str | None, str]]:
    """The parts of ``text`` with the voice (``<v Name>``) each is spoken by, or None.

    >>> voices("<v Nurse>Left?</v><v Surgeon>Left.</v>")
    [('Nurse', 'Left?'), ('Surgeon', 'Left.')]
    """
    spoken: list[tuple[str | None, list[str]]] = [(None, [])]
    at = 0
    for match in _MARKUP.finditer(text):
        spoken[-1][1].append(text[at : match.start()])
        at = match.end()
        if match["reference"]:
            spoken[-1][1].append(html.unescape(match["reference"]))
        elif (match["tag"] or "").lower() == "v":
            spoken.append((None if match["close"] else _name(match["annotation"]), []))
    spoken[-1][1].append(text[at:])
    return [(voice, "".join(parts)) for voice, parts in spoken if any(part.strip() for part in parts)]


def _name(annotation: str | None) -> str | None:
    return " ".join(html.unescape(annotation or "").split()) or None
