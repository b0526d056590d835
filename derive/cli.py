"""The command line: names files, options and exit codes, and hands the work to the rooms that do it.

Every import of a working room stands inside the command that needs it, so that `thence --help` answers at
once. A user's mistake gets a sentence that says what to do; a traceback would be a defect.
"""

from __future__ import annotations

import errno
import gc
import logging
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TextIO

import click

from derive.marking_commands import COMMANDS

if TYPE_CHECKING:
    from derive.records import Check, Document
    from derive.report.output import Output

EXIT = {"unbroken": 0, "broken": 1, "unsure": 2, "unread": 3}
# With several files the exit code tells of the one that most needs somebody.
_MOST_SERIOUS = ("unread", "broken", "unsure", "unbroken")
_BAD_USAGE, _DEFECT, _INTERRUPTED, _PIPE_CLOSED = 64, 70, 130, 141

HelpGrade = Literal["place", "kind", "edit"]


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 92})
@click.version_option(package_name="thence", message="thence %(version)s")
def thence() -> None:
    """Read a derivation in mechanics line by line, and say where it stops following.

    \b
    Start with one of these:
      thence check my_working.txt      check a working in a plain text file
      thence notation                  see what can be typed
    """


@thence.command()
@click.argument("files", metavar="FILE...", nargs=-1)
@click.option("--exercise", metavar="NAME",
              help="The exercise the working belongs to: a shipped one by name, or a file. Its symbols and givens "
              "are used. Not needed where the working starts with “Exercise: NAME”.")  # fmt: skip
@click.option("--hint", type=click.Choice(["place", "kind", "edit"]), default="kind", show_default=True,
              help="How much to say of a break: only where it is; what kind of slip it looks like and the state "
              "that shows it; or also the change that would mend it.")  # fmt: skip
@click.option("--show-proof", is_flag=True, help="Say below the report how each proved line was proved.")
@click.option("--json", "as_data", is_flag=True, help="Print the result as JSON (one object a line for several files).")
@click.option("--width", type=click.IntRange(40, 1000), help="Columns to print in, instead of the terminal's own.")
@click.pass_context
def check(
    context: click.Context, files: tuple[str, ...], exercise: str | None, hint: HelpGrade, show_proof: bool,
    as_data: bool, width: int | None,
) -> None:  # fmt: skip
    """Check every line of a working against the lines before it.

    FILE is a plain text file; - reads standard input. A few bare lines are enough:

    \b
      v = u + a t
      s = (u + v) t/2
      so s = u t + a t²/2

    \b
    or, with units, ranges and givens, under headings:
      Symbols:
        m    : kg, positive        -- mass of the barge
        F    : N                   -- pull of the rope
        v(t) : m/s
      Given:
        (a)  F = m v'
      Working:
        (1)  v' = F/m              [divide (a) by m]

    Each line is shown with a sign and a word: it follows, follows if something holds, is taken (a
    definition, a trial, a condition), approximates, does not follow, is carried from an earlier slip, is
    undecided, or could not be read. Below, the first break is explained.

    \b
    Exit codes:
      0   unbroken: every line holds
      1   broken: some line does not follow
      2   no break found, but a line needs a person (undecided or unreadable)
      3   a file could not be read
      64  the command itself was not understood
    With several files: the code of the file that most needs somebody (3, then 1, then 2).

    \b
    Example:
      thence check --exercise buoy my_working.txt
    """
    if not files:
        raise click.UsageError("name a file to check, or - to read what is typed or piped in.")
    from derive.report.output import Output

    output = Output(sys.stdout, sys.stderr, hint, show_proof, as_data, width, one=len(files) == 1)
    belongs_to = _exercise(exercise, files[0])
    outcomes = {_reported(name, belongs_to, output) for name in files}
    context.exit(EXIT[next(o for o in _MOST_SERIOUS if o in outcomes)])


@thence.command()
def notation() -> None:
    """Show what can be typed, with an example of each form."""
    from derive.notation.page import notation_page

    click.echo(notation_page())


for _command in COMMANDS:
    thence.add_command(_command)


def _exercise(asked: str | None, near: str) -> Document | None:
    from derive.loading import exercise_in, exercise_named
    from derive.records import Problem

    if asked is None:
        return None
    found = exercise_in(asked) if Path(asked).is_file() else exercise_named(asked, Path(near))
    if isinstance(found, Problem):
        raise click.BadParameter(found.message, param_hint="--exercise")
    return found


def _reported(name: str, exercise: Document | None, output: Output) -> str:
    """The outcome of one file, written out; a defect of ours at one file must not keep the others from being read."""
    from derive.problems import problem
    from derive.records import Check, Document

    try:
        return output.put(_checked(name, exercise))
    except (OSError, KeyboardInterrupt):
        raise
    except Exception:
        logging.getLogger("derive").exception("gave up at a file")
        return output.put(Check(Document(name, "quick"), "unread", problems=(problem("file.defect", name=name),)))


def _checked(name: str, exercise: Document | None) -> Check:
    from derive.check import check_document
    from derive.loading import load

    return check_document(load(name, exercise))


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command line and leave with its exit code."""
    # Hardly anything that a check lets go of refers to itself: looked for as often as by default, it would cost the
    # slowest lines a tenth of their time.
    gc.set_threshold(50_000, 20, 50)
    for stream in (sys.stdout, sys.stderr):
        _never_fail_on_a_letter(stream)
    try:
        code = _run(list(sys.argv[1:] if arguments is None else arguments))
        sys.stdout.flush()
    except click.UsageError as error:
        code = _say_usage(error)
    except click.ClickException as error:
        code = _say(error.format_message())
    except (KeyboardInterrupt, EOFError, click.Abort):
        click.echo("Stopped.", err=True)
        code = _INTERRUPTED
    except OSError as error:
        code = _say_of_system(error)
    except Exception:
        logging.getLogger("derive").exception("gave up")
        _say("Thence itself failed here, which is a defect of the program. Nothing more was done.")
        code = _DEFECT
    sys.exit(code)


def _say_of_system(error: OSError) -> int:
    if error.errno != errno.EPIPE:
        return _say(f"{error.strerror or error}{f': {error.filename}' if error.filename else ''}.")
    # Whoever was reading has left; what is still buffered must not complain on the way out.
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return _PIPE_CLOSED


def _run(arguments: list[str]) -> int:
    # Not click's own `main`: that would turn a closed pipe into 1, which here means "broken".
    try:
        with thence.make_context("thence", arguments) as context:
            thence.invoke(context)
    except click.exceptions.Exit as leaving:
        return leaving.exit_code
    return 0


def _say_usage(error: click.UsageError) -> int:
    if isinstance(error, click.exceptions.NoArgsIsHelpError):
        click.echo(error.format_message())
        return _BAD_USAGE
    command = error.ctx.command_path if error.ctx else "thence"
    return _say(f"{error.format_message()}\n`{command} --help` shows how it is used.")


def _say(message: str) -> int:
    from derive.report.cells import visible

    shown = "\n".join(visible(line) for line in message.split("\n"))  # it may quote what was typed
    click.echo(shown[:1].upper() + shown[1:], err=True)
    return _BAD_USAGE


def _never_fail_on_a_letter(stream: TextIO) -> None:
    r"""A terminal that knows no Greek gets `\u03c1`, not a failure."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="backslashreplace")


if __name__ == "__main__":
    main()
