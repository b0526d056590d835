"""A mark scheme made ready to be met: each point's alternatives read in the exercise's own names.

The form of the rows is the business of `derive.text.marks`. A point that cannot be read is never dropped: it
stays in the scheme without alternatives, and every working is then given to a person for it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from derive.marking.pieces import Piece, pieces_of_claim
from derive.opening import opened
from derive.page import Page
from derive.problems import problem
from derive.records import Document, MarkPoint, Problem, RawLine

Aim = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Point:
    """A mark point and what meets it: any one of its aims, all of whose pieces must be said."""

    row: MarkPoint
    aims: tuple[Aim, ...]

    @property
    def label(self) -> str:
        return self.row.label

    @property
    def name(self) -> str:
        """As it heads a column: `p2 (A1 ft)`."""
        return f"{self.label} ({self.row.kind}{self.row.marks}{' ft' if self.row.follow_through else ''})"


@dataclass(frozen=True, slots=True)
class Scheme:
    """An exercise with its points in order, and the page on which its workings begin."""

    exercise: Document
    points: tuple[Point, ...]
    page: Page
    problems: tuple[Problem, ...] = ()

    @property
    def total(self) -> int:
        return sum(p.row.marks for p in self.points)


def read_scheme(exercise: Document) -> Scheme:
    """The scheme of an exercise, with what is wrong with it."""
    page = opened(replace(exercise, working=(), solution=()), proofs=False)
    points: list[Point] = []
    problems: list[Problem] = []
    for row in exercise.marks:
        aims: list[Aim] = []
        for claim in row.claims:
            aim = _aim(page, claim)
            if isinstance(aim, Problem):
                problems.append(aim)
            else:
                aims.append(aim)
        points.append(Point(row, tuple(aims)))
    if not exercise.marks:
        problems.append(problem("marks.none"))
    return Scheme(exercise, tuple(points), page, tuple(problems))


def _aim(page: Page, claim: RawLine) -> Aim | Problem:
    """What one alternative asks for; read as a line of a working would be, so that `1.5 m/s` is a speed."""
    line = page.after(claim).lines[-1]
    if line.unreadable is not None:
        span = line.unreadable.span
        return problem("marks.unreadable", claim.number, span, expected=line.unreadable.expected)
    statements = line.reading.statements if line.reading else ()
    pieces = tuple(p for s in statements if s.claim is not None for p in pieces_of_claim(s.claim))
    return pieces or problem("marks.unreadable", claim.number, claim.body, expected="an equation or inequality")
