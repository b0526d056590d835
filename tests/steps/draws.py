"""Numbers for the worlds of the corpus: random draws, and derivatives and integrals done numerically.

Kept apart from `corpus` since a row may just as well make its worlds in a way of its own. Nothing here
knows a formula of mechanics.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any

import mpmath

from .corpus import World

Function = Callable[..., Any]


def drawn(rng: Random, names: str, low: float = 0.6, high: float = 2.7) -> World:
    """A world in which each of the names (parted by spaces) has a value of its own in between."""
    return World((name, rng.uniform(low, high)) for name in names.split())


def slope(f: Function, x: float, order: int = 1) -> Any:
    """The derivative of f at x, good to more than ten figures."""
    with mpmath.workdps(30):
        return mpmath.diff(f, mpmath.mpf(x), order)


def partial(f: Function, at: tuple[float, ...], place: int) -> Any:
    """The partial derivative of f by its argument in that place (from 0)."""

    def along(x: Any) -> Any:
        return f(*at[:place], x, *at[place + 1:])

    return slope(along, at[place])


def rounds_to(exact: float, written: float, last_digit: float) -> bool:
    """A number was written rightly to its last digit: `rounds_to(1.2345, 1.23, 0.01)`."""
    return abs(exact - written) <= 0.5 * last_digit * (1 + 1e-9)
