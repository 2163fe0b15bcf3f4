"""How the commands speak: data on standard output, words on standard error, one line for an error, progress only to a person."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TextIO

import typer

from opnote.errors import OpnoteError, OutputError

UNUSABLE, INTERRUPTED = 2, 130  # exit statuses
UsageError: Any = typer.BadParameter.__base__  # typer has its own copy of this class and does not name it


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


def run(app: typer.Typer, arguments: list[str] | None) -> int:
    """Runs a command and returns its exit status; an error is one line on standard error and never holds words of a dictation."""
    try:
        return int(app(args=arguments, prog_name="opnote", standalone_mode=False) or 0)
    except OpnoteError as error:
        say(f"opnote: {error}")
    except UsageError as error:
        say(_misused(error))
    except (KeyboardInterrupt, typer.Abort):
        say("opnote: interrupted")
        return INTERRUPTED
    except Exception as error:  # the last resort: name what failed, and where, without a word of the dictation
        say(f"opnote: a fault in the program ({type(error).__name__}{_place(error)}); please report this line")
    return UNUSABLE


def _misused(error: Any) -> str:
    """A line that says what is wrong with a command, or the whole help for a command that was given nothing."""
    message, command = error.format_message(), error.ctx.command_path if error.ctx else "opnote"
    if "\n" in message:
        return str(message)
    stop = "" if message.endswith((".", "?", "!")) else "."
    return f"{command}: {message}{stop} Try `{command} --help`."


def _place(error: BaseException) -> str:
    """The innermost place in opnote at which an error arose."""
    home, place, trace = Path(__file__).parent, "", error.__traceback__
    while trace is not None:
        file = Path(trace.tb_frame.f_code.co_filename)
        if file.is_relative_to(home):
            place = f" in {file.relative_to(home).as_posix()}, line {trace.tb_lineno}"
        trace = trace.tb_next
    return place


def _write(stream: TextIO, text: str) -> None:
    """Writes at once. A reader that has gone away (``| head``) wants no more: the rest goes nowhere, in silence."""
    try:
        stream.write(text)
        stream.flush()
    except BrokenPipeError:
        _to_nowhere(stream)
    except OSError as error:
        _to_nowhere(stream)
        raise OutputError(f"cannot write there: {error.strerror}", where="standard output", hint="see to the space it goes to") from None


def _to_nowhere(stream: TextIO) -> None:
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
