"""Inequalities: what is shown, after using premises, as parts of known sign and weighted known inequalities."""

from __future__ import annotations

from derive.proof.algebra.polynomials import Poly, add, divides, mul
from derive.proof.algebra.search import Field, Goal, cleaned, conjugates, eliminate_by_turns, reduced
from derive.proof.algebra.task import Task
from derive.proof.algebra.writing import written
from derive.proof.records import Certificate, Written
from derive.proof.signs import NONNEGATIVE, NONZERO, POSITIVE, UNREAL, Sign, powered, product, total

_WANTED: dict[str, Sign] = {">": POSITIVE, "≥": NONNEGATIVE, "≠": NONZERO | UNREAL}
Bounds = list[tuple[int, Poly]]


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
        goal = Goal(task.goal.num, field)
        if multiplier is not None:
            goal.times(multiplier)
        for _ in eliminate_by_turns(goal, zeros, field):
            bounds = _bounds(task, goal.poly, product(below, _multiplied(goal, field)), wanted)
            if bounds is not None:
                return _certified(task, goal, field, bounds)
    return None


def _multiplied(goal: Goal, field: Field) -> Sign:
    """The sign of everything that what is shown has been multiplied by."""
    s = POSITIVE
    for r in goal.trail:
        for f, e in r.factors:
            s = product(s, powered(field.reader.poly_sign(f), e))
    return s


def _certified(task: Task, goal: Goal, field: Field, bounds: Bounds) -> Certificate | None:
    assert task.goal is not None
    writer = task.writer(field)
    if goal.trail:
        writer.compared(goal, task.goal.num)
    made: list[tuple[int, Written]] = [(i, written(w)) for i, w in bounds]
    return task.certificate(writer if goal.trail else None, made)


def _bounds(task: Task, p: Poly, outer: Sign, wanted: Sign) -> Bounds | None:
    """Weights of known inequalities that settle the sign of p times something of sign `outer`."""
    def settles(bounds: Bounds, rest: Poly) -> bool:
        s = task.reader.poly_sign(rest)
        for i, w in bounds:
            s = total(s, product(_known_sign(task, i), task.reader.poly_sign(w)))
        return not product(s, outer) & ~wanted

    if settles([], p):
        return []
    for i, q in task.knowns:
        bounds: Bounds = []
        rest = p
        for w in _weights(p, q.num):
            rest = add(rest, mul(w, q.num), -1)
            bounds.append((i, w))
            if settles(bounds, rest):
                return bounds
    return None


def _known_sign(task: Task, i: int) -> Sign:
    q = dict(task.knowns)[i]
    s = _WANTED[task.known[i].relation]
    for p, e in q.denominators():
        s = product(s, powered(task.reader.poly_sign(p), e))
    return s


def _weights(p: Poly, k: Poly) -> list[Poly]:
    """Monomials w for which p − w·k loses the monomial that leads k, one after another."""
    out: list[Poly] = []
    rest = p
    for lead in sorted(k, reverse=True)[:2]:
        for m in sorted(rest, reverse=True):
            if divides(lead, m) and m in rest and rest[m] % k[lead] == 0:
                w = {m - lead: rest[m] // k[lead]}
                out.append(w)
                rest = add(rest, mul(w, k), -1)
        if out:
            return out
    return out


__all__ = ["compare"]
