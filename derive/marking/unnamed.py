"""Right numbers of which nobody says what they are: `200 + 300 = 500 N` where `F = 500 N` is asked for.

A person sees at once what is meant, and is asked to look: they neither earn a mark nor cost one in silence.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.marking.costs import Awards
from derive.marking.form import typed
from derive.marking.found import Award, Found
from derive.marking.heard import Heard
from derive.marking.pieces import Piece
from derive.marking.sameness import same
from derive.marking.scheme import Point
from derive.notation.tree import Relation

_CODE = "award.number_alone"


def numbers_alone(points: Sequence[Point], awards: Awards, h: Heard) -> Awards:
    """The awards with such results left open, and with them the methods that they would imply."""
    bare = [p for p in h.good if not typed(p.claim)]
    out = dict(awards)
    for point in points:
        number = next((p for p in bare if _gives(p, point, h)), None) if _missed(awards[point.label]) else None
        if number is not None:
            out[point.label] = awards[point.label].as_found(Found.OPEN, _CODE, number.line)
    for point in points:
        result = next((out[p.label] for p in points if point.label in p.row.needs and out[p.label].code == _CODE), None)
        if result is not None and point.row.kind == "M" and _missed(out[point.label]):
            out[point.label] = out[point.label].as_found(Found.OPEN, _CODE, result.line)
    return out


def _missed(award: Award) -> bool:
    return award.found is Found.NOT and award.code == "award.not_met"


def _gives(piece: Piece, point: Point, h: Heard) -> bool:
    """Would one side of a piece be the number that a point asks for?"""
    sides = getattr(piece.claim, "sides", ())
    return any(
        same(replace(piece, claim=Relation((w.subject, side), ("=",))), w, h.ground)
        for aim in point.aims for w in aim if w.subject is not None and not h.form(w).symbols for side in sides)
