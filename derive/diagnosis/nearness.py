"""How near the sides of a claim come to each other over states: for bounds, which may be true and yet not meant."""

from __future__ import annotations

import numpy as np

from derive.notation.tree import Expr, Num
from derive.states.evidence import Evidence

# Even a number written to one figure is right to within half of itself.
FAR_OFF = 0.6
# Of some forty states the nearest lies within this share of a bound that is the best one.
NEAR = 0.4


def far_off(e: Evidence) -> bool:
    """Sides so far apart at some state that no rounding of a written number explains it."""
    with np.errstate(all="ignore"):
        apart = np.abs(e.left - e.right) / np.maximum(np.abs(e.left), np.abs(e.right))
    return bool(np.any(apart[e.fails] > FAR_OFF))


def is_zero(e: Expr) -> bool:
    return isinstance(e, Num) and not e.value


def meet(e: Evidence, slack: float) -> bool:
    """Do the sides meet at most states, to a rounding?"""
    with np.errstate(all="ignore"):
        apart = np.abs(e.left - e.right) / np.maximum(np.abs(e.left), np.abs(e.right))
    return bool(np.mean(e.holds | (apart <= slack)) > 0.5)


def comes_near(e: Evidence) -> bool:
    """A bound that states come near to; one that stays far from all of them is true but was not what was meant."""
    with np.errstate(all="ignore"):
        apart = np.abs(e.left - e.right) / np.maximum(np.abs(e.left), np.abs(e.right))
    return bool(np.nanmin(apart) < NEAR)
