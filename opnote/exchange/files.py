"""Outputs -> files in one folder, all of them or none."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from opnote.errors import OutputError


def write_outputs(folder: Path, outputs: Mapping[str, str | bytes]) -> tuple[Path, ...]:
    """Writes each output under its name in ``folder`` (made if need be) and returns the paths, in the order of ``outputs``.

    Text is written as UTF-8 with its line ends as they are. Everything is first written beside the targets, then moved over them, so
    that a reader sees the old file or the new one and never half of one; when anything fails, what stood there before is put back
    and nothing is left behind. Raises ``OutputError`` when the folder or a file cannot be written, ``ValueError`` for a name that is
    not a plain file name.
    """
    for name in outputs:
        if name in ("", ".", "..") or Path(name).name != name:
            raise ValueError(f"an output needs a plain file name: {name!r}")
    made = _made(folder)
    try:
        with tempfile.TemporaryDirectory(prefix=".opnote-", dir=folder) as staging:
            _stage(Path(staging), outputs)
            return _move(Path(staging), folder, tuple(outputs))
    except OSError as error:
        for empty in made:
            with suppress(OSError):  # something else was put there meanwhile: it stays
                empty.rmdir()
        raise _refused(error, folder) from error


def _made(folder: Path) -> tuple[Path, ...]:
    """Makes the folder and returns what had to be made, innermost first."""
    missing = [place for place in (folder, *folder.parents) if not place.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _refused(error, folder) from error
    return tuple(missing)


def _stage(staging: Path, outputs: Mapping[str, str | bytes]) -> None:
    new = staging / "new"
    new.mkdir()
    for name, content in outputs.items():
        with (new / name).open("wb") as file:
            file.write(content.encode("utf-8") if isinstance(content, str) else content)
            file.flush()
            os.fsync(file.fileno())


def _move(staging: Path, folder: Path, names: tuple[str, ...]) -> tuple[Path, ...]:
    """Moves the staged files over their targets; puts everything back when one of them will not move."""
    old = staging / "old"
    old.mkdir()
    for name in names:
        if (folder / name).exists():
            shutil.copy2(folder / name, old / name)
    moved: list[str] = []
    try:
        for name in names:
            os.replace(staging / "new" / name, folder / name)
            moved.append(name)
    except OSError:
        for name in moved:
            _put_back(old / name, folder / name)
        raise
    return tuple(folder / name for name in names)


def _put_back(old: Path, target: Path) -> None:
    if old.exists():
        os.replace(old, target)
    else:
        target.unlink()


def _refused(error: OSError, folder: Path) -> OutputError:
    reason = error.strerror or type(error).__name__
    hint = "name a folder, not a file" if isinstance(error, NotADirectoryError | FileExistsError) else "name a folder you may write to"
    return OutputError(f"cannot write there: {reason}", where=str(folder), hint=hint)
