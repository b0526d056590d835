"""Reading the workings with a slip that were written by hand, `by_hand/*.txt`, with the slip and without it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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
    """A working with a slip in one line, and what that line should read."""

    group: str
    name: str
    typed: tuple[str, ...]
    broken: int
    right: str

    def slipped(self) -> Slipped:
        return Slipped(self.group, self.name, _document(self.typed), self.broken, right=self.right)

    def mended(self) -> Document:
        """The same with the right line in the slipped one's place and none after it."""
        return _document((*self.typed[: self.broken - 1], self.right))


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
    return ByHand(group, head, tuple(typed), broken, right)


def _document(lines: Sequence[str]) -> Document:
    document = read_document("\n".join(lines) + "\n", "")
    if document.exercise:
        document = with_exercise(document, exercise_document(document.exercise))
    return document
