"""What values of an unknown are admissible before any equation. Nothing here knows of equations."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from derive.terms.functions import Array
from derive.terms.term import Var


@dataclass(frozen=True, slots=True)
class Prior:
    """lower < x < upper, or complex."""

    lower: float = -np.inf
    upper: float = np.inf
    complex: bool = False
    typical: float | None = None

    @property
    def bounded(self) -> bool:
        return not self.complex and (np.isfinite(self.lower) or np.isfinite(self.upper))

    @property
    def by_sign(self) -> bool:
        """Is a value admissible, or not, by its sign alone?"""
        return not self.bounded or (self.lower, self.upper) in ((0.0, np.inf), (-np.inf, 0.0))

    def admits(self, x: Array) -> Array:
        """Which values are admissible."""
        with np.errstate(all="ignore"):
            ok = np.isfinite(x)
            return ok if self.complex or np.iscomplexobj(x) else ok & (x > self.lower) & (x < self.upper)


PriorOf = Callable[[Var], Prior]


def draw(prior: Prior, n: int, rng: np.random.Generator, spread: float = 0.7) -> Array:
    """Random admissible values, spread around 1 (or the middle of a bounded range)."""
    if prior.complex:
        return rng.normal(0, 1.2, n) + 1j * rng.normal(0, 1.2, n)
    lo, hi = prior.lower, prior.upper
    if np.isfinite(lo) and np.isfinite(hi):
        return lo + (hi - lo) * rng.uniform(0.06, 0.94, n)
    size = np.exp(rng.normal(0.2, spread, n))
    if np.isfinite(lo):
        return lo + size
    if np.isfinite(hi):
        return hi - size
    return size * rng.choice([-1.0, 1.0], n)
