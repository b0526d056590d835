"""The mark sheet: one row a working, one column a point, as comma-separated text; and read back from it.

A cell that a spreadsheet might compute begins with an apostrophe. A point that a person has yet to decide holds
`?` in place of marks; `open` counts the marks that hang on such points.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from derive.marking.decisions import Applied
from derive.marking.records import Sheet
from derive.marking.writing import BYTE_ORDER_MARK, cell_text, csv_text
from derive.messages import sentence
from derive.records import Problem
from derive.text.decode import decode

OPEN = "?"
NAME, TOTAL, LEFT, BREAK, SLIP, GROUP, LOOK, NOTE = (
    "working", "total", "open", "first break", "slip", "equal slip", "second look", "decided")
_POINT = re.compile(r"(?P<label>\S+) \((?P<kind>[MAB])(?P<marks>\d+)(?: ft)?\)\Z")
_TOTAL = re.compile(rf"{TOTAL} \(of (\d+)\)\Z")


def sheet_text(sheet: Sheet, applied: dict[str, Applied], groups: dict[str, str]) -> str:
    """The mark sheet of a class. `groups`: the equal slip that a working's first break belongs to."""
    heads = [NAME, *(name for _, name, _ in sheet.columns), f"{TOTAL} (of {sheet.most})", LEFT, BREAK, SLIP, GROUP,
             LOOK, NOTE]
    rows: list[Sequence[str | int]] = [heads]
    for w in sheet.workings:
        mine = applied[w.name]
        rows.append([
            w.name, *(OPEN if p.open else p.marks for p in mine.points), mine.total, mine.open_marks,
            w.slip.place if w.slip else "", w.slip.kind.replace("_", " ") if w.slip else "", groups.get(w.name, ""),
            " ".join(mine.looks), " ".join(mine.notes),
        ])
    return BYTE_ORDER_MARK + csv_text(rows)


# --- reading back ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a mark sheet: marks by point (None where open or empty) and the total, None for an absent writer.

    Half marks, which a person may give, are floats.
    """

    name: str
    marks: tuple[float | None, ...]
    total: float | None
    first_break: str = ""
    slip: str = ""
    look: str = ""
    group: str = ""

    @property
    def adds_up(self) -> bool:
        """Is the total the sum of the marks? Who decides a point by hand may forget it."""
        return self.total is None or self.total == sum(m or 0 for m in self.marks)


@dataclass(frozen=True, slots=True)
class ReadSheet:
    points: tuple[tuple[str, int], ...]
    most: int
    rows: tuple[Row, ...]


class NotASheet(ValueError):
    """The file is not a mark sheet; says what is wrong with it."""


def read_sheet(data: bytes | str) -> ReadSheet:
    """A mark sheet from its bytes, whichever separator and encoding a spreadsheet wrote it back with."""
    text = decode(data)
    if isinstance(text, Problem):
        raise NotASheet(text.message)
    text = _SEPARATOR_LINE.sub("", text, count=1)
    separator = max(",;\t", key=text.split("\n", 1)[0].count)
    try:
        read = csv.reader(io.StringIO(text), delimiter=separator)
        rows = [cells for row in read if any(cells := [cell_text(c.strip()) for c in row])]
    except csv.Error as error:
        raise NotASheet(str(error)) from error
    if not rows or rows[0][0] != NAME:
        raise NotASheet(sentence("piece.no_names", {"head": NAME}))
    heads = rows[0]
    points = [(k, m) for k, head in enumerate(heads) if (m := _POINT.match(head))]
    total = next(((k, int(m[1])) for k, head in enumerate(heads) if (m := _TOTAL.match(head))), None)
    if total is None:
        raise NotASheet(sentence("piece.no_total", {"head": TOTAL}))
    place = {head: k for k, head in enumerate(heads)}
    return ReadSheet(
        tuple((m["label"], int(m["marks"])) for _, m in points), total[1],
        tuple(_row(row, [k for k, _ in points], total[0], place) for row in rows[1:]))


# Some spreadsheets say in a first line of its own what they separate cells with.
_SEPARATOR_LINE = re.compile(r"\A\"?sep=.\"?\r?\n", re.IGNORECASE)


def _row(row: Sequence[str], points: Sequence[int], total: int, place: dict[str, int]) -> Row:
    def cell(head: str) -> str:
        k = place.get(head, len(row))
        return row[k] if k < len(row) else ""

    marks = tuple(_number(row[k]) if k < len(row) else None for k in points)
    whole = _number(row[total]) if total < len(row) else None
    return Row(row[0], marks, whole, cell(BREAK), cell(SLIP), cell(LOOK), cell(GROUP))


def _number(text: str) -> float | None:
    """Marks in a cell, with a point or a comma before the half."""
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        return None
    return value if isfinite(value) else None
