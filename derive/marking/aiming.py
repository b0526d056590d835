"""What a piece is going for, rightly or wrongly: how near its form comes to what a point asks for."""

from __future__ import annotations

from collections.abc import Iterable

from derive.marking.form import lone_side, typed
from derive.marking.heard import Heard
from derive.marking.pieces import Piece
from derive.marking.sameness import same
from derive.marking.scheme import Point

_SAME_SYMBOLS = 4  # how far a piece is from what it shares no more with than its symbols


def unlikeness(piece: Piece, wanted: Piece, h: Heard) -> int:
    """0 for a piece in the form of what is wanted, 1 for one that speaks of the same, 2 for any other."""
    own, form = h.form(piece), h.form(wanted)
    side = lone_side(wanted)
    if side is None:
        return 0 if own.speaks_as(form) else 2
    if own.like(form) and side in getattr(piece.claim, "sides", ()):
        return 0
    return 1 if own.like(form) or own.speaks_as(form) else 2


def outright(piece: Piece, wanted: Piece, h: Heard) -> bool:
    """Does a piece have the form of what is wanted, and its very symbols, none of them the writer's own?"""
    return unlikeness(piece, wanted, h) == 0 and typed(piece.claim) == typed(wanted.claim)


def tries(point: Point, pieces: Iterable[Piece], h: Heard) -> list[Piece]:
    """The pieces that go for a point and for no other more plainly."""
    return [p for p in pieces if point.label in aims_of(p, h)]


def aims_of(piece: Piece, h: Heard) -> frozenset[str]:
    """The points that a piece comes nearest to; none where it comes near none. What only speaks of the same symbols as
    several points goes for the first of them: it costs one and leads to the others."""
    near: dict[str, int] = {}
    for point in h.scheme.points:
        found = [d for aim in point.aims for w in aim for d in [_distance(piece, w, h)] if d is not None]
        if found:
            near[point.label] = min(found)
    least = min(near.values(), default=0)
    nearest = [label for label, d in near.items() if d == least]
    return frozenset(nearest[:1] if least == _SAME_SYMBOLS else nearest)


def _distance(piece: Piece, wanted: Piece, h: Heard) -> int | None:
    own, form = h.form(piece), h.form(wanted)
    if own.like(form):
        return unlikeness(piece, wanted, h)
    if own.comparable(form):
        return 3
    other = bool(own.subject and form.subject) and own.subject != form.subject
    return _SAME_SYMBOLS if own.speaks_as(form) and not other else None


def says(piece: Piece, point: Point, h: Heard) -> bool:
    """Is a piece one of the statements that meet a point?"""
    return any(same(piece, w, h.ground) for aim in point.aims for w in aim)


def gives_same(piece: Piece, point: Point, h: Heard) -> bool:
    """Does a piece give the quantity that a point gives, by whatever, numbers alone apart?"""
    own = h.form(piece)
    return any(
        own.same_subject(form) and bool(own.symbols or not form.symbols)
        for aim in point.aims for w in aim for form in [h.form(w)])


def nearly_speaks_as(piece: Piece, point: Point, h: Heard) -> bool:
    """The symbols of a point with one too many or too few."""
    return any(len(h.form(piece).names ^ h.form(w).names) <= 1 for aim in point.aims for w in aim)


def lacks_what_is_lost(piece: Piece, point: Point, h: Heard) -> bool:
    """The symbols of a point but for the one that the slip has left out (`tan θ = ω² L sin θ/g` without its R)."""
    return bool(h.lost) and any(
        h.lost <= form.names and h.form(piece).names == form.names - h.lost
        for aim in point.aims for w in aim for form in [h.form(w)])
