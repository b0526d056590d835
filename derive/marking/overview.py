"""A class seen as a whole, from its mark sheet: where it stands, how each point worked, where workings break.

Facility is the mean mark of a point over its maximum. Discrimination is the corrected item–total correlation:
the product-moment correlation of a point's marks with the total of the other points (for points of one mark the
point-biserial correlation of R. Lev 1949, corrected for overlap); and beside it the upper–lower index with the
outer 27 % of the class (T. L. Kelley 1939). Nothing here judges a class.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, sqrt
from statistics import mean, median, pstdev

from derive.marking.mark_sheet import ReadSheet, Row

OUTER = 0.27
# An upper–lower index of fewer rows says more of two or three people than of a point.
FEWEST_FOR_INDEX = 10


@dataclass(frozen=True, slots=True)
class PointFigures:
    """A point over the class; None where too little is known to say anything."""

    label: str
    most: int
    facility: float | None
    correlation: float | None
    upper_lower: float | None


@dataclass(frozen=True, slots=True)
class Break:
    """A kind of first break: how many have it, and who."""

    what: str
    who: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Overview:
    """present: rows with marks; absent: those without any. below: how many do not reach the pass line.

    counts: how many have each total, half marks counted with the whole one below.    unlike: rows whose total is not
    the sum of their marks, as an edited sheet may have.
    """

    most: int
    present: int
    absent: tuple[str, ...]
    open: int
    mean: float | None
    median: float | None
    spread: float | None
    counts: tuple[int, ...]
    points: tuple[PointFigures, ...]
    breaks: tuple[Break, ...]
    unlike: tuple[str, ...] = ()
    passing: int | None = None
    below: int = 0

    @property
    def share_below(self) -> float | None:
        return self.below / self.present if self.passing is not None and self.present else None


def overview(sheet: ReadSheet, passing: int | None = None) -> Overview:
    """The figures of a class."""
    rows = [r for r in sheet.rows if r.total is not None and not _absent(r)]
    totals = [r.total for r in rows if r.total is not None]
    counts = [0] * (sheet.most + 1)
    for t in totals:
        counts[min(max(floor(t), 0), sheet.most)] += 1
    return Overview(
        sheet.most, len(rows), tuple(r.name for r in sheet.rows if r not in rows),
        sum(any(m is None for m in r.marks) for r in rows),
        mean(totals) if totals else None, median(totals) if totals else None,
        pstdev(totals) if len(totals) > 1 else None, tuple(counts),
        tuple(_point(k, label, most, rows) for k, (label, most) in enumerate(sheet.points)),
        _breaks(rows), tuple(r.name for r in rows if not r.adds_up), passing,
        sum(t < passing for t in totals) if passing is not None else 0)


def _absent(row: Row) -> bool:
    """Somebody without a single mark, not even an open one: a row that a marker added for a list of names."""
    return row.total is None or (all(m is None for m in row.marks) and not row.look and not row.total)


def _point(k: int, label: str, most: int, rows: Sequence[Row]) -> PointFigures:
    known = [(r.marks[k], sum(m or 0 for j, m in enumerate(r.marks) if j != k)) for r in rows]
    pairs = [(float(m), float(rest)) for m, rest in known if m is not None]
    facility = mean(m for m, _ in pairs) / most if pairs else None
    return PointFigures(label, most, facility, correlation(pairs), _upper_lower(k, most, rows))


def correlation(pairs: Sequence[tuple[float, float]]) -> float | None:
    """The product-moment correlation, None where one of the two does not vary."""
    if len(pairs) < 3:
        return None
    mx, my = mean(x for x, _ in pairs), mean(y for _, y in pairs)
    sx = sum((x - mx) ** 2 for x, _ in pairs)
    sy = sum((y - my) ** 2 for _, y in pairs)
    if not sx or not sy:
        return None
    return sum((x - mx) * (y - my) for x, y in pairs) / sqrt(sx * sy)


def _upper_lower(k: int, most: int, rows: Sequence[Row]) -> float | None:
    """Facility in the best 27 % of the class less that in the last 27 %."""
    known = sorted((r for r in rows if r.marks[k] is not None), key=lambda r: (r.total or 0, r.name))
    size = floor(OUTER * len(known) + 0.5)
    if len(known) < FEWEST_FOR_INDEX or not size:
        return None
    low, high = known[:size], known[-size:]
    return (sum(r.marks[k] or 0 for r in high) - sum(r.marks[k] or 0 for r in low)) / (size * most)


def _breaks(rows: Sequence[Row]) -> tuple[Break, ...]:
    """First breaks that are equal over the class, the commonest first."""
    who: dict[str, list[str]] = defaultdict(list)
    for r in rows:
        if r.first_break:
            kind = r.slip or "slip"
            who[f"{kind} ({r.group})" if r.group else kind].append(r.name)
    found = [Break(what, tuple(names)) for what, names in who.items()]
    return tuple(sorted(found, key=lambda b: (-len(b.who), b.what)))
