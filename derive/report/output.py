"""Where a finished check goes: the screen or a JSON stream. One choice, made once for all files."""

from __future__ import annotations

import errno
import json
from dataclasses import dataclass
from typing import TextIO

from rich.console import Console
from rich.text import Text

from derive.records import Check
from derive.report.cells import visible
from derive.report.discretion import HelpGrade
from derive.report.structured import as_json
from derive.report.teaching import taught
from derive.report.terminal import render


class _Page(Console):
    """A console that leaves it to the command line what to do when a reader leaves early."""

    def on_broken_pipe(self) -> None:
        raise BrokenPipeError(errno.EPIPE, "the reader has left")


@dataclass(frozen=True)
class Output:
    """Writes checks one after another; `one` tells whether a single file was asked for."""

    to: TextIO
    complaints: TextIO
    help_grade: HelpGrade
    show_proof: bool = False
    as_data: bool = False
    width: int | None = None
    one: bool = True

    def put(self, check: Check) -> str:
        """Write one check and give back its outcome."""
        if self.as_data:
            data = as_json(check, self.help_grade, taught(check, self.help_grade), self.show_proof)
            self.to.write(json.dumps(data, ensure_ascii=False, allow_nan=False, indent=2 if self.one else None) + "\n")
        elif check.outcome == "unread":
            self._complain(check)
        else:
            render(check, self._console(self.to), self.help_grade, taught(check, self.help_grade), self.show_proof)
            if not self.one:
                self.to.write("\n")
        return check.outcome

    def _complain(self, check: Check) -> None:
        console = self._console(self.complaints)
        for problem in check.problems:
            where = f"{check.document.source}, line {problem.line}: " if problem.line else ""
            console.print(Text(visible(where + problem.message)), soft_wrap=True, highlight=False)

    def _console(self, stream: TextIO) -> Console:
        return _Page(file=stream, width=self.width, markup=False, emoji=False, highlight=False, legacy_windows=False)
