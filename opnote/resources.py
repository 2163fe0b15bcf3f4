"""Where ``lexicons/`` and ``templates/`` are: in a checkout beside the package, in a wheel inside it."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _find(name: str) -> Path:
    inside = _PACKAGE / name.replace("lexicons", "_lexicons").replace("templates", "_templates")
    return inside if inside.is_dir() else _PACKAGE.parent / name


def lexicons_dir() -> Path:
    """The folder of the built-in lexicons."""
    return _find("lexicons")


def templates_dir() -> Path:
    """The folder of the built-in templates."""
    return _find("templates")
