"""How large a file may be."""

from __future__ import annotations

#: A file of this size or more is refused before it is read: a day of speech with a time for every word is a tenth of it.
LIMIT_BYTES = 50_000_000
LIMIT_MB = LIMIT_BYTES // 1_000_000
