"""What marking hands on: a marked working as plain data, to be kept, printed and marked again.

A `Marked` goes to disk and comes back equal; nothing in it refers to trees or states.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, replace
from typing import Any

# Raised when what is kept changes its meaning, so that old journals are marked anew.
VERSION = 2


@dataclass(frozen=True, slots=True)
class PointResult:
    """A point of one working: marks that are sure, how it was found, where, and why in a sentence.

    found: a word of `award.Found`.    place: the line as its writer names it, '' for none.
    """

    label: str
    name: str
    most: int
    marks: int
    found: str
    place: str = ""
    why: str = ""

    @property
    def open(self) -> bool:
        return self.found == "second look"


@dataclass(frozen=True, slots=True)
class MarkedLine:
    """A typed line: what was said of it, its mathematics for a page, and whether it was a remark."""

    place: str
    text: str
    standing: str
    sentence: str = ""
    mathml: str = ""


@dataclass(frozen=True, slots=True)
class Slip:
    """The first break in a form that can be compared over a class.

    claim, definitions: what was written, with the writer's own definitions, as plain notation.
    """

    place: str
    text: str
    claim: str
    definitions: tuple[str, ...] = ()
    kind: str = ""
    told: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Marked:
    """One working with all that was found.

    digest: of what was in the file, '' where it could not be had.    shape: of what it says, spacing and names
    of labels apart.    looks: why a person should look, in sentences; empty where nobody needs to.
    """

    name: str
    digest: str = ""
    shape: str = ""
    outcome: str = "unread"
    headline: str = ""
    points: tuple[PointResult, ...] = ()
    lines: tuple[MarkedLine, ...] = ()
    slip: Slip | None = None
    looks: tuple[str, ...] = ()
    account: tuple[tuple[str, tuple[str, ...]], ...] = ()

    @property
    def total(self) -> int:
        return sum(p.marks for p in self.points)

    @property
    def open_marks(self) -> int:
        return sum(p.most for p in self.points if p.open)

    @property
    def flagged(self) -> bool:
        return bool(self.looks)

    def named(self, name: str) -> Marked:
        """The same result for another file with the same content."""
        return replace(self, name=name)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A marked class: the exercise's title, the points as columns, and the workings in order of their names."""

    title: str
    columns: tuple[tuple[str, str, int], ...]  # label, name as a heading, most marks
    workings: tuple[Marked, ...] = ()

    @property
    def most(self) -> int:
        return sum(most for _, _, most in self.columns)


def as_data(marked: Marked) -> dict[str, Any]:
    """A marked working as JSON takes it."""
    return {"version": VERSION, **asdict(marked)}


def as_text(marked: Marked) -> str:
    return json.dumps(as_data(marked), ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def from_text(text: str) -> Marked | None:
    """A marked working from what was kept of it; None where that is not whole or of another version."""
    try:
        data = json.loads(text)
        if data.pop("version") != VERSION:
            return None
        slip = data.pop("slip")
        return Marked(
            points=tuple(PointResult(**p) for p in data.pop("points")),
            lines=tuple(MarkedLine(**x) for x in data.pop("lines")),
            slip=None if slip is None else Slip(**{**slip, "definitions": tuple(slip["definitions"]),
                                                   "told": tuple(slip["told"])}),
            looks=tuple(data.pop("looks")),
            account=tuple((heading, tuple(said)) for heading, said in data.pop("account")),
            **data,
        )
    except (ValueError, TypeError, KeyError, AttributeError):
        return None
