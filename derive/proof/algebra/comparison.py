"""Inequalities: what is shown, after using premises, as parts of known sign and weighted known inequalities."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from derive.proof.algebra.factors import factors
from derive.proof.algebra.known import Field
from derive.proof.algebra.polynomials import ONE, Poly, add, divides, exact_quotient, is_constant, mul, power
from derive.proof.algebra.search import Goal, cleaned, conjugates, eliminate_by_turns, reduced
from derive.proof.algebra.task import Task
from derive.proof.algebra.writing import Writer, written
from derive.proof.records import Certificate
from derive.terms.signs import NONNEGATIVE, NONZERO, POSITIVE, UNREAL, Sign, powered, product, total

_WANTED: dict[str, Sign] = {">": POSITIVE, "≥": NONNEGATIVE, "≠": NONZERO | UNREAL}


Weighted = tuple[tuple[int, Poly], ...]
# So many known inequalities are added up at most: a < b, b < c and c < d for a + b < c + d.
_TOGETHER = 3


@dataclass(frozen=True, slots=True)
class Bounds:
    """Weighted known inequalities and weighted squares."""

    known: tuple[tuple[int, Poly], ...] = ()
    squares: tuple[tuple[Poly, Poly], ...] = ()


def compare(task: Task) -> Certificate | None:
    """A certificate that the sign is the wanted one, from as few eliminations as can be."""
    if task.goal is None:
        return None
    wanted = _WANTED[task.question.relation]
    field = task.field()
    below = POSITIVE
    for p, e in task.goal.denominators():
        below = product(below, powered(field.reader.poly_sign(p), e))
    zeros = [cleaned(reduced(z, field), field) for z in task.zeros]
    for multiplier in (None, *conjugates(task.goal.num, field)):
        for touching in (True, False):
            goal = Goal(task.goal.num, field)
            if multiplier is not None:
                goal.times(multiplier)
            beside = [(i, Goal(q.num, field)) for i, q in task.knowns if not touching]
            for _ in eliminate_by_turns(goal, zeros, field, touching, [g for _, g in beside]):
                outer = product(below, _multiplied(goal, field))
                bounds = _bounds(task, goal.poly, outer, wanted)
                if bounds is not None:
                    return _certified(task, goal, field, bounds)
                for i, other in beside:
                    ratio = exact_quotient(goal.poly, other.poly) if other.poly else None
                    if ratio is not None and _settled_by(task, i, ratio, other, outer, wanted, field):
                        return _certified_beside(task, goal, field, (i, ratio, other))
    return None


def _settled_by(task: Task, i: int, ratio: Poly, other: Goal, outer: Sign, wanted: Sign, field: Field) -> bool:
    """goal = ratio · (a known inequality, also eliminated): does that give the wanted sign?"""
    s = product(product(_known_sign(task, i), _multiplied(other, field)), task.reader.poly_sign(ratio))
    return not product(s, outer) & ~wanted


def _certified_beside(task: Task, goal: Goal, field: Field, by: tuple[int, Poly, Goal]) -> Certificate | None:
    """The same steps backwards on the known inequality: M·goal = Σ … + ratio·(Mk·known − Σ …)."""
    assert task.goal is not None
    i, ratio, other = by
    writer = Writer(field)
    weight = writer.compared(goal, task.goal.num, (ratio, other))
    return task.certificate(writer, [(i, written(weight))])


def _multiplied(goal: Goal, field: Field) -> Sign:
    """The sign of everything that what is shown has been multiplied by."""
    s = POSITIVE
    for r in goal.trail:
        for f, e in r.factors:
            s = product(s, powered(field.reader.poly_sign(f), e))
    return s


def _certified(task: Task, goal: Goal, field: Field, found: Bounds) -> Certificate | None:
    assert task.goal is not None
    writer = Writer(field)
    if goal.trail:
        writer.compared(goal, task.goal.num)
    bounds = [(i, written(w)) for i, w in found.known]
    squares = [(written(w), written(b)) for w, b in found.squares]
    return task.certificate(writer if goal.trail else None, bounds, squares)


def _bounds(task: Task, p: Poly, outer: Sign, wanted: Sign) -> Bounds | None:
    """What settles the sign of p times something of sign `outer`: its signs, a square, a known inequality."""
    def settles(bounds: Bounds, rest: Poly) -> bool:
        s = task.reader.poly_sign(rest)
        for i, w in bounds.known:
            s = total(s, product(_known_sign(task, i), task.reader.poly_sign(w)))
        for w, b in bounds.squares:
            s = total(s, product(task.reader.poly_sign(w), powered(task.reader.poly_sign(b), 2)))
        return not product(s, outer) & ~wanted

    if settles(Bounds(), p):
        return Bounds()
    square = _as_square(p)
    if square is not None and settles(square, {}):
        return square
    for depth in range(1, _TOGETHER + 1):
        for known, rest in _combinations(task, p, depth):
            if settles(Bounds(known), rest):
                return Bounds(known)
    return None


def _combinations(task: Task, p: Poly, depth: int, after: int = -1) -> Iterator[tuple[Weighted, Poly]]:
    """Sums of so many weighted known inequalities, and what they leave of a polynomial."""
    task.clock.check()
    for place, (i, q) in enumerate(task.knowns):
        for weights in _weights(p, q.num) if place > after else ():
            known: Weighted = ()
            rest = p
            for w in weights:
                rest = add(rest, mul(w, q.num), -1)
                known += ((i, w),)
                if depth == 1:
                    yield known, rest
                else:
                    yield from ((known + more, left) for more, left in _combinations(task, rest, depth - 1, place))


def _as_square(p: Poly) -> Bounds | None:
    """A weight times a square, where factors are repeated."""
    number, found = factors(p)
    weight, base = {0: number}, ONE
    for f, e in found:
        base = mul(base, power(f, e // 2))
        weight = mul(weight, f) if e % 2 else weight
    return None if is_constant(base) else Bounds((), ((weight, base),))


def _known_sign(task: Task, i: int) -> Sign:
    q = dict(task.knowns)[i]
    s = _WANTED[task.known[i].relation]
    for p, e in q.denominators():
        s = product(s, powered(task.reader.poly_sign(p), e))
    return s


def _weights(p: Poly, k: Poly) -> Iterator[list[Poly]]:
    """For each of the monomials that lead k, weights w for which p − w·k loses it, one after another."""
    for lead in sorted(k, reverse=True)[:2]:
        out: list[Poly] = []
        rest = p
        for m in sorted(p, reverse=True):
            if divides(lead, m) and m in rest and rest[m] % k[lead] == 0:
                w = {m - lead: rest[m] // k[lead]}
                out.append(w)
                rest = add(rest, mul(w, k), -1)
        if out:
            yield out


__all__ = ["compare"]
