"""Vectors in the plane as pairs of numbers, for the labels of the rows with vectors."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from .corpus import slope

Pair = Sequence[Any]


def dot(a: Pair, b: Pair) -> Any:
    return a[0] * b[0] + a[1] * b[1]


def cross(a: Pair, b: Pair) -> Any:
    """The part along z, the only one that two vectors in the plane leave."""
    return a[0] * b[1] - a[1] * b[0]


def plus(a: Pair, b: Pair) -> Pair:
    return (a[0] + b[0], a[1] + b[1])


def times(c: Any, a: Pair) -> Pair:
    return (c * a[0], c * a[1])


def both(a: Pair, b: Pair) -> list[tuple[Any, Any]]:
    return list(zip(a, b, strict=True))


def velocity(path: Callable[[Any], Pair], t: float, order: int = 1) -> Pair:
    return slope(lambda s: path(s)[0], t, order), slope(lambda s: path(s)[1], t, order)
