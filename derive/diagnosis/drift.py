"""Do two sides change alike along the motion? Told by what they come to a moment earlier and a moment later.

Whatever follows by integrating has sides that change alike. Working their rates out on paper, for each of many edited
claims, is far dearer than evaluating the sides at states that have moved on a little; and a difference that shows there
is enough to rule a claim out. That it does not show proves nothing: the trial goes on to ask properly.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from derive.diagnosis.looked import Looked
from derive.diagnosis.needed import Measure, Values
from derive.notation.tree import Claim, Expr
from derive.states.context import Context
from derive.states.projection import Cloud
from derive.terms.calculus import derivative
from derive.terms.functions import Array
from derive.terms.tape import taped
from derive.terms.term import Term, Var, var, variables

STEP = 1e-4  # of the time in which the quickest quantity changes by itself
# What a step leaves out is of its own size, of a second difference's own too; rounding is far below both.
APART = (1e-3, 1e-2)


class Drift:
    """The states of a cloud with the same a moment before and after, and what pieces of a claim come to at them."""

    def __init__(self, claim: Claim, order: int, moments: Cloud, measure: Measure) -> None:
        self._order = order
        self._size = moments.size // 3
        self._looked = Looked(claim, measure)

    def apart(self, left: Expr, right: Expr) -> bool:
        """Do the rates of the two sides (the rates of their rates, at the second order) differ for certain?"""
        values = [self._looked.value(side) for side in (left, right)]
        if any(v is None for v in values):
            return False
        one, other = (self._change(np.broadcast_to(v, 3 * self._size)) for v in values if v is not None)
        sizes = [np.abs(np.broadcast_to(v, 3 * self._size)[: self._size]) for v in values if v is not None]
        with np.errstate(all="ignore"):
            gap, size = np.abs(one - other), np.maximum(np.abs(one), np.abs(other))
            rounding = 1e-13 * np.maximum(*sizes)
            return bool(np.any((gap > APART[self._order - 1] * size) & (gap > rounding) & np.isfinite(gap)))

    def _change(self, values: Array) -> Array:
        now, before, after = values.reshape(3, self._size)
        return after - before if self._order == 1 else after - 2 * now + before


def drifts(
    claim: Claim, deep: Sequence[Cloud], context: Context, measured: Callable[[Expr, Cloud], Values | None]
) -> tuple[Drift, ...]:
    """A drift for every cloud in which rates of a claim's pieces are known, the first rates before the second; none
    where one of them cannot be told."""
    found = []
    for order, cloud in enumerate(deep, 1):
        moments = _moments(cloud, order, context)
        if moments is None:
            return ()
        found.append(Drift(claim, order, moments, _at(moments, measured)))
    return tuple(found)


def _at(moments: Cloud, measured: Callable[[Expr, Cloud], Values | None]) -> Measure:
    return lambda piece: measured(piece, moments)


def _moments(cloud: Cloud, order: int, context: Context) -> Cloud | None:
    """The states now, a moment before and a moment after, one behind the other; None where too little is known."""
    world = context.world
    if not cloud.size or world.fields or world.varying or not world.moving:
        return None
    rates = {v: _rates(v, order, cloud, context) for v in cloud.columns}
    quickest = np.full(cloud.size, 1e-12)
    for v, known in rates.items():
        if known:
            with np.errstate(all="ignore"):
                quickest = np.fmax(quickest, np.abs(known[0]) / np.maximum(np.abs(cloud.columns[v]), 1e-2))
    step = STEP / quickest
    columns = {}
    for v, now in cloud.columns.items():
        known = rates[v]
        if known is None:
            continue
        still = np.zeros(cloud.size)
        first, second = (*known, still, still)[:2]
        moved = [now + sign * step * first + 0.5 * step**2 * second for sign in (-1, 1)]
        columns[v] = np.concatenate([np.broadcast_to(a, cloud.size) for a in (now, *moved)])
    return Cloud(columns, 3 * cloud.size)


def _rates(v: Var, order: int, cloud: Cloud, context: Context) -> list[Array] | None:
    """The values of the first rates of an unknown; of what stays, none. None where the states have none for a rate."""
    if v.at or v.role != "value" or not context.world.is_changing(v):
        return []
    out: list[Array] = []
    rate: Term = var(v)
    for _ in range(order):
        rate = context.resolved(derivative(rate, context.world.along_time))
        if not all(u in cloud.columns for u in variables(rate)):
            return None
        (found,) = taped(rate).run(cloud.columns)
        out.append(np.broadcast_to(np.asarray(found), cloud.size))
    return out
