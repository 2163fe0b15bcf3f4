"""``python -m opnote.check`` writes the rule book, ``README.md`` beside this file."""

from pathlib import Path

from opnote.check.pages import page

if __name__ == "__main__":
    Path(__file__).with_name("README.md").write_text(page(), encoding="utf-8", newline="\n")
