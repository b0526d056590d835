"""What was decided of somebody's line, given back in another writer's own words who said the same.

Two lines that read as the same statements have the same trees; walking both side by side gives, for every place
in the one, the place in the other. Verdicts and slips are moved along that map.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from derive.diagnosis.edits import Edit
from derive.diagnosis.explain import Explained
from derive.diagnosis.sites import bare, span_of
from derive.marking.bare import CITED
from derive.notation.tree import Span, Statement, walk
from derive.records import LineVerdict, RawLine, Reading, Verdict

_LINE = re.compile(r"line (\d+)\Z")
_NAMES_A_LINE = ("label", "equation")


@dataclass(frozen=True, slots=True)
class Place:
    """One line: where its stretches begin and end in the writer's own line, and its statements there."""

    line: RawLine
    reading: Reading | None
    starts: dict[int, int] = field(default_factory=dict)
    ends: dict[int, int] = field(default_factory=dict)
    statements: dict[Statement, Statement] = field(default_factory=dict)

    @property
    def cites(self) -> tuple[str, ...]:
        """The labels that the writer gives for the line, as premises are named."""
        named = (self.reading.cites if self.reading else ()) or self.line.cites
        return tuple(f"({c})" for c in named)

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
        """The writer's own label for a shared line, or its number, where a label names one."""
        found = _LINE.match(label)
        place = self.by_ordinal.get(int(found[1])) if found else None
        if place is None:
            return label
        return f"({place.line.label})" if place.line.label else f"line {place.line.number}"

    def fact(self, name: str, value: str) -> tuple[str, str]:
        if name == "line" and value.isdigit():
            return name, str(self.number(int(value)) or value)
        return name, self.premise(value) if name in _NAMES_A_LINE else value

    def slip(self, found: Explained) -> Explained:
        """A slip with its places in the writer's own line."""
        place = self.by_ordinal[found.line.number]
        edits = tuple(_own_edit(e, place) for e in found.slip.edits)
        statement = place.statements.get(found.statement, found.statement)
        return replace(found, line=place.line, statement=statement, slip=replace(found.slip, edits=edits))


def _own_edit(edit: Edit, place: Place) -> Edit:
    return replace(edit, before=_own_piece(edit.before, place), piece=_own_piece(edit.piece, place))


def _own_piece(piece: Any, place: Place) -> Any:
    """A piece that a slip speaks of, with its stretch in the writer's own line and no other."""
    return replace(bare(piece), span=place.span(span_of(piece)))


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
    cites = place.cites if place is not None else ()
    premises = (p for label in v.premises for p in (cites if label == CITED else (places.premise(label),)))
    moved = replace(
        v, premises=tuple(dict.fromkeys(premises)), carried_from=places.number(v.carried_from),
        facts=tuple(places.fact(name, value) for name, value in v.facts))
    if place is None or place.reading is None or v.statement is None:
        return moved
    return replace(moved, span=place.span(v.span), statement=place.statements.get(v.statement, v.statement))
