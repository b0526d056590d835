"""Points that nobody wrote down and that a further line has put in all the same.

Three ways: a result that stands implies the method it needs; a line that follows from the point where it does not
follow without a given has the point put in; and a working that holds and arrives by steps of its own has, by
another road, all that the points ask for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from derive.marking.aiming import gives_same, says, tries
from derive.marking.costs import Awards
from derive.marking.found import Award, Found
from derive.marking.heard import Heard, led_to_all
from derive.marking.pieces import Piece
from derive.marking.resting import Change, Reheard, Source
from derive.marking.scheme import Point

# Own steps that are tried for what they have put in, the last first.
_MOST_STEPS = 4


def with_methods(points: Sequence[Point], awards: Awards, h: Heard) -> Awards:
    """A result that is met, and that the question does not give away, implies the method it needs."""
    out = dict(awards)
    by_label = {p.label: p for p in points}
    for point in reversed(points):
        if not out[point.label].earned:
            continue
        for need in point.row.needs:
            method = by_label.get(need)
            if method is None or method.row.kind != "M" or not _silent(method, out[need], h):
                continue
            out[need] = out[need].as_found(Found.MET, "award.implied", out[point.label].line)
    return out


def put_in(points: Sequence[Point], awards: Awards, h: Heard, again: Reheard) -> Awards:
    """Points that a further step rests on, as hearing the working again without a given shows."""
    out = dict(awards)
    rank = _ranks(points, h)
    for index, point in enumerate(points):
        if not _silent(point, out[point.label], h):
            continue
        for step in _further(index, rank, h):
            if _has_put_in(step, point, rank.get(step), again, h):
                out[point.label] = out[point.label].as_found(Found.MET, "award.implied", step.line)
                break
    return out


def by_another_road(points: Sequence[Point], awards: Awards, h: Heard) -> Awards:
    """Of a working that holds and arrives, a point that no line says is met by the road that was taken; where a goal
    stands there with no step of its own before it, a person should look."""
    missed = [p for p in points if awards[p.label].found in (Found.NOT, Found.WITHHELD)]
    if not h.arrived or not missed:
        return awards
    led = all(led_to_all(h))
    last = max((p.line for p in h.good), default=0)
    return {**awards, **{
        p.label: awards[p.label].as_found(Found.MET, "award.by_road", last) if led
        else awards[p.label].as_found(Found.OPEN, "award.another_road") for p in missed}}


def _silent(point: Point, award: Award, h: Heard) -> bool:
    """Did nobody go for the point, so that it can only be implied?"""
    wrong = (*h.slipped, *h.carried)
    return (award.found is Found.NOT and award.code == "award.not_met" and bool(point.aims)
            and not tries(point, wrong, h) and not any(gives_same(p, point, h) for p in wrong))


# --- what a step has put in ---------------------------------------------------------------------------------


def _ranks(points: Sequence[Point], h: Heard) -> dict[Piece, int]:
    """How far along the scheme each step stands that says a point."""
    rank: dict[Piece, int] = {}
    for index, point in enumerate(points):
        for p in h.good:
            if says(p, point, h):
                rank[p] = index
    return rank


def _further(index: int, rank: dict[Piece, int], h: Heard) -> Iterator[Piece]:
    """Own steps that may stand beyond a point: those that say a later one, then those that say none, last first."""
    until = min((p.line for p in h.copied), default=0)
    steps = [p for p in h.good if (p in h.leading or p.steps > 1) and (not until or p.line < until)]
    later = [p for p in steps if rank.get(p, -1) > index]
    others = [p for p in reversed(steps) if p not in rank]
    yield from (*later, *others)[:_MOST_STEPS]


def _has_put_in(step: Piece, point: Point, rank: int | None, again: Reheard, h: Heard) -> bool:
    """Does a step rest on all that the point rests on, and does the point stand in for a given it rests on?"""
    step_on = {s for s in again.sources if again.stands(step, Change((s,))) is False}
    for aim in point.aims:
        claims = tuple(w.claim for w in aim)
        needed = again.needed_for(claims)
        if not needed or not needed <= step_on or (rank is None and needed == step_on):
            continue
        if all(h.form(w).names <= h.form(step).names for w in aim):
            continue  # nothing of it has been put in: it could still be to come
        if any(again.stands(step, Change((s,), claims)) for s in _in_order(needed, again)):
            return True
    return False


def _in_order(sources: set[Source], again: Reheard) -> list[Source]:
    return [s for s in again.sources if s in sources]


