"""What values of an unknown are admissible before any equation, and how it moves among them.

Positive unknowns move through their logarithm and bounded ones through the logistic, so that no step of a
projection leaves the admissible region. Nothing here knows of equations.
"""

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


def slope(prior: Prior, x: Array) -> Array:
    """dx/du of the moving coordinate u behind an unknown."""
    lo, hi = prior.lower, prior.upper
    if np.isfinite(lo) and np.isfinite(hi):
        return (x - lo) * (hi - x) / (hi - lo)
    if np.isfinite(lo):
        return x - lo
    if np.isfinite(hi):
        return hi - x
    return np.ones_like(x)


def moved(prior: Prior, x: Array, du: Array) -> Array:
    """An unknown after a step of its moving coordinate."""
    lo, hi = prior.lower, prior.upper
    if np.isfinite(lo) and np.isfinite(hi):
        share = np.minimum(np.maximum((x - lo) / (hi - lo), 1e-15), 1 - 1e-15)
        return lo + (hi - lo) / (1 + (1 - share) / share * np.exp(-_short(du)))
    if np.isfinite(lo):
        return lo + (x - lo) * np.exp(_short(du))
    if np.isfinite(hi):
        return hi - (hi - x) * np.exp(-_short(du))
    return x + du


def _short(du: Array) -> Array:
    """A step kept to a factor of e³."""
    return np.minimum(np.maximum(du, -3.0), 3.0)
