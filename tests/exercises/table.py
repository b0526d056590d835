"""The shipped workings with what is known of each, read from the table that lies beside them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from derive.records import Document
from derive.text.document import read_document
from derive.text.exercise_files import with_exercise

EXERCISES = Path(__file__).parents[2] / "exercises"


@dataclass(frozen=True)
class Expected:
    """A row of expected.txt: `broken_at` is the number of a line in the file, 0 for none."""

    exercise: str
    working: str
    broken_at: int
    slip: str


def expected() -> list[Expected]:
    """The rows of the table, in its order."""
    rows = []
    for row in (EXERCISES / "expected.txt").read_text(encoding="utf8").splitlines():
        if row and not row.startswith("#"):
            path, line, slip = row.split(maxsplit=2)
            exercise, working = path.removesuffix(".txt").split("/")
            rows.append(Expected(exercise, working, 0 if line == "unbroken" else int(line), slip))
    return rows


@cache
def exercise_document(name: str) -> Document:
    """An exercise as read from its file."""
    return read_document((EXERCISES / f"{name}.txt").read_bytes(), f"{name}.txt")


def working_document(row: Expected) -> Document:
    """A working joined with the symbols, givens and goal of its exercise."""
    path = EXERCISES / row.exercise / f"{row.working}.txt"
    return with_exercise(read_document(path.read_bytes(), path.name), exercise_document(row.exercise))
