"""What was decided of somebody's line, given back in another writer's own words who said the same.

Two lines that read as the same statements have the same trees; walking both side by side gives, for every place
in the one, the place in the other. Verdicts and slips are moved along that map.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from derive.diagnosis.edits import Edit
from derive.diagnosis.explain import Explained
from derive.notation.tree import Span, Statement, walk
from derive.records import LineVerdict, RawLine, Reading, Verdict

_LINE = re.compile(r"line (\d+)\Z")


@dataclass(frozen=True, slots=True)
class Place:
    """One line: where its stretches begin and end in the writer's own line, and its statements there."""

    line: RawLine
    reading: Reading | None
    starts: dict[int, int] = field(default_factory=dict)
    ends: dict[int, int] = field(default_factory=dict)
    statements: dict[Statement, Statement] = field(default_factory=dict)

    def span(self, span: Span | None) -> Span | None:
        """The writer's own stretch for a stretch of the shared line, None where there is none."""
        if span is None:
            return None
        start, end = self.starts.get(span.start), self.ends.get(span.end)
        return None if start is None or end is None or end < start else Span(start, end)


@dataclass(frozen=True, slots=True)
class Places:
    """The writer's own lines by their ordinal in the working."""

    by_ordinal: dict[int, Place]

    def number(self, ordinal: int) -> int:
        place = self.by_ordinal.get(ordinal)
        return place.line.number if place else 0

    def premise(self, label: str) -> str:
        found = _LINE.match(label)
        own = self.number(int(found[1])) if found else 0
        return f"line {own}" if own else label

    def fact(self, name: str, value: str) -> tuple[str, str]:
        if name == "line" and value.isdigit():
            return name, str(self.number(int(value)) or value)
        return name, self.premise(value) if name == "label" else value

    def slip(self, found: Explained) -> Explained:
        """A slip with its places in the writer's own line."""
        place = self.by_ordinal[found.line.number]
        edits = tuple(_own_edit(e, place) for e in found.slip.edits)
        statement = place.statements.get(found.statement, found.statement)
        return replace(found, line=place.line, statement=statement, slip=replace(found.slip, edits=edits))


def _own_edit(edit: Edit, place: Place) -> Edit:
    return replace(edit, before=replace(edit.before, span=place.span(edit.span)))


def places_of(
    shared: Sequence[LineVerdict], own: Sequence[RawLine], readings: Sequence[Reading | None]
) -> Places:
    """The map from shared lines to the writer's own."""
    return Places({x.line.number: _place(x, line, reading)
                   for x, line, reading in zip(shared, own, readings, strict=True)})


def _place(shared: LineVerdict, line: RawLine, reading: Reading | None) -> Place:
    place = Place(line, reading)
    if shared.reading is None or reading is None:
        return place
    for theirs, ours in zip(shared.reading.statements, reading.statements, strict=True):
        place.statements[theirs] = ours
        for a, b in zip(walk(theirs), walk(ours), strict=True):
            one, other = getattr(a, "span", None), getattr(b, "span", None)
            if one is not None and other is not None:
                place.starts.setdefault(one.start, other.start)
                place.ends.setdefault(one.end, other.end)
    return place


def own_line(shared: LineVerdict, places: Places, own: bool = True) -> LineVerdict:
    """A line's verdicts in the writer's own words; `own` False for a line of the exercise, which all share."""
    place = places.by_ordinal.get(shared.line.number) if own else None
    verdicts = tuple(_own_verdict(v, place, places) for v in shared.verdicts)
    if place is None:
        return replace(shared, verdicts=verdicts)
    unreadable = shared.unreadable  # an unreadable line is shared with those that typed the same letters only
    return LineVerdict(place.line, verdicts, place.reading, unreadable)


def _own_verdict(v: Verdict, place: Place | None, places: Places) -> Verdict:
    moved = replace(
        v, premises=tuple(places.premise(p) for p in v.premises), carried_from=places.number(v.carried_from),
        facts=tuple(places.fact(name, value) for name, value in v.facts))
    if place is None or place.reading is None or v.statement is None:
        return moved
    return replace(moved, span=place.span(v.span), statement=place.statements.get(v.statement, v.statement))
