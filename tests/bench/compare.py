"""Thence beside a plain sympy script, over the same lines in one run: how long, and how many each decides.

    python -m tests.bench.compare [--every N] [--limit SECONDS] [--only ROW]

Lines are those of the step corpus and of the shipped exercises, up to and with the first break of each working,
that claim something. The script has a limit of time for each line, kept by a process of its own; a line that
meets it counts with that time and as not decided. Times are of the wall, so run it on a machine that does
nothing else. Nothing here is asserted: it prints what is reached.
"""

from __future__ import annotations

import argparse
import gc
import multiprocessing
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from derive.notation.tree import Statement
from derive.opening import opened
from derive.records import Document, LineVerdict, Standing
from derive.text.document import read_document
from tests.bench.plain_script import Page as ScriptPage
from tests.bench.plain_script import decided
from tests.exercises.table import expected, working_document
from tests.steps.corpus import all_cases

ROOT = Path(__file__).parents[2]
RIGHT = {Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.APPROXIMATES}
NO_CLAIM = {Standing.TAKEN, Standing.REMARK}


@dataclass(frozen=True)
class Line:
    """A line as both are given it, what it is known to be, and what Thence made of it in how many seconds."""

    row: str
    true: bool
    positive: frozenset[str]
    of: dict[str, str]
    earlier: tuple[Statement, ...]
    statements: tuple[Statement, ...]
    seconds: float
    verdict: bool | None
    proved: bool


def workings(every: int, only: str) -> Iterator[tuple[str, Document, int]]:
    """Row, document and line of the first break (0 for none)."""
    cases = [(row, read_document(c.text, c.name), c.broken_at or 0) for row, c in all_cases() if only in row]
    shipped = [("exercises", working_document(e), e.broken_at) for e in expected() if only in "exercises"]
    yield from (cases + shipped)[::every]


def lines_of(row: str, document: Document, broken_at: int) -> Iterator[Line]:
    """The lines of a working that claim something, up to its break, decided and timed."""
    page = opened(document)
    positive = frozenset(s.name for s in document.symbols if s.sign == "positive")
    of = {s.name: s.of for s in document.symbols if s.of}
    earlier = [s for given in page.givens if given.reading for s in given.reading.statements]
    for raw in document.working:
        start = time.perf_counter()
        page = page.after(raw)
        seconds = time.perf_counter() - start
        line = page.lines[-1]
        statements = line.reading.statements if line.reading else ()
        standings = {v.standing for v in line.verdicts}
        if statements and not standings <= NO_CLAIM:
            yield Line(row, raw.number != broken_at, positive, of, tuple(earlier), statements, seconds,
                       verdict(line), all(v.support == "proved" for v in line.verdicts if v.standing in RIGHT))
        earlier.extend(statements)
        if raw.number == broken_at:
            return


def verdict(line: LineVerdict) -> bool | None:
    """What Thence says: it holds, it does not, or nothing."""
    standings = {v.standing for v in line.verdicts}
    if Standing.FAILS in standings:
        return False
    return None if standings - RIGHT - NO_CLAIM else True


# --- the script, in a process of its own -----------------------------------------------------------------------


def _serve(pipe: Any) -> None:
    while True:
        line: Line = pipe.recv()
        page = ScriptPage(line.positive, line.of)
        start = time.perf_counter()
        found = decided(page, line.statements, line.earlier)
        pipe.send((found, time.perf_counter() - start))


class Script:
    """The script behind a pipe; it is started anew after a line that took too long."""

    def __init__(self, limit: float) -> None:
        self.limit = limit
        self._start()

    def _start(self) -> None:
        self.pipe, other = multiprocessing.Pipe()
        self.process = multiprocessing.Process(target=_serve, args=(other,), daemon=True)
        self.process.start()

    def decides(self, line: Line) -> tuple[bool | None, float]:
        self.pipe.send(line)
        if self.pipe.poll(self.limit):
            answer: tuple[bool | None, float] = self.pipe.recv()
            return answer
        self.process.kill()
        self.process.join()
        self._start()
        return None, self.limit


# --- printing ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Answer:
    """What one of the two said of a line that is known to be true or not."""

    true: bool
    said: bool | None
    seconds: float
    proved: bool = False


def summary(answers: Sequence[Answer]) -> str:
    """Times, and the share decided, decided rightly and decided wrongly."""
    seconds = sorted(a.seconds for a in answers)
    n = len(answers)
    decided_ = sum(a.said is not None for a in answers)
    rightly = sum(a.said == a.true for a in answers)
    return (f"{1e3 * statistics.median(seconds):>8.1f}{1e3 * seconds[int(0.95 * (n - 1))]:>9.1f}"
            f"{100 * decided_ / n:>9.0f}{100 * rightly / n:>8.0f}{100 * (decided_ - rightly) / n:>7.1f}")


def table(thence: dict[str, list[Answer]], script: dict[str, list[Answer]]) -> None:
    """One row for each kind of step, and one for all."""
    print(f"\n{'':<28}{'lines':>6}  {'Thence':^41}  {'proved':>7}  {'plain script':^41}")
    heads = f"{'median':>8}{'95 %':>9}{'decided':>9}{'right':>8}{'wrong':>7}"
    print(f"{'milliseconds and per cent':<28}{'':>6}  {heads}  {'':>7}  {heads}")
    rows = {**thence, "all": [a for one in thence.values() for a in one]}
    plain = {**script, "all": [a for one in script.values() for a in one]}
    for row, answers in rows.items():
        held = [a for a in answers if a.true and a.said]
        proved = f"{100 * sum(a.proved for a in held) / len(held):.0f} %" if held else "-"
        print(f"{row:<28}{len(answers):>6}  {summary(answers)}  {proved:>7}  {summary(plain[row])}")
    print(f"\ntimes as fast: {ratio(rows['all'], plain['all'], 0.5):.1f} at the median, "
          f"{ratio(rows['all'], plain['all'], 0.95):.1f} at the 95th percentile")


def ratio(one: Sequence[Answer], other: Sequence[Answer], share: float) -> float:
    def at(answers: Sequence[Answer]) -> float:
        return sorted(a.seconds for a in answers)[int(share * (len(answers) - 1))]

    return at(other) / at(one)


TEN_LINES = """\
m y'' = -k y
y'' = -(k/m) y
let ω² = k/m
y'' = -ω² y
try y = Y cos(ω t)
y' = -ω Y sin(ω t)
y'' = -ω² Y cos(ω t)
let T = 2π/ω
T = 2π √(m/k)
T² k = 4 π² m
"""


def cold_start(times: int = 5) -> None:
    """A working of ten lines checked by a fresh process: the wall time, and the most memory it held.

    As after an installation: modules are compiled once, in a run that is not counted.
    """
    with tempfile.TemporaryDirectory() as place:
        working = Path(place) / "ten_lines.txt"
        working.write_text(TEN_LINES, encoding="utf-8")
        command = [sys.executable, "-c", "from derive.cli import main; main()", "check", str(working)]
        environment = {n: v for n, v in os.environ.items() if n != "PYTHONDONTWRITEBYTECODE"}
        environment["PYTHONPYCACHEPREFIX"] = place
        walls = []
        for _ in range(times + 1):
            start = time.perf_counter()
            subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, check=False)
            walls.append(time.perf_counter() - start)
        peak = _peak(command)
    print(f"cold check of ten lines: {statistics.median(walls[1:]):.2f} s (best {min(walls[1:]):.2f} s; "
          f"{walls[0]:.2f} s where modules are not compiled yet), peak memory {peak / 1024:.0f} MB")


def _peak(command: Sequence[str]) -> int:
    """Kilobytes at the most, asked of a child that has no other children than this one."""
    asking = (f"import resource, subprocess; subprocess.run({list(command)!r}, capture_output=True); "
              "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)")
    done = subprocess.run([sys.executable, "-c", asking], cwd=ROOT, capture_output=True, text=True, check=True)
    return int(done.stdout)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("--every", type=int, default=1, help="take only every N-th working")
    asked.add_argument("--limit", type=float, default=10.0, help="seconds that the script may take for a line")
    asked.add_argument("--only", default="", help="rows whose title holds this text")
    options = asked.parse_args()
    cold_start()
    script = Script(options.limit)
    chosen = list(workings(options.every, options.only))
    gc.freeze()  # the tables of the bench itself weigh on nobody's line
    gc.set_threshold(50_000, 20, 50)  # as the command line does
    thence: dict[str, list[Answer]] = defaultdict(list)
    plain: dict[str, list[Answer]] = defaultdict(list)
    # All lines through the one and then through the other: by turns each finds the processor cold from waiting.
    lines = [(row, line) for row, document, broken_at in chosen for line in lines_of(row, document, broken_at)]
    for row, line in lines:
        thence[row].append(Answer(line.true, line.verdict, line.seconds, line.proved))
        said, seconds = script.decides(line)
        plain[row].append(Answer(line.true, said, seconds))
    table(thence, plain)
    own = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"peak memory of this process, all workings checked in it: {own / 1024:.0f} MB")


if __name__ == "__main__":
    main()
