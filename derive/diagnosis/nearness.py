"""How near the sides of a claim come to each other over states: for bounds, which may be true and yet not meant."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from derive.states.evidence import Evidence

# Even a number written to one figure is right to within half of itself.
FAR_OFF = 0.6
# Of some forty states the nearest lies within this share of a bound that is the best one.
NEAR = 0.4


def far_off(e: Evidence) -> bool:
    """Sides so far apart at some state that no rounding of a written number explains it."""
    return bool(np.any(_apart(e)[e.fails] > FAR_OFF))


def meet(e: Evidence, slack: float) -> bool:
    """Do the sides meet at most states, to a rounding?"""
    return bool(np.mean(e.holds | (_apart(e) <= slack)) > 0.5)


def comes_near(e: Evidence) -> bool:
    """A bound that states come near to; one that stays far from all of them is true but was not what was meant."""
    return bool(np.nanmin(_apart(e)) < NEAR)


def _apart(e: Evidence) -> NDArray[np.float64]:
    """The gap between the sides at each state, beside the larger of the two."""
    with np.errstate(all="ignore"):
        gap: NDArray[np.float64] = np.abs(e.left - e.right) / np.maximum(np.abs(e.left), np.abs(e.right))
    return gap
