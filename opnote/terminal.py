"""How the commands speak: data on standard output, words on standard error, one line for an error, progress only to a person."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TextIO


def prepare() -> None:
    """Both streams speak UTF-8 with plain line ends, wherever they go; what a terminal cannot show is escaped, not fatal."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="backslashreplace", newline="\n")


def out(text: str) -> None:
    """Data, to standard output."""
    _write(sys.stdout, text)


def say(text: str) -> None:
    """A line for people, to standard error."""
    _write(sys.stderr, text.rstrip("\n") + "\n")


def show(markdown: str, plain: str, *, stream: TextIO) -> None:
    """A page: rendered on a terminal, as plain text anywhere else."""
    if not stream.isatty():
        _write(stream, plain)
        return
    from rich.console import Console
    from rich.markdown import Markdown

    Console(file=stream).print(Markdown(markdown))


@contextmanager
def working() -> Iterator[Callable[[str], None]]:
    """Gives a function that shows the step being taken, while standard error is a terminal; elsewhere it shows nothing."""
    if not sys.stderr.isatty():
        yield lambda step: None
        return
    from rich.console import Console

    with Console(stderr=True).status("starting") as status:
        yield status.update


def _write(stream: TextIO, text: str) -> None:
    """Writes at once. A reader that has gone away (``| head``) wants no more: the rest goes nowhere, in silence."""
    try:
        stream.write(text)
        stream.flush()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
