"""What a typed statement comes to in a world of plain numbers: a second judge, which knows no algebra.

A world gives every name a number, a list of components, or a function of a `Point`; trees are evaluated by
mpmath, derivatives by differences and integrals by quadrature. It shares the reader and the tree types
with the engine and nothing else. Not for deciding anything but the labels of the shipped workings.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import mpmath as mp

from derive.notation import tree as n

Point = Mapping[Any, Any]  # names (and (name, order) for time derivatives) held at a value
World = Mapping[str, Any]

UNITS = {
    "kg": 1, "g": mp.mpf("1e-3"), "t": 1000, "m": 1, "km": 1000, "cm": mp.mpf("1e-2"), "s": 1, "min": 60, "h": 3600,
    "N": 1, "kN": 1000, "W": 1, "kW": 1000, "J": 1, "Pa": 1, "rad": 1, "°": mp.pi / 180, "deg": mp.pi / 180,
}
FUNCTIONS = {
    "sin": mp.sin, "cos": mp.cos, "tan": mp.tan, "exp": mp.exp, "ln": mp.log, "sqrt": mp.sqrt, "abs": abs,
    "arcsin": mp.asin, "arccos": mp.acos, "arctan": mp.atan, "sinh": mp.sinh, "cosh": mp.cosh, "tanh": mp.tanh,
}
NOTHING = mp.mpf("1e-3")  # sizes below it are taken for rounding errors: no world has such small terms
CONSTANTS = {"π": mp.pi, "e": mp.e, "i": mp.j, "∞": mp.inf}


class NoNumber(Exception):
    """The statement has no number to give: an integral without limits, a constant nobody fixed."""


class WrongReading(Exception):
    """The reading takes a letter for a unit that no exercise uses."""


class Judge:
    """Evaluates trees in one world. `variable` is what differentials and primes run along."""

    def __init__(self, world: World, variable: str, upper: bool = True) -> None:
        self.world, self.variable, self.upper = world, variable, upper

    def value(self, node: n.Expr, at: Point) -> Any:
        """The number (or list of components) that a tree has at a point."""
        work = getattr(self, f"_{type(node).__name__.lower()}", None)
        if work is None:
            raise NoNumber(type(node).__name__)
        return work(node, at)

    def _num(self, node: n.Num, _at: Point) -> Any:
        return mp.mpf(node.value.numerator) / node.value.denominator

    def _name(self, node: n.Name, at: Point) -> Any:
        if node.ident in at:
            return at[node.ident]
        if node.ident not in self.world:
            raise NoNumber(node.ident)
        held = self.world[node.ident]
        return held(at) if callable(held) else held

    def _constant(self, node: n.Constant, _at: Point) -> Any:
        return CONSTANTS[node.ident]

    def _unit(self, node: n.Unit, _at: Point) -> Any:
        if node.ident not in UNITS:
            raise WrongReading(node.ident)
        return UNITS[node.ident]

    def _sum(self, node: n.Sum, at: Point) -> Any:
        terms = [self.value(term, at) for term in node.terms]
        if isinstance(terms[0], list):
            return [mp.fsum(parts) for parts in zip(*terms, strict=True)]
        return mp.fsum(terms)

    def _neg(self, node: n.Neg, at: Point) -> Any:
        return self._scaled(-1, self.value(node.arg, at))

    def _plusminus(self, node: n.PlusMinus, at: Point) -> Any:
        return self._scaled(1 if node.upper == self.upper else -1, self.value(node.arg, at))

    @staticmethod
    def _scaled(factor: Any, value: Any) -> Any:
        return [factor * part for part in value] if isinstance(value, list) else factor * value

    def _product(self, node: n.Product, at: Point) -> Any:
        result: Any = mp.mpf(1)
        for factor in node.factors:
            value = self.value(factor, at)
            result = self._scaled(value, result) if isinstance(result, list) else self._scaled(result, value)
        return result

    def _quotient(self, node: n.Quotient, at: Point) -> Any:
        return self.value(node.num, at) / self.value(node.den, at)

    def _power(self, node: n.Power, at: Point) -> Any:
        return mp.power(self.value(node.base, at), self.value(node.exponent, at))

    def _apply(self, node: n.Apply, at: Point) -> Any:
        value = self.value(node.arg, at)
        if isinstance(value, list):
            return mp.sqrt(mp.fsum(part**2 for part in value))
        return FUNCTIONS[node.function](value)

    def _value(self, node: n.Value, at: Point) -> Any:
        """`y(0)`, `x'(t_1)`, `F(d)`: the function with its own variable held there."""
        inner: n.Expr = node.function
        while isinstance(inner, n.Derivative):
            inner = inner.body
        of = self.world["of"].get(inner.ident, self.variable) if isinstance(inner, n.Name) else self.variable
        return self.value(node.function, {**at, of: self.value(node.args[0], at)})

    def _derivative(self, node: n.Derivative, at: Point) -> Any:
        if isinstance(node.wrt, n.Derivative):  # ∂L/∂q': the rate itself is varied
            key: Any = (node.wrt.body.ident, node.wrt.order)  # type: ignore[union-attr]
        else:
            key = node.wrt.ident  # type: ignore[union-attr]
        if isinstance(node.body, n.Name) and (node.body.ident, node.order) in at:
            return at[node.body.ident, node.order]
        if key in at or node.partial or not callable(self.world.get(key)):
            here = at[key] if key in at else self.value(node.wrt, at)
            return mp.diff(lambda s: self.value(node.body, {**at, key: s}), here, node.order)
        return self._along(node.body, at) / self._along(node.wrt, at)  # dv/dx along the motion

    def _along(self, node: n.Expr, at: Point) -> Any:
        return mp.diff(lambda s: self.value(node, {**at, self.variable: s}), at[self.variable])

    def _differential(self, node: n.Differential, at: Point) -> Any:
        return self._along(node.body, at)

    def _integral(self, node: n.Integral, at: Point) -> Any:
        if node.lower is None or node.upper is None or not isinstance(node.wrt, n.Name):
            raise NoNumber("an integral without limits")
        limits = [self.value(node.lower, at), self.value(node.upper, at)]
        over = self.world["over"].get(node.wrt.ident)
        if over:  # ∫ … dm over a range of x
            return mp.quad(
                lambda s: self.value(node.body, {**at, over: s})
                * mp.diff(lambda q: self.value(node.wrt, {**at, over: q}), s), limits,
            )
        return mp.quad(lambda s: self.value(node.body, {**at, node.wrt.ident: s}), limits)  # type: ignore[union-attr]

    def _between(self, node: n.Between, at: Point) -> Any:
        names = [i for i in n.names_in(node.body) if i in self.world["runs"]] or [self.variable]
        key = node.wrt.ident if isinstance(node.wrt, n.Name) else names[0]
        top, bottom = (
            self.value(node.body, {**at, key: self.value(limit, at)}) for limit in (node.upper, node.lower)
        )
        return top - bottom

    def _vector(self, node: n.Vector, at: Point) -> Any:
        return [self.value(part, at) for part in node.components]

    def _dot(self, node: n.Dot, at: Point) -> Any:
        left, right = self.value(node.left, at), self.value(node.right, at)
        return mp.fsum(a * b for a, b in zip(left, right, strict=True))

    def _component(self, node: n.Component, at: Point) -> Any:
        return self.value(node.vector, at)["xyz".index(node.axis)]

    # --- claims -----------------------------------------------------------------------------------

    def holds(self, claim: n.Claim, at: Point, tolerance: float) -> bool:
        """Whether a claim is true at a point, to a relative tolerance."""
        if isinstance(claim, n.Both):
            return all(self.holds(part, at, tolerance) for part in claim.parts)
        if isinstance(claim, n.Either):
            return any(self.holds(part, at, tolerance) for part in claim.parts)
        values = [self.value(side, at) for side in claim.sides]
        sizes = [self._size(side, at) for side in claim.sides]
        return all(
            _compare(values[i], sign, values[i + 1], tolerance * max(sizes[i], sizes[i + 1], NOTHING))
            for i, sign in enumerate(claim.signs)
        )

    def _size(self, side: n.Expr, at: Point) -> Any:
        """The size of the largest term that goes into a side: what its rounding errors are measured by."""
        if isinstance(side, n.Sum):
            return max(self._size(term, at) for term in side.terms)
        if isinstance(side, n.Neg):
            return self._size(side.arg, at)
        if isinstance(side, n.Product):
            return mp.fprod(self._size(factor, at) for factor in side.factors)
        if isinstance(side, n.Vector):
            return max(self._size(part, at) for part in side.components)
        if isinstance(side, n.Derivative | n.Between | n.Integral) and not isinstance(side.body, n.Name):
            return max(1, _length(self.value(side, at)))
        return _length(self.value(side, at))


def _length(value: Any) -> Any:
    return max(abs(part) for part in value) if isinstance(value, list) else abs(value)


def _compare(left: Any, sign: str, right: Any, tolerance: Any) -> bool:
    if isinstance(left, list) or isinstance(right, list):
        pairs = zip(_listed(left, right), _listed(right, left), strict=True)
        return all(_compare(a, sign, b, tolerance) for a, b in pairs)
    near = abs(left - right) <= tolerance
    if isinstance(left, mp.mpc) or isinstance(right, mp.mpc):
        return near if sign in "=≈→≤≥" else not near if sign == "≠" else False
    return bool({
        "=": near, "≈": near, "→": near, "≠": not near,
        "<": left < right and not near, "≤": left < right or near,
        ">": left > right and not near, "≥": left > right or near,
    }[sign])


def _listed(value: Any, like: Any) -> list[Any]:
    return value if isinstance(value, list) else [value] * len(like)
