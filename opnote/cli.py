"""The commands and nothing else. Each imports its stages when it runs, so that help and wrong usage cost nothing."""

from __future__ import annotations

import atexit
import gc
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from opnote import __version__, terminal
from opnote.errors import OpnoteError

if TYPE_CHECKING:
    from opnote.case import Case

SAMPLE = "sample_dictations/acl-patellar-tendon-theatre"


def _example(command: str) -> str:
    """A worked example for the end of a help page, on a line of its own that is not wrapped: it runs as it stands in a checkout."""
    return f"\b\nExample: opnote {command}"


app = typer.Typer(
    name="opnote",
    help="From a surgeon's timed dictation to a draft operative note, each value with the second at which it was said.",
    epilog=_example(f"draft {SAMPLE}/transcript.json --case {SAMPLE}/case-sheet.toml --out drafts"),
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 110},
)


def _named(value: str, *, option: str, example: str) -> str:
    """A value that is not empty. Raises the error of wrong use."""
    if not value.strip():
        raise typer.BadParameter(f"something is needed, such as {example}", param_hint=option)
    return value


def _folder(value: str) -> Path:
    return Path(_named(value, option="a folder", example="drafts"))


_FILES = "The transcript of the dictation, or its parts in the order spoken; - is standard input."
Dictation = Annotated[list[str], typer.Argument(metavar="FILE", help=_FILES)]
Addenda = Annotated[
    list[str] | None, typer.Option("--addendum", metavar="FILE", help="A later dictation of the same case; may be repeated.")
]
CaseSheet = Annotated[str | None, typer.Option("--case", metavar="SHEET", help="The case sheet, TOML or JSON: what was scheduled.")]
Lexicons = Annotated[
    list[Path] | None,
    typer.Option("--lexicons", metavar="DIR", parser=_folder, help="A folder laid over the built-in lexicons; may be repeated."),
]
Profiles = Annotated[
    list[str] | None,
    typer.Option(
        "--profile",
        metavar="NAME",
        help="A standard whose elements are asked for, in place of cms, joint-commission and knee-ligament; may be repeated.",
    ),
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


def _case(
    dictation: list[str], addenda: list[str] | None, sheet: str | None, lexicons: list[Path] | None, profiles: list[str] | None
) -> Case:
    with terminal.working() as step:
        step("starting")
        from opnote.case import read_case

        standards = {"profiles": profiles} if profiles else {}
        return read_case(dictation, addenda=addenda or (), sheet=sheet, lexicons=lexicons or (), step=step, **standards)


@app.command(epilog=_example(f"draft {SAMPLE}/transcript.json --case {SAMPLE}/case-sheet.toml --out drafts"))
def draft(
    dictation: Dictation,
    addendum: Addenda = None,
    case: CaseSheet = None,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            metavar="DIR",
            parser=_folder,
            help="Write note, worksheet and record there, all or none; files of these names are replaced.",
        ),
    ] = None,
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


@app.command(epilog=_example(f"facts {SAMPLE}/transcript.json --case {SAMPLE}/case-sheet.toml"))
def facts(
    dictation: Annotated[list[str] | None, typer.Argument(metavar="FILE", help=_FILES)] = None,
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
    if not dictation:
        raise typer.BadParameter("a transcript is needed", param_hint="FILE")
    read = _case(dictation, addendum, case, lexicons, profile)
    from opnote.exchange import record_json

    terminal.out(record_json(read.record))


@app.command(epilog=_example(f"check {SAMPLE}/transcript.json --format json"))
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


@app.command(epilog=_example("explain SIDE01"))
def explain(rule: Annotated[str, typer.Argument(metavar="RULE", help="A rule's id or name, as findings show it.")]) -> None:
    """Print the page of a rule of `check`.

    What it doubts, why, when it is silent, and its source.
    """
    from opnote.check import explain as page

    terminal.out(page(rule))


@app.command(epilog=_example(f"trace {SAMPLE}/transcript.json --value tunnel.diameter_mm"))
def trace(
    dictation: Dictation,
    at: Annotated[str | None, typer.Option("--at", metavar="M:SS", help="What was made of the words said then.")] = None,
    value: Annotated[str | None, typer.Option("--value", metavar="TYPE.ATTRIBUTE", help="Where each such value came from.")] = None,
    word: Annotated[str | None, typer.Option("--word", metavar="TEXT", help="What was made of the statements with this word.")] = None,
    addendum: Addenda = None,
    case: CaseSheet = None,
    lexicons: Lexicons = None,
) -> None:
    """Show where values came from.

    For a second, a value or a word: the words, the edits of hearing, the terms and quantities, what each might have meant with the
    parts of its score, and why one won. Without an option: every value.
    """
    if sum(option is not None for option in (at, value, word)) > 1:
        raise typer.BadParameter("one of --at, --value and --word at a time")
    second = None if at is None else _seconds(at)
    for option, given, example in (("--value", value, "tunnel.diameter_mm"), ("--word", word, "graft")):
        _named(example if given is None else given, option=option, example=example)
    run = _case(dictation, addendum, case, lexicons, None).run
    from opnote import trace as traces

    if second is not None:
        branches = traces.at_second(run, second)
    else:
        branches = traces.of_word(run, word) if word is not None else traces.of_value(run, value or "")
    terminal.out("".join(f"{line}\n" for line in traces.lines(branches)))


def _seconds(at: str) -> float:
    """Seconds from "75", "1:15" or "1:02:30"."""
    parts = at.split(":")
    if len(parts) > 3 or not all(part.replace(".", "", 1).isdecimal() for part in parts):
        raise typer.BadParameter(f"a time such as 3:07 or 1:02:30, not {at!r}", param_hint="--at")
    return sum(float(part) * (1.0, 60.0, 3600.0)[power] for power, part in enumerate(reversed(parts)))


@app.command(epilog=_example(f"transcript {SAMPLE}/transcript.json --to vtt"))
def transcript(
    dictation: Dictation,
    to: Annotated[str, typer.Option("--to", metavar="FORM", help="text, json, vtt or srt.")] = "text",
) -> None:
    """Print a transcript in another form.

    The words as they were read from the file, with their seconds. What the reader tolerated goes to standard error, and what the form
    cannot hold, so that it would not be the same when read again.
    """
    from opnote.exchange import TRANSCRIPT_FORMS, lost, transcript_text
    from opnote.transcript import joined, read

    if to not in TRANSCRIPT_FORMS:
        raise typer.BadParameter(" or ".join(TRANSCRIPT_FORMS), param_hint="--to")
    words = joined([read(part) for part in dictation])
    text = transcript_text(words, form=to)
    terminal.out(text)
    if missing := lost(words, text):
        terminal.say(f"this form does not hold all of it; not the same when read again: {', '.join(missing)}")
    for mend in words.mends:
        terminal.say(f"line {mend.line}: {mend.what}" if mend.line else mend.what)


keeper = typer.Typer(
    name="lexicon",
    help="For the keeper of the lexicons.",
    epilog=_example("lexicon find staple"),
    no_args_is_help=True,
)
app.add_typer(keeper)


@keeper.command("check", epilog=_example("lexicon check"))
def lexicon_check(
    folder: Annotated[Path | None, typer.Argument(metavar="DIR", parser=_folder, help="A folder laid over the built-in lexicons.")] = None,
) -> None:
    """Tell every fault of the lexicons at once.

    File, entry, field and what is wrong; the example and counter-example of each stance cue and mis-hearing are run.
    Exit status: 0 without faults, 2 with one or more.
    """
    with terminal.working() as step:
        step("reading the lexicons and running their examples")
        from opnote.keeper import faults

        found = faults([folder] if folder else [])
    for fault in found:
        terminal.say(fault)
    if found:
        raise typer.Exit(terminal.UNUSABLE)
    terminal.out("no faults\n")


@keeper.command("find", epilog=_example("lexicon find staple"))
def lexicon_find(word: Annotated[str, typer.Argument(metavar="WORD", help="A word or phrase.")], lexicons: Lexicons = None) -> None:
    """Show every entry in which a word stands."""
    from opnote.keeper import find

    places = find(_named(word, option="WORD", example="staple"), lexicons or ())
    if not places:
        raise OpnoteError("the word stands in no entry", hint="add it as lexicons/README.md shows")
    for place in places:
        terminal.out(f"{place.file}  {place.table} {place.id}  ({place.means})\n    {place.field}: {', '.join(place.phrases)}\n")


@keeper.command(
    "quantities", short_help="Show what a phrase's numbers are taken for.", epilog=_example('lexicon quantities "seven by twenty three"')
)
def lexicon_quantities(
    phrase: Annotated[str, typer.Argument(metavar="PHRASE", help="Spoken words, in quotation marks.")], lexicons: Lexicons = None
) -> None:
    """Show the quantities found in a spoken phrase: kind, value, and the rules that made it.

    Kinds: length, angle, force, pressure, volume, mass, duration, period (days to years), percent, clock, date, grade, count, pair
    ("7 x 23"), identifier, suture size, age, ordinal, and number, where no unit was said: what a bare number tells of is settled
    when it is linked to a thing, which `opnote trace` shows.

    Values stand in one unit for each kind (mm, degrees, N, mmHg, mL, minutes); what was said stands beside them where it was another.
    Words that mean two things keep both ("9.5 or 95"); a number that the speaker took back is shown with what took its place.

    Rules, in brackets: short hundred ("two forty" is 240), tens and oh ("nine oh"), cue before (a word before it makes it a time or a
    code), shared unit (said once for several), oh-prefix ("oh seven fifty two" is a time), motion in three figures ("five zero one
    forty"). Set aside on purpose, without a row: areas, rates, telephone numbers, years, rooms, levels, "one of them".
    """
    from opnote.keeper import quantities
    from opnote.language.quantities import unit_name

    found = quantities(_named(phrase, option="PHRASE", example='"nine millimetres"'), lexicons or ())
    if not found:
        terminal.out("no quantities\n")
    for spoken in found:
        told = spoken.told
        value = f"{told.kind} {told.value} {unit_name(told.unit)}".strip()
        said = f", said as {told.as_said}" if told.as_said else ""
        gone = f', taken back: "{spoken.gave_way_to}" stands for it' if spoken.gave_way_to else ""
        terminal.out(f'"{told.words}" is {value}{said}{gone}{f"  ({told.why})" if told.why else ""}\n')


def main(arguments: list[str] | None = None) -> None:
    """Run a command and leave with its exit status: 0, 1 for findings that stop a note, 2 for unusable input or wrong use."""
    gc.set_threshold(100_000, 20, 20)  # a command is short-lived: looking for cycles at the usual pace is a twentieth of its time,
    atexit.register(gc.freeze)  # and at its end, when all of its memory goes back to the system anyway, a seventh
    terminal.prepare()
    sys.exit(terminal.run(app, arguments))
