"""The commands for markers and instructors: `mark`, `vet`, `sheet`, `class`. Options and exit codes, no work."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from derive.records import Document

NEEDS_LOOK, NOT_WRITTEN = 2, 3


@click.command(short_help="Mark every working in a folder.")
@click.argument("exercise")
@click.argument("folder", type=click.Path(exists=True, file_okay=False, path_type=Path))
@click.option("--into", type=click.Path(file_okay=False, path_type=Path),
              help="Folder for the mark sheet, pages and lists, instead of FOLDER-marked.")  # fmt: skip
@click.option("--workers", type=click.IntRange(1, 512), help="How many files to mark at once, instead of one a core.")
@click.option("--seconds", type=click.FloatRange(0.1, 86400), default=60.0, show_default=True,
              help="Time that one file may take.")  # fmt: skip
@click.option("--largest", type=click.FloatRange(0.001, 5), default=1.0, show_default=True,
              help="Megabytes that one file may have.")  # fmt: skip
@click.option("--again", is_flag=True, help="Mark every working anew instead of keeping what an earlier run found.")
@click.option("--scheduler", metavar="ADDRESS",
              help="Mark on the workers of a running scheduler (needs the extra “cluster”).")  # fmt: skip
@click.pass_context
def mark(
    context: click.Context, exercise: str, folder: Path, into: Path | None, workers: int | None, seconds: float,
    largest: float, again: bool, scheduler: str | None,
) -> None:  # fmt: skip
    """Mark every working in FOLDER against the mark scheme of EXERCISE.

    EXERCISE is a shipped exercise by name, or a file. Written beside FOLDER, or where --into says:

    \b
      mark_sheet.csv         one row a working, one column a point; opens in any spreadsheet
      pages/                 a feedback page each, as HTML and as plain text
      second_look.txt        what needs a person: nothing unread or undecided costs a mark silently
      slips.txt              equal slips over the class; workings that are the same but for spacing
      decisions.txt          yours: marks and comments with reasons, kept when you mark again

    A cell that a spreadsheet could take for a formula begins with an apostrophe. A run that was stopped goes
    on where it was. What you decide stands above what is printed here, and so do the rules of the course.

    \b
    Exit codes:
      0   every mark is sure
      2   some workings need a person
      3   marking stopped, because something could not be read or written
      64  the command itself was not understood

    \b
    Example:
      thence mark buoy handed_in/
    """
    from derive.marking.batch import Asked, mark_class
    from derive.marking.cluster import Cluster, NoScheduler
    from derive.marking.pool import Limits
    from derive.marking.summary import say_outcome

    document = _exercise(exercise, folder)
    limits = Limits(seconds, int(largest * 1_000_000), workers=workers or 0)
    asked = Asked(folder, into or folder.parent / f"{folder.name or 'class'}-marked", limits, again)
    if scheduler is not None:
        asked = replace(asked, engine=Cluster(scheduler))
    try:
        with _progress() as progress:
            outcome = mark_class(document, asked, progress)
    except OSError as error:
        click.echo(_could_not_write(error), err=True)
        context.exit(NOT_WRITTEN)
    except NoScheduler as error:
        raise click.ClickException(str(error)) from error
    say_outcome(outcome, click.echo)
    context.exit(NEEDS_LOOK if any(a.looks for a in outcome.applied.values()) else 0)


@click.command(short_help="Look an exercise over before it goes out.")
@click.argument("exercise")
@click.option("--no-slips", is_flag=True, help="Leave out the slips made on purpose, which take most of the time.")
@click.pass_context
def vet(context: click.Context, exercise: str, no_slips: bool) -> None:
    """Look an EXERCISE over before it goes out.

    Everything declared and homogeneous, the givens consistent and not already saying the goal, the reference
    solution unbroken and at its goal, every mark point met by it and reachable by itself, the marks adding
    up. Then slips are made on purpose in every line of the solution: which are found, which would get
    through, and which points a slip there would cost.

    \b
    Exit codes:
      0   nothing to mend
      1   something to mend
      64  the command itself was not understood
    """
    from derive.marking.vet import subject_of, vetted
    from derive.marking.vet_report import say_vetting
    from derive.marking.vet_slips import slips_tried

    subject = subject_of(_exercise(exercise, Path()))
    findings = vetted(subject)
    tried = () if no_slips else tuple(slips_tried(subject))
    say_vetting(subject, findings, tried, click.echo)
    context.exit(1 if any(f.weight == "fault" for f in findings) else 0)


@click.command(short_help="Print what a student gets of an exercise.")
@click.argument("exercise")
@click.option("--form", type=click.Choice(["text", "html", "latex"]), default="text", show_default=True,
              help="Plain text, a page, or LaTeX source.")  # fmt: skip
def sheet(exercise: str, form: str) -> None:
    """Print what a student gets of an EXERCISE: statement, symbols, givens and goal, and no solution.

    \b
    Example:
      thence sheet buoy --form latex > buoy.tex
    """
    from derive.marking.sheet import hand_out, sheet_html, sheet_latex, sheet_text

    made = {"text": sheet_text, "html": sheet_html, "latex": sheet_latex}[form]
    click.echo(made(hand_out(_exercise(exercise, Path()))), nl=False)


@click.command("class")
@click.argument("mark_sheet", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--pass", "passing", type=click.IntRange(0), help="Marks from which a working passes.")
@click.option("--usual", type=click.FloatRange(0, 100), help="Percentage of a class that is usually below that line.")
@click.option("--html", "page", type=click.Path(dir_okay=False, path_type=Path), help="Write a page here as well.")
def overview(mark_sheet: Path, passing: int | None, usual: float | None, page: Path | None) -> None:
    """Show a class as a whole, from its MARK_SHEET.

    Mean, median, spread, histogram and the share below the pass line; facility and discrimination of each
    point; the commonest first breaks, with how many and who. An edited sheet is read as it stands.

    \b
    Example:
      thence class handed_in-marked/mark_sheet.csv --pass 4 --usual 20
    """
    from derive.marking.mark_sheet import NotASheet, read_sheet
    from derive.marking.overview import overview as seen
    from derive.marking.overview_report import Usual, class_page, say_class
    from derive.marking.writing import write_whole
    from derive.messages import sentence

    try:
        read = read_sheet(mark_sheet.read_bytes())
    except NotASheet as error:
        raise click.ClickException(
            sentence("class.not_a_sheet", {"name": str(mark_sheet), "why": str(error)})) from error
    figures, share = seen(read, passing), Usual(None if usual is None else usual / 100)
    title = mark_sheet.resolve().parent.name.removesuffix("-marked")
    say_class(figures, share, title, click.echo)
    if page is not None:
        try:
            write_whole(page, class_page(figures, share, title))
        except OSError as error:
            raise click.ClickException(_could_not_write(error)) from error


def _could_not_write(error: OSError) -> str:
    from derive.messages import sentence

    return sentence("mark.not_written", {"name": str(error.filename or ""), "why": error.strerror or str(error)})


@contextmanager
def _progress() -> Iterator[Callable[[int, int], None]]:
    """A bar on the error stream while marking, where that is a terminal."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    console = Console(stderr=True)
    columns = (TextColumn("Marking"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task("marking", total=None)
        yield lambda done, of: bar.update(task, completed=done, total=of)


def _exercise(name: str, near: Path) -> Document:
    from derive.loading import exercise_in, exercise_named
    from derive.records import Problem

    found = exercise_in(name) if Path(name).is_file() else exercise_named(name, near)
    if isinstance(found, Problem):
        raise click.BadParameter(found.message, param_hint="EXERCISE")
    return found


COMMANDS = (mark, vet, sheet, overview)
