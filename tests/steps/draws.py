"""Small helpers of the rows: random draws for worlds, and what a written decimal may stand for."""

from __future__ import annotations

from random import Random

from .corpus import World


def drawn(rng: Random, names: str, low: float = 0.6, high: float = 2.7) -> World:
    """A world in which each of the names (parted by spaces) has a value of its own in between."""
    return World((name, rng.uniform(low, high)) for name in names.split())


def rounds_to(exact: float, written: float, last_digit: float) -> bool:
    """A number was written rightly to its last digit: `rounds_to(1.2345, 1.23, 0.01)`."""
    return abs(exact - written) <= 0.5 * last_digit * (1 + 1e-9)
