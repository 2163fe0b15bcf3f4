"""``python -m opnote`` is ``opnote``."""

from opnote.cli import main

main()
