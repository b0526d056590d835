"""How long a class takes, how much memory a worker needs, and how many rows need a person.

The class is the longer three quarters of a larger one, which makes ten lines a working of the buoy's.
Run by hand, on a machine that does nothing else: python -m tests.bench.bench_marking [EXERCISE] [SIZE]
"""

import resource
import sys
import tempfile
import time
from pathlib import Path

from derive.loading import exercise_named
from derive.marking.batch import Asked, mark_class
from derive.marking.pool import Limits
from derive.marking.scheme import read_scheme
from derive.records import Problem
from tests.marking.demo import DemoWorking, demo_class


def main(name: str = "buoy", size: int = 300) -> int:
    exercise = exercise_named(name, Path())
    if isinstance(exercise, Problem):
        print(exercise.message)
        return 1
    whole = demo_class(name, [p.row.marks for p in read_scheme(exercise).points], 4 * size // 3, seed=11)
    made = sorted(sorted(whole, key=lines_of, reverse=True)[:size], key=lambda w: w.name)
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "class"
        folder.mkdir()
        for w in made:
            (folder / f"{w.name}.txt").write_text(w.text, encoding="utf-8")
        start = time.perf_counter()
        outcome = mark_class(exercise, Asked(folder, Path(place) / "out", Limits(workers=2)))
        seconds = time.perf_counter() - start
    flagged = {w.name for w in outcome.sheet.workings if w.flagged}
    wrong = [w.name for w in made if w.name not in flagged and w.marks != tuple(
        p.marks for p in next(r for r in outcome.sheet.workings if r.name == w.name).points)]
    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    lines = sum(map(lines_of, made))
    print(f"{size} workings of {lines / size:.1f} lines: {seconds:.1f} s on two workers")
    print(f"the workers' time together {children.ru_utime + children.ru_stime:.1f} s; "
          f"the largest held {children.ru_maxrss / 1024:.0f} MB")
    print(f"for a person {len(flagged)} ({100 * len(flagged) / size:.1f} %), marked wrongly {len(wrong)} {wrong[:5]}")
    return int(bool(wrong))


def lines_of(w: DemoWorking) -> int:
    """How many lines a working has, its heading and what is no line of mathematics apart."""
    rows = [row.strip() for row in w.text.splitlines()]
    return sum(any(sign in row for sign in "=<>≤≥≈") for row in rows)


if __name__ == "__main__":
    arguments = sys.argv[1:]
    sys.exit(main(*arguments[:1], *map(int, arguments[1:2])))
