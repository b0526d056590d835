"""Starts brought to the size of what the equations tell: r = 4·10⁷ m of `G M T² = 4π² r³` lies far from where states
are drawn, and the steps of a projection are short beside that.

Every equation is a balance of what is added and what is taken off. Where that is positive, Newton's steps are taken on
the logarithm of their ratio by those of the unknowns, which is exact for products. What comes of it is only a start.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import accumulate, pairwise

import numpy as np
from numpy.typing import NDArray

from derive.states.projection import System
from derive.terms.functions import Array
from derive.terms.prior import PriorOf
from derive.terms.tape import taped
from derive.terms.term import Var, postorder, variables

_STEPS = 12
_LONGEST = 60.0  # of a step, as a logarithm
_THERE = 1e-3


def brought_to_size(core: System, env: Mapping[Var, Array], prior_of: PriorOf) -> dict[Var, Array]:
    """The starts with what is positive, and begun as if it were where it may be anything, moved until both sides of
    every equation are of one size."""
    out = dict(env)
    sums = [t for t in core.equations if t.op == "add"]
    inner = {v for t in postorder(*sums) if t.op == "fun" for v in variables(t)}  # an angle of 10²⁵ would be any
    moved = [v for v in variables(*sums) if v in out and prior_of(v).upper == np.inf and (
        prior_of(v).lower == 0 or (prior_of(v).lower == -np.inf and v not in inner))]
    if not moved or not sums or any(np.iscomplexobj(out[v]) for v in moved):
        return out
    out.update({v: np.abs(out[v]) for v in moved})
    tape, bounds = taped(*(a for t in sums for a in t.args)), [0, *accumulate(len(t.args) for t in sums)]
    with np.errstate(all="ignore"):
        for _ in range(_STEPS):
            values, slopes = tape.jacobian(out, moved)
            n = max(np.size(a) for a in out.values())
            x = np.array([np.broadcast_to(out[v], n) for v in moved], float)
            gaps, rows = _balances([np.broadcast_to(a, n) for a in values],
                                   [np.broadcast_to(s, (len(moved), n)) * x for s in slopes], bounds)
            if np.iscomplexobj(gaps) or float(np.abs(gaps).max(initial=0.0)) < _THERE:
                break
            step = -(np.linalg.pinv(rows) @ gaps[:, :, None])[:, :, 0].T
            x = x * np.exp(np.clip(step, -_LONGEST, _LONGEST))
            out.update(zip(moved, np.where(np.isfinite(x) & (x > 0), x, 1.0), strict=True))
    return out


def _balances(
    values: Sequence[Array], shares: Sequence[Array], bounds: Sequence[int]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The logarithm of what is added over what is taken off, an equation a column, and its slopes by the logarithms of
    the unknowns; nothing of an equation in which all has one sign."""
    gaps, rows = [], []
    for first, last in pairwise(bounds):
        a = np.array(values[first:last])
        s = np.array(shares[first:last])
        above, below = np.where(a > 0, a, 0).sum(axis=0), np.where(a < 0, -a, 0).sum(axis=0)
        up = np.where((a > 0)[:, None], s, 0).sum(axis=0) / above
        down = np.where((a < 0)[:, None], -s, 0).sum(axis=0) / below
        told = (above > 0) & (below > 0) & np.isfinite(above) & np.isfinite(below)
        gaps.append(np.where(told, np.log(above) - np.log(below), 0.0))
        rows.append(np.where(told & np.isfinite(up).all(axis=0) & np.isfinite(down).all(axis=0), up - down, 0.0))
    return np.array(gaps).T, np.array(rows).transpose(2, 0, 1)
