"""What a slip costs: the points that it spoils, and no others.

A point whose own statement the slip stands in is lost. Where the slip stands in a line that no point asks for, it
costs the first point that it leads to. Everything after that is followed through.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from derive.marking.aiming import gives_same, lacks_what_is_lost, nearly_speaks_as, outright, says, tries, unlikeness
from derive.marking.form import lone_side
from derive.marking.found import Award, Found, said_by
from derive.marking.heard import Heard
from derive.marking.pieces import Piece
from derive.marking.resting import Reheard
from derive.marking.scheme import Point
from derive.notation.tree import Product, Quotient, Relation, names_in
from derive.terms.numbers import bare_number

Awards = dict[str, Award]


def spoiled(point: Point, award: Award, h: Heard) -> Award:
    """A result that is met only in another arrangement, or in names of the writer's own, is lost where its writer goes
    on to a wrong version of it. A method that was used stays used."""
    if award.found is not Found.MET or point.row.kind == "M":
        return award
    met, aims = said_by(point, h), [w for aim in point.aims for w in aim]
    reckoned = not any(map(_still_to_reckon, met))
    if reckoned and any(outright(p, w, h) for p in met for w in aims):
        return award
    last = met[-1].line + reckoned  # the sum in `T = 268 N + 221 N = 499 N` is right, and goes wrong in its own line
    wrong = [p for p in (*_meant_for(point, h), *tries(point, (*h.slipped, *h.carried), h)) if p.line >= last]
    if not wrong:
        return award
    if wrong[0] in h.carried and point.row.follow_through:
        return award.as_found(Found.FOLLOWED, "award.followed", wrong[0].line)
    return award.as_found(Found.NOT, "award.spoiled", wrong[0].line)


def _still_to_reckon(piece: Piece) -> bool:
    """Does a piece give a quantity by numbers that have still to be put together?"""
    sides = piece.claim.sides if isinstance(piece.claim, Relation) else ()
    return any(not names_in(side) and bare_number(side) is None for side in sides)


def _meant_for(point: Point, h: Heard) -> list[Piece]:
    """The first broken line where without its slip it would say the point, of the point's own quantities: `½ m a = m g`
    on the way to `a = 2 g`."""
    if h.undone is None or not says(h.undone, point, h):
        return []
    own, side = h.form(h.undone), lone_side(h.undone)
    # `4π² r³ = G M T²` gives r no more than T; `cos β = …` is not about sin β.
    bare = side is not None and not isinstance(side, Product | Quotient)
    meant = any(own.speaks_for(h.form(w), bare) for aim in point.aims for w in aim)
    return list(h.slipped[:1]) if meant else []


def charged(points: Sequence[Point], awards: Awards, h: Heard, again: Reheard) -> Awards:
    """Each break that no lost point accounts for costs the first point that was followed through from it."""
    out = dict(awards)
    breaks = list(dict.fromkeys(p.line for p in h.slipped))
    for k, line in enumerate(breaks):
        until = breaks[k + 1] if k + 1 < len(breaks) else 0
        hit = _first_led_to(points, out, line, until) or _first_not_reached(points, out, line, h)
        if hit is None:
            continue
        wrong = [p for p in (*h.slipped, *h.carried) if line <= p.line and (not until or p.line < until)]
        slip = Slip(line, tuple(wrong), h.undone if k == 0 else None)
        lost = [p for p in points if not out[p.label].earned and out[p.label].found is not Found.OPEN and p.aims]
        before = points[: points.index(hit)]
        if any(_lost_by(slip, p, h) for p in lost):
            continue
        short = out[hit.label].found is Found.OPEN
        meant = short and slip.undone is not None and says(slip.undone, hit, h)
        if not meant and any(p in before and _lost_on_the_way(slip, p, h, again) for p in lost):
            continue
        out[hit.label] = out[hit.label].as_found(Found.NOT, "award.slip_before", line)
    return out


@dataclass(frozen=True, slots=True)
class Slip:
    """A break: its line, what is wrong from there to the next, and the line without the slip where that is known."""

    line: int
    wrong: tuple[Piece, ...]
    undone: Piece | None

    @property
    def pieces(self) -> list[Piece]:
        return [p for p in self.wrong if p.line == self.line]


def _lost_by(slip: Slip, point: Point, h: Heard) -> bool:
    """Is a point gone for in the very line of a slip, or said by it once it is undone?"""
    return bool(tries(point, slip.pieces, h)) or (slip.undone is not None and says(slip.undone, point, h))


def _lost_on_the_way(slip: Slip, point: Point, h: Heard, again: Reheard) -> bool:
    """Is a point nearly said in the line of a slip, given or gone for wrongly from it, or put into it once it is
    undone?"""
    if any(nearly_speaks_as(p, point, h) for p in slip.pieces) or any(gives_same(p, point, h) for p in slip.wrong):
        return True
    if tries(point, slip.wrong, h) or any(lacks_what_is_lost(p, point, h) for p in slip.wrong):
        return True
    return slip.undone is not None and any(
        again.rests_on((slip.undone.claim,), tuple(w.claim for w in aim)) for aim in point.aims)


def _first_led_to(points: Iterable[Point], awards: Awards, line: int, until: int) -> Point | None:
    """The first point followed through, or nearly, in a line from the break on and before the next."""
    led = [
        (awards[p.label].line, k, p) for k, p in enumerate(points)
        if (awards[p.label].found is Found.FOLLOWED or awards[p.label].code == "award.nearly_followed")
        and line <= awards[p.label].line and (not until or awards[p.label].line < until)]
    return min(led)[2] if led else None


def _first_not_reached(points: Iterable[Point], awards: Awards, line: int, h: Heard) -> Point | None:
    """The first result that is met only in another arrangement where the way from there to the result breaks: in a line
    about nothing but the symbols of the result."""
    broken = [h.form(p) for p in h.slipped if p.line == line]
    for point in points:
        award = awards[point.label]
        if award.code != "award.met" or award.line >= line or point.row.kind != "A":
            continue
        wanted = [w for aim in point.aims for w in aim]
        given = any(unlikeness(p, w, h) == 0 for p in said_by(point, h) for w in wanted)
        if not given and any(form.names <= h.form(w).names for form in broken for w in wanted):
            return point
    return None


def attempted(points: Iterable[Point], awards: Awards, h: Heard) -> Awards:
    """Of a point that no line says, the line that went for it all the same and slipped, or came to it from a slip."""
    out = dict(awards)
    for point in points:
        award = awards[point.label]
        if award.found is not Found.NOT or award.code != "award.not_met":
            continue
        slipped = next((p for p in h.slipped if _goes_for(p, point, h)), None)
        carried = next((p for p in h.carried if _goes_for(p, point, h)), None)
        if slipped is not None:
            out[point.label] = award.as_found(Found.NOT, "award.slipped", slipped.line)
        elif carried is not None:
            out[point.label] = award.as_found(Found.NOT, "award.from_slip", carried.line)
    return out


def _goes_for(piece: Piece, point: Point, h: Heard) -> bool:
    """In the point's form, or giving its quantity in its symbols, one too many or too few."""
    return bool(tries(point, (piece,), h)) or lacks_what_is_lost(piece, point, h) or (
        gives_same(piece, point, h) and nearly_speaks_as(piece, point, h))


# --- what points need of each other -------------------------------------------------------------------------


def with_needs(points: Sequence[Point], awards: Awards, h: Heard) -> Awards:
    """A point is not given without what it needs. A need that was tried for and slipped has cost its own mark and
    no other; a result that was skipped or lost stands for the method behind it."""
    by_label = {p.label: p for p in points}
    wrong = (*h.slipped, *h.carried)
    tried = {p.label for p in points if awards[p.label].code in ("award.spoiled", "award.slip_before")
             or tries(p, wrong, h) or any(gives_same(x, p, h) or lacks_what_is_lost(x, p, h) for x in wrong)
             or any(nearly_speaks_as(x, p, h) for x in h.slipped)}
    out: Awards = {}
    for point in points:
        award = awards[point.label]
        missing = [n for n in point.row.needs if n in by_label and _lacks(n, {**awards, **out}, by_label, tried)]
        out[point.label] = award if not (missing and award.earned) else _without(award, missing[0], {**awards, **out})
    return out


def _lacks(label: str, awards: Awards, by_label: dict[str, Point], tried: set[str], depth: int = 0) -> bool:
    point, award = by_label[label], awards[label]
    if award.earned or label in tried:
        return False
    needs = [n for n in point.row.needs if n in by_label]
    if point.row.kind == "A" and needs and award.found is not Found.OPEN and depth < len(by_label):
        return any(_lacks(n, awards, by_label, tried, depth + 1) for n in needs)
    return True


def _without(award: Award, need: str, awards: Awards) -> Award:
    if awards[need].found is Found.OPEN:
        return award.as_found(Found.OPEN, "award.need_open", point=need)
    return award.as_found(Found.WITHHELD, "award.need_not_met", point=need)
