"""Checks hostile texts in a process of its own, with little memory and little time; run as a program.

Reads a JSON list of texts, writes one JSON object a line for each: what was said, what it cost. Kept apart from
the tests so that a text that breaks the bounds ends this process and not theirs.
"""

from __future__ import annotations

import io
import json
import resource
import sys
import time
from pathlib import Path

from rich.console import Console

MEMORY, SECONDS = 1_500_000_000, 240


def main() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
    answered("v = u + a t\n")  # what is loaded once is not counted
    for text in json.load(sys.stdin):
        print(json.dumps(answered(text)), flush=True)


def answered(text: str) -> dict[str, object]:
    """The verdicts on a text line by line, its report, and the seconds and the memory they took."""
    from derive.check import check_text
    from derive.report.structured import as_json
    from derive.report.teaching import taught
    from derive.report.terminal import render

    before = time.process_time()
    check = check_text(text)
    beside = taught(check, "kind")
    shown = io.StringIO()
    render(check, Console(file=shown, width=90, markup=False, emoji=False, highlight=False), "kind", beside)
    data = json.dumps(as_json(check, "kind", beside))
    return {
        "outcome": check.outcome,
        "lines": [[v.standing.value for v in x.verdicts] for x in check.lines],
        "codes": [[v.code for v in x.verdicts] for x in check.lines],
        "problems": [p.code for p in check.problems],
        "report": shown.getvalue(),
        "json": data,
        "seconds": time.process_time() - before,
        "peak": peak(),
    }


def peak() -> float:
    """The most memory this program has held, in megabytes. What the kernel counts for the process also counts what
    the process that started it held before, where it tells them apart at all."""
    status = Path("/proc/self/status")
    if status.exists():
        line = next(x for x in status.read_text().splitlines() if x.startswith("VmHWM:"))
        return int(line.split()[1]) / 1000
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000


if __name__ == "__main__":
    main()
