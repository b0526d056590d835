"""Rows of `Marks:` — `(p2)  A1   y'' = -(ρ g S/m) y   ft   -- needs p1` — to mark points.

For the form of a scheme; whether a working meets a point is the business of derive.marking.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal, cast

from derive.notation.tree import Span
from derive.problems import problem
from derive.quantities.table_rows import NOTE
from derive.records import MarkPoint, Problem, RawLine
from derive.text.rows import Row

_LABEL = re.compile(r"\s*(?:\(\s*(?P<round>[\w*']{1,8})\s*\)|(?P<plain>[A-Za-z]\d{1,3}|\d{1,3})[.):])\s*")
_KIND = re.compile(r"(?P<kind>[MAB])\s?(?P<marks>\d{1,3})(?P<ft>\s?ft)?(?=\s|$)")
_FOLLOW = re.compile(r"(?:^|\s)\(?(?:ft|f\.t\.)\)?\s*$", re.IGNORECASE)
_FOLLOW_INSIDE = re.compile(r"\s\(?(?:ft|f\.t\.)\)?(?=\s+or\s)", re.IGNORECASE)
_NEEDS = re.compile(r"\bneeds?\s+(?P<labels>[^.;]*)", re.IGNORECASE)
_ONE_NEED = re.compile(r"[A-Za-z]?\d+[a-z]?|[A-Za-z]\w{0,7}")
_OR = re.compile(r"(?<!\S)or(?!\S)")
Kind = Literal["M", "A", "B"]
MOST_MARKS = 100
MOST_POINTS = 200


@dataclass(frozen=True, slots=True)
class Scheme:
    """The points of a scheme in order, and what is wrong with it."""

    points: tuple[MarkPoint, ...] = ()
    problems: tuple[Problem, ...] = ()


def read_marks(rows: Iterable[Row]) -> Scheme:
    """The mark points of the rows; a row that begins with `or` adds alternatives to the point above it."""
    points: list[MarkPoint] = []
    problems: list[Problem] = []
    for row in rows:
        if len(points) == MOST_POINTS:
            problems.append(problem("marks.too_many", row.number, limit=str(MOST_POINTS)))
            break
        if row.content.lstrip().startswith("#"):
            continue
        if points and _OR.match(row.content.lstrip()):
            points[-1], wrong = _with_alternatives(points[-1], row)
        else:
            point, wrong = _point(row)
            points.extend([point] if point else [])
        problems.extend(wrong)
    return Scheme(tuple(points), (*problems, *_between_points(points)))


def _point(row: Row) -> tuple[MarkPoint | None, list[Problem]]:
    label = _LABEL.match(row.text, row.start)
    if label is None:
        return None, [problem("marks.no_label", row.number, _first_word(row))]
    kind = _KIND.match(row.text, label.end())
    if kind is None:
        return None, [problem("marks.no_kind", row.number, _first_word(row, label.end()))]
    if not 1 <= int(kind["marks"]) <= MOST_MARKS:
        return None, [problem("marks.count", row.number, Span(*kind.span()), most=str(MOST_MARKS))]
    body, note, follows = _parts(row, kind.end())
    needs = _needed(note)
    claims = _alternatives(row, body, label["round"] or label["plain"])
    if not claims:
        return None, [problem("marks.no_claim", row.number, Span(*kind.span()))]
    point = MarkPoint(
        label["round"] or label["plain"], cast(Kind, kind["kind"]), int(kind["marks"]),
        claims, follows or bool(kind["ft"]), needs, row.number,
    )
    return point, []


def _with_alternatives(point: MarkPoint, row: Row) -> tuple[MarkPoint, list[Problem]]:
    opening = _OR.search(row.text, row.start)
    assert opening is not None
    body, note, follows = _parts(row, opening.end())
    claims = _alternatives(row, body, point.label)
    if not claims:
        return point, [problem("marks.no_claim", row.number, Span(*opening.span()))]
    needs = tuple(dict.fromkeys((*point.needs, *_needed(note))))
    return replace(point, claims=point.claims + claims, needs=needs,
                   follow_through=point.follow_through or follows), []


def _parts(row: Row, start: int) -> tuple[Span, str, bool]:
    """Where the mathematics stands, the note behind it, and whether `ft` is said."""
    text, end, note = row.text, len(row.text), ""
    dashed = NOTE.search(text, start)
    if dashed:
        end, note = dashed.start(), text[dashed.end():].strip()
    follow = _FOLLOW.search(text[start:end])
    if follow:
        end = start + follow.start()
    return Span(start, end), note, bool(follow or _FOLLOW_INSIDE.search(text, start, end))


def _needed(note: str) -> tuple[str, ...]:
    found = _NEEDS.search(note)
    if found is None:
        return ()
    words = _ONE_NEED.findall(found["labels"])
    return tuple(dict.fromkeys(word for word in words if word.lower() not in ("and", "or", "both", "point", "points")))


def _alternatives(row: Row, body: Span, label: str) -> tuple[RawLine, ...]:
    """One line for each claim between the `or`s that stand in no bracket."""
    text = row.text
    cuts = [body.start]
    for found in _OR.finditer(text, body.start, body.end):
        before = text[body.start:found.start()]
        if all(before.count(opening) <= before.count(closing) for opening, closing in ("()", "[]", "{}")):
            cuts.extend(found.span())
    cuts.append(body.end)
    claims = []
    for start, end in zip(cuts[::2], cuts[1::2], strict=True):
        inner = text[start:end]
        follow = _FOLLOW.search(inner)  # `a = b  ft  or  c = d`
        inner = inner[: follow.start()] if follow else inner
        if inner.strip():
            span = Span(start + len(inner) - len(inner.lstrip()), start + len(inner.rstrip()))
            claims.append(RawLine(row.number, text, label, span))
    return tuple(claims)


def _first_word(row: Row, start: int | None = None) -> Span:
    start = row.start if start is None else start
    word = re.compile(r"\S+").search(row.text, start)
    return Span(*word.span()) if word else Span(row.start, len(row.text))


def _between_points(points: Sequence[MarkPoint]) -> list[Problem]:
    """What is wrong between points: a label used twice, a need that names no point, or needs in a circle."""
    problems: list[Problem] = []
    labels = [point.label for point in points]
    for position, point in enumerate(points):
        if point.label in labels[:position]:
            problems.append(problem("marks.twice", point.line, label=point.label))
        for need in point.needs:
            if need == point.label:
                problems.append(problem("marks.needs_itself", point.line, label=need))
            elif need not in labels:
                near = difflib.get_close_matches(need, labels, n=1, cutoff=0.4)
                problems.append(problem("marks.needs_unknown", point.line, need=need, nearest=near[0] if near else ""))
            elif need in labels[position:]:
                problems.append(problem("marks.needs_later", point.line, label=point.label, need=need))
    return problems
