"""Reading the workings with a slip that were written by hand, `by_hand/*.txt`, with the slip and without it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from derive.records import Document
from derive.text.document import read_document
from derive.text.exercise_files import with_exercise
from tests.diagnosis.slipped import Slipped
from tests.exercises.table import exercise_document

FOLDER = Path(__file__).with_name("by_hand")
SHOULD_BE = "<~"


@dataclass(frozen=True)
class ByHand:
    """A working with a slip, and the same with the right line in the slipped one's place and none after it."""

    slipped: Slipped
    mended: Document

    @property
    def name(self) -> str:
        return self.slipped.name


def workings_by_hand() -> Iterator[ByHand]:
    for file in sorted(FOLDER.glob("*.txt")):
        for block in file.read_text(encoding="utf-8").split("\n@ ")[1:]:
            head, *lines = block.rstrip().splitlines()
            yield _working(file.stem, head, lines)


def _working(group: str, head: str, lines: list[str]) -> ByHand:
    typed = [] if lines[0].startswith(("Symbols:", "Exercise:")) else ["Working:"]
    broken, right = 0, ""
    for line in lines:
        wrong, mark, should = line.partition(SHOULD_BE)
        typed.append(wrong.rstrip())
        if mark:
            broken, right = len(typed), should.strip()
    slipped = Slipped(group, head, _document(typed), broken, right=right)
    return ByHand(slipped, _document([*typed[: broken - 1], right]))


def _document(lines: list[str]) -> Document:
    document = read_document("\n".join(lines) + "\n", "")
    if document.exercise:
        document = with_exercise(document, exercise_document(document.exercise))
    return document
