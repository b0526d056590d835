"""Unknowns side by side as a projection moves them, one row each: positive ones through their logarithm, bounded ones
through the logistic, so that no step leaves what is admissible."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from derive.terms.functions import Array
from derive.terms.prior import Prior

Rows = slice | NDArray[np.intp]


class Coordinates:
    """What the moving coordinate u behind each unknown x is: by rows of the same kind, for many unknowns are."""

    def __init__(self, priors: Sequence[Prior]) -> None:
        lower = np.array([p.lower for p in priors])[:, None]
        upper = np.array([p.upper for p in priors])[:, None]
        bounded = np.array([p.bounded for p in priors], dtype=bool)
        low, high = bounded & np.isfinite(lower[:, 0]), bounded & np.isfinite(upper[:, 0])
        self.free = ~bounded[:, None]
        self.none_bounded = not bounded.any()
        self._kinds = [
            (kind, _rows(here), lower[here], upper[here])
            for kind, here in ((_Below, low & ~high), (_Above, high & ~low), (_Between, low & high)) if here.any()]

    def slopes(self, x: Array) -> Array:
        """dx/du of every unknown."""
        out = np.ones_like(x)
        for kind, rows, lower, upper in self._kinds:
            out[rows] = kind.slope(x[rows], lower, upper)
        return out

    def moved(self, x: Array, du: Array) -> Array:
        """The unknowns after a step of their moving coordinates."""
        out = x + du
        for kind, rows, lower, upper in self._kinds:
            out[rows] = kind.moved(x[rows], _short(du[rows].real), lower, upper)
        return out

    def reach(self, x: Array) -> Array:
        """What a step is long or short beside: what the values are, or 1 where it moves by a share."""
        return np.where(self.free, np.maximum(1.0, np.abs(x)), 1.0)


class _Below:
    """Bounded from below."""

    @staticmethod
    def slope(x: Array, lower: Array, upper: Array) -> Array:
        return x - lower

    @staticmethod
    def moved(x: Array, du: Array, lower: Array, upper: Array) -> Array:
        return lower + (x - lower) * np.exp(du)


class _Above:
    """Bounded from above."""

    @staticmethod
    def slope(x: Array, lower: Array, upper: Array) -> Array:
        return upper - x

    @staticmethod
    def moved(x: Array, du: Array, lower: Array, upper: Array) -> Array:
        return upper - (upper - x) * np.exp(-du)


class _Between:
    """Bounded from both sides."""

    @staticmethod
    def slope(x: Array, lower: Array, upper: Array) -> Array:
        return (x - lower) * (upper - x) / (upper - lower)

    @staticmethod
    def moved(x: Array, du: Array, lower: Array, upper: Array) -> Array:
        share = np.minimum(np.maximum((x - lower) / (upper - lower), 1e-15), 1 - 1e-15)
        return lower + (upper - lower) / (1 + (1 - share) / share * np.exp(-du))


def _rows(here: NDArray[np.bool_]) -> Rows:
    return slice(None) if here.all() else np.flatnonzero(here)


def _short(du: Array) -> Array:
    """A step kept to a factor of e³."""
    return np.minimum(np.maximum(du, -3.0), 3.0)
