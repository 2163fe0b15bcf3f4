"""The commands and nothing else. Each imports its stages when it runs, so that help and wrong usage cost nothing."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from opnote import __version__, terminal
from opnote.errors import OpnoteError

if TYPE_CHECKING:
    from opnote.case import Case

DATA_ERROR = 2
INTERRUPTED = 130

app = typer.Typer(
    name="opnote",
    help="From a surgeon's timed dictation to a draft operative note, each value with the second at which it was said.",
    epilog="Example: opnote draft dictation.vtt --case case-sheet.toml --out drafts/",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 110},
)

Dictation = Annotated[str, typer.Argument(metavar="FILE", help="The transcript of the dictation; - is standard input.")]
Addenda = Annotated[
    list[str] | None, typer.Option("--addendum", metavar="FILE", help="A later dictation of the same case; may be repeated.")
]
CaseSheet = Annotated[str | None, typer.Option("--case", metavar="SHEET", help="The case sheet, TOML or JSON: what was scheduled.")]
Lexicons = Annotated[
    list[Path] | None, typer.Option("--lexicons", metavar="DIR", help="A folder laid over the built-in lexicons; may be repeated.")
]
Profiles = Annotated[
    list[str] | None, typer.Option("--profile", metavar="NAME", help="A standard whose elements are asked for; may be repeated.")
]


def _version(wanted: bool) -> None:
    if wanted:
        terminal.out(f"opnote {__version__}\n")
        raise typer.Exit


@app.callback()
def opnote(
    version: Annotated[bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")] = False,
) -> None:
    """From a surgeon's timed dictation to a draft operative note, each value with the second at which it was said."""


def _case(dictation: str, addenda: list[str] | None, sheet: str | None, lexicons: list[Path] | None, profiles: list[str] | None) -> Case:
    with terminal.working() as step:
        step("starting")
        from opnote.case import read_case

        standards = {"profiles": profiles} if profiles else {}
        return read_case(dictation, addenda=addenda or (), sheet=sheet, lexicons=lexicons or (), step=step, **standards)


@app.command(epilog="Example: opnote draft dictation.vtt --case case-sheet.toml --out drafts/")
def draft(
    dictation: Dictation,
    addendum: Addenda = None,
    case: CaseSheet = None,
    out: Annotated[Path | None, typer.Option("--out", metavar="DIR", help="Write note, worksheet and record there, all or none.")] = None,
    kind: Annotated[str, typer.Option("--kind", metavar="KIND", help="The kind of note: full or immediate.")] = "full",
    worksheet: Annotated[bool, typer.Option("--worksheet", help="Print the worksheet on standard output, and no note.")] = False,
    lexicons: Lexicons = None,
    profile: Profiles = None,
) -> None:
    """Draft the note and the surgeon's worksheet.

    The note goes to standard output, the worksheet to standard error. With --out both are written as files instead:
    note.md, note.txt, note.html, worksheet.html and record.json.
    """
    read = _case(dictation, addendum, case, lexicons, profile)
    from opnote.note import render

    note, sheet = read.note(kind=kind), read.worksheet()
    if out is not None:
        _write(out, note, sheet, read)
    elif worksheet:
        terminal.show(render(sheet, form="md"), render(sheet, form="txt"), stream=sys.stdout)
    else:
        terminal.show(render(note, form="md"), render(note, form="txt"), stream=sys.stdout)
        terminal.show(render(sheet, form="md"), render(sheet, form="txt"), stream=sys.stderr)


def _write(folder: Path, note: Any, sheet: Any, case: Case) -> None:
    from opnote.exchange import record_json, write_outputs
    from opnote.note import render

    outputs = {
        "note.md": render(note, form="md"),
        "note.txt": render(note, form="txt"),
        "note.html": render(note, form="html"),
        "worksheet.html": render(sheet, form="html"),
        "record.json": record_json(case.record),
    }
    for path in write_outputs(folder, outputs):
        terminal.say(str(path))


@app.command(epilog="Example: opnote facts dictation.vtt | jq '.entities[] | select(.type == \"implant\")'")
def facts(
    dictation: Annotated[str | None, typer.Argument(metavar="FILE", help="The transcript of the dictation; - is standard input.")] = None,
    addendum: Addenda = None,
    case: CaseSheet = None,
    schema: Annotated[bool, typer.Option("--schema", help="Print the JSON Schema of the record instead.")] = False,
    lexicons: Lexicons = None,
    profile: Profiles = None,
) -> None:
    """Print the record as JSON.

    Every value stands with the words and the second it came from; the findings are included.
    """
    if schema:
        from opnote.exchange import schema_json

        terminal.out(schema_json())
        return
    if dictation is None:
        raise typer.BadParameter("a transcript is needed", param_hint="FILE")
    read = _case(dictation, addendum, case, lexicons, profile)
    from opnote.exchange import record_json

    terminal.out(record_json(read.record))


@app.command(epilog="Example: opnote check dictation.vtt --format json && echo 'nothing stops this note'")
def check(
    dictation: Dictation,
    addendum: Addenda = None,
    case: CaseSheet = None,
    form: Annotated[str, typer.Option("--format", metavar="text|json", help="Lines for people, or JSON.")] = "text",
    lexicons: Lexicons = None,
    profile: Profiles = None,
) -> None:
    """Print the questions a reviewer would ask.

    Exit status: 0 clean, 1 when a question stops the note, 2 for unusable input.
    """
    if form not in ("text", "json"):
        raise typer.BadParameter("text or json", param_hint="--format")
    findings = _case(dictation, addendum, case, lexicons, profile).record.findings
    from opnote.exchange import findings_json, findings_text

    terminal.out(findings_json(findings) if form == "json" else findings_text(findings))
    raise typer.Exit(1 if any(finding.severity == "stop" for finding in findings) else 0)


@app.command(epilog="Example: opnote explain SIDE01")
def explain(rule: Annotated[str, typer.Argument(metavar="RULE", help="A rule's id or name, as findings show it.")]) -> None:
    """Print the page of a rule of `check`.

    What it doubts, why, when it is silent, and its source.
    """
    from opnote.check import explain as page

    terminal.out(page(rule))


UsageError: Any = typer.BadParameter.__base__  # typer keeps its own copy of this class and does not name it


def main(arguments: list[str] | None = None) -> None:
    """Run a command and leave with its exit status; an error is one line on standard error and never holds words of a dictation."""
    terminal.prepare()
    sys.exit(_status(arguments))


def _status(arguments: list[str] | None) -> int:
    try:
        return int(app(args=arguments, prog_name="opnote", standalone_mode=False) or 0)
    except OpnoteError as error:
        terminal.say(f"opnote: {error}")
    except UsageError as error:
        terminal.say(_misused(error))
    except (KeyboardInterrupt, typer.Abort):
        terminal.say("opnote: interrupted")
        return INTERRUPTED
    except Exception as error:  # the last resort: name what failed without a word of the dictation
        terminal.say(f"opnote: a fault in the program ({type(error).__name__} {_place(error)}); please report this line")
    return DATA_ERROR


def _misused(error: Any) -> str:
    """A line that says what is wrong with a command, or the whole help for a command that was given nothing."""
    message, command = error.format_message(), error.ctx.command_path if error.ctx else "opnote"
    return str(message) if "\n" in message else f"{command}: {message} Try `{command} --help`."


def _place(error: BaseException) -> str:
    """The innermost place in opnote at which an error arose."""
    place, trace = "", error.__traceback__
    while trace is not None:
        code = trace.tb_frame.f_code
        if Path(code.co_filename).is_relative_to(Path(__file__).parent):
            place = f"in {Path(code.co_filename).relative_to(Path(__file__).parent).as_posix()}, line {trace.tb_lineno}"
        trace = trace.tb_next
    return place
