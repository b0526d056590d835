"""Building trees in a few strokes, and worlds in which claims can be tried without reader and engine."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from random import Random
from typing import Any

import numpy as np

from derive.diagnosis.alike import number_of
from derive.notation.tree import (
    Apply,
    Claim,
    Constant,
    Derivative,
    Expr,
    Name,
    Neg,
    Num,
    Power,
    Product,
    Quotient,
    Relation,
    Statement,
    Sum,
    rebuilt,
    relations,
    walk,
)


@dataclass(frozen=True)
class T:
    """A tree that can be added, multiplied and divided in Python: `2 * m * g - T_1 / m`."""

    node: Any

    def __add__(self, other: Any) -> T:
        left = self.node.terms if isinstance(self.node, Sum) else (self.node,)
        return T(Sum((*left, tree(other))))

    def __sub__(self, other: Any) -> T:
        left = self.node.terms if isinstance(self.node, Sum) else (self.node,)
        return T(Sum((*left, Neg(tree(other)))))

    def __mul__(self, other: Any) -> T:
        left = self.node.factors if isinstance(self.node, Product) else (self.node,)
        return T(Product((*left, tree(other))))

    def __truediv__(self, other: Any) -> T:
        return T(Quotient(self.node, tree(other)))

    def __pow__(self, other: Any) -> T:
        return T(Power(self.node, tree(other)))

    def __neg__(self) -> T:
        return T(Neg(self.node))

    def __radd__(self, other: Any) -> T:
        return T(tree(other)) + self

    def __rsub__(self, other: Any) -> T:
        return T(tree(other)) - self

    def __rmul__(self, other: Any) -> T:
        return T(tree(other)) * self

    def __rtruediv__(self, other: Any) -> T:
        return T(tree(other)) / self


def tree(x: Any) -> Expr:
    if isinstance(x, T):
        return x.node  # type: ignore[no-any-return]
    return x if not isinstance(x, (int, Fraction)) else Num(Fraction(x))


def names(text: str) -> list[T]:
    return [T(Name(n)) for n in text.split()]


def fun(name: str) -> Callable[[Any], T]:
    return lambda x: T(Apply(name, tree(x)))


sin, cos, tan, sqrt, ln, exp = map(fun, ("sin", "cos", "tan", "sqrt", "ln", "exp"))
PI, E = T(Constant("π")), T(Constant("e"))


def d(x: T, order: int = 1) -> T:
    return T(Derivative(x.node, Name("t"), order))


def rel(*parts: Any) -> Relation:
    """`rel(v, "=", a * t)`; without a sign between two sides it is an equation."""
    if len(parts) == 2:
        parts = (parts[0], "=", parts[1])
    return Relation(tuple(map(tree, parts[::2])), tuple(parts[1::2]))


def claim(*parts: Any) -> Statement:
    return Statement("claim", rel(*parts))


World = Mapping[str, float]


def holds_in(worlds: Iterable[World]) -> Callable[[Claim], bool]:
    """Does a claim hold in each of some worlds (values by name, `y'` and `y''` for derivatives)?"""
    known = list(worlds)
    return lambda c: all(_holds(c, w) for w in known)


def measure_in(worlds: Iterable[World]) -> Callable[[Expr], Any]:
    """The values of a piece in each of some worlds, None where a name has no value there."""
    known = list(worlds)

    def measure(piece: Expr) -> Any:
        values = [_put_in(piece, w) for w in known]
        if any(v is None for v in values):
            return None
        return np.array([number_of(v)[0] for v in values])  # type: ignore[arg-type]

    return measure


def _put_in(c: Any, world: World) -> Any:
    """The tree with the world's numbers for its names, None where one is missing."""
    change: dict[int, object] = {}
    for node in walk(c):
        key = node.ident if isinstance(node, Name) else None
        if isinstance(node, Derivative) and isinstance(node.body, Name):
            key = node.body.ident + "'" * node.order
        if key is not None and id(node) not in change:
            if key == "t" and key not in world:
                continue  # the t of dy/dt, of which a world need not know the value
            if key not in world:
                return None
            change[id(node)] = Num(Fraction(world[key]))
    return rebuilt(c, change)


def _holds(c: Claim, world: World) -> bool:
    put_in = _put_in(c, world)
    if put_in is None:
        return False
    return all(
        _stands(left, sign, right)
        for r in relations(put_in)
        for left, sign, right in zip(r.sides, r.signs, r.sides[1:], strict=False)
    )


def _stands(left: Expr, sign: str, right: Expr) -> bool:
    a, b = complex(number_of(left)[0]), complex(number_of(right)[0])
    if not (np.isfinite(a) and np.isfinite(b)):
        return False
    if sign == "=":
        return abs(a - b) <= 1e-9 * max(abs(a), abs(b), 1e-6)
    if abs(a.imag) + abs(b.imag) > 1e-12:
        return False
    return {"<": a.real < b.real, ">": a.real > b.real, "≤": a.real <= b.real, "≥": a.real >= b.real}[sign]


def worlds(make: Callable[[Random], dict[str, float]], count: int = 4) -> list[World]:
    return [make(Random(seed)) for seed in range(count)]


def free(text: str) -> Callable[[Random], dict[str, float]]:
    """Random positive values for some names."""
    return lambda r: {n: r.uniform(0.5, 3.0) for n in text.split()}


def deg(x: float) -> float:
    return math.radians(x)
