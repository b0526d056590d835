"""Terms made numeric: values, magnitudes and exact derivatives at many states at once.

A tape is the list of distinct subterms of some roots, arguments first. It is run over arrays with one
column a state (and, inside an integral, one row a node of the quadrature). Nothing here knows what a
state must satisfy; that is `points`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from derive.terms.allowance import TooLarge, look
from derive.terms.term import Term, Var, postorder

Array = NDArray[Any]

# Double exponential quadrature (Takahasi and Mori 1974). Measured on 1/x over four decades, sin, exp and
# rational integrands: 4e-9 at the worst and mostly under 1e-12, where 24 Gauss nodes gave 7e-6 and worse.
_NODES, _SPACING = 31, 0.1
# Its outermost nodes count for nothing where an integral converges as quickly as it takes for that accuracy (1/√x
# at 0: 3e-8 of the largest); where they count, the integral diverges or its value is not to be trusted.
_EDGE = 1e-5
# A number this small beside its parts is what rounding left of them: divided by, it gives anything.
_LOST = 1e-13
_POLE = 1e12
_MAX_STEPS = 4000
# Numbers in one array: integrals within integrals, each limit depending on the last, soon have more.
_MOST_NUMBERS = 4_000_000


@lru_cache(maxsize=1)
def _quadrature() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    k = np.arange(-_NODES, _NODES + 1) * _SPACING
    reach = np.pi / 2 * np.sinh(k)
    return 1 / (1 + np.exp(-2 * reach)), np.pi / 4 * np.cosh(k) / np.cosh(reach) ** 2 * _SPACING


Unary = tuple[Callable[[Array], Array], Callable[[Array, Array], Array]]

# name -> (value, derivative from the argument and the value)
FUNCTIONS: dict[str, Unary] = {
    "sin": (np.sin, lambda x, y: np.cos(x)),
    "cos": (np.cos, lambda x, y: -np.sin(x)),
    "tan": (np.tan, lambda x, y: 1 + y * y),
    "cot": (lambda x: 1 / np.tan(x), lambda x, y: -1 - y * y),
    "sec": (lambda x: 1 / np.cos(x), lambda x, y: y * np.tan(x)),
    "csc": (lambda x: 1 / np.sin(x), lambda x, y: -y / np.tan(x)),
    "arcsin": (np.arcsin, lambda x, y: 1 / np.sqrt(1 - x * x)),
    "arccos": (np.arccos, lambda x, y: -1 / np.sqrt(1 - x * x)),
    "arctan": (np.arctan, lambda x, y: 1 / (1 + x * x)),
    "sinh": (np.sinh, lambda x, y: np.cosh(x)),
    "cosh": (np.cosh, lambda x, y: np.sinh(x)),
    "tanh": (np.tanh, lambda x, y: 1 - y * y),
    "arcsinh": (np.arcsinh, lambda x, y: 1 / np.sqrt(1 + x * x)),
    "arccosh": (np.arccosh, lambda x, y: 1 / np.sqrt(x * x - 1)),
    "arctanh": (np.arctanh, lambda x, y: 1 / (1 - x * x)),
    "exp": (np.exp, lambda x, y: y),
    "ln": (np.log, lambda x, y: 1 / x),
    "log10": (np.log10, lambda x, y: 1 / (x * math.log(10))),
    "sqrt": (np.sqrt, lambda x, y: 0.5 / y),
    "cbrt": (np.cbrt, lambda x, y: y / (3 * x)),
    "abs": (np.abs, lambda x, y: np.sign(x)),
    "sign": (np.sign, lambda x, y: 0 * x),
}
CONSTANTS = {"pi": math.pi, "i": 1j, "inf": math.inf}


class Tape:
    """The distinct subterms of `roots` in running order."""

    def __init__(self, roots: Sequence[Term]) -> None:
        self.roots = tuple(roots)
        self.steps = postorder(*self.roots)
        if len(self.steps) > _MAX_STEPS:
            raise TooLarge
        self.index = {id(t): i for i, t in enumerate(self.steps)}
        self.args = [tuple(self.index[id(a)] for a in t.args) for t in self.steps]
        self._bodies = {i: Tape([t.args[0]]) for i, t in enumerate(self.steps) if t.op == "int"}
        # The body of an integral is run on its own nodes, never on the plain tape.
        inside = _only_inside_integrals(self)
        self.order = [i for i in range(len(self.steps)) if i not in inside]
        self.out = [self.index[id(r)] for r in self.roots]

    def run(self, env: dict[Var, Array]) -> list[Array]:
        """Values of the roots: each an array broadcast over the states of `env`."""
        with np.errstate(all="ignore"):
            values = self._values(env)
        return [values[i] for i in self.out]

    def _values(self, env: dict[Var, Array]) -> list[Array]:
        look()
        values: list[Array] = [None] * len(self.steps)  # type: ignore[list-item]
        for i in self.order:
            t = self.steps[i]
            if t.op == "int":
                values[i] = self._integral(i, values, env)
            else:
                values[i] = _value(t, [values[j] for j in self.args[i]], env)
        return values

    def _integral(self, i: int, values: list[Array], env: dict[Var, Array]) -> Array:
        t = self.steps[i]
        lower, upper = values[self.args[i][1]], values[self.args[i][2]]
        x, dx = _nodes(lower, upper)
        inner = {v: np.expand_dims(np.asarray(a), 0) for v, a in env.items()}
        inner[t.value] = x
        return _summed(self._bodies[i].run(inner)[0] * dx)

    def magnitudes(self, env: dict[Var, Array]) -> list[Array]:
        """For each root the size its parts have before they cancel: what 'nearly zero' is measured by."""
        with np.errstate(all="ignore"):
            values = self._values(env)
            size: list[Array] = [None] * len(self.steps)  # type: ignore[list-item]
            for i in self.order:
                t, args = self.steps[i], [size[j] for j in self.args[i]]
                if t.op == "add":
                    size[i] = sum(args[1:], args[0])
                elif t.op == "mul":
                    size[i] = math.prod(args[1:], start=args[0])
                else:
                    size[i] = np.abs(values[i]) + self._sensitivity(i, values, args)
        return [size[i] for i in self.out]

    def _sensitivity(self, i: int, values: list[Array], sizes: list[Array]) -> Array | float:
        """How much of its arguments' size a function or power passes on: ln(1 + tiny) is not known to a digit."""
        t = self.steps[i]
        if t.op == "pow":
            base, e = (values[j] for j in self.args[i])
            grown = np.abs(e * values[i] / base) * sizes[0]
            lost: Any = (np.real(e) < 0) & (np.abs(base) < _LOST * sizes[0])
            return np.where(lost, np.nan, np.where(np.isfinite(grown), grown, 0.0))
        if t.op != "fun" or not t.args:
            return 0.0
        x, name = values[self.args[i][0]], str(t.value)
        slope = np.abs(FUNCTIONS[name][1](x, values[i])) * sizes[0]
        if name in ("ln", "log10"):
            lost = np.abs(x) < _LOST * sizes[0]
        else:
            lost = np.abs(values[i]) > _POLE if name in ("tan", "cot", "sec", "csc") else False
        return np.where(lost, np.nan, np.where(np.isfinite(slope), slope, 0.0))

    def jacobian(self, env: dict[Var, Array], by: Sequence[Var]) -> tuple[list[Array], list[Array]]:
        """Values of the roots, and their derivatives by the variables `by`: arrays (len(by), states)."""
        values, slopes = self.slopes(env, by)
        states = np.broadcast_shapes(*(np.shape(a) for a in env.values())) if env else ()
        return values, [np.broadcast_to(s, (len(by), *states)) for s in slopes]

    def slopes(self, env: dict[Var, Array], by: Sequence[Var]) -> tuple[list[Array], list[Array]]:
        """The same, with derivatives in whatever shape spreads to that."""
        place = {v: k for k, v in enumerate(by)}
        with np.errstate(all="ignore"):
            values = self._values(env)
            found: list[Array | None] = [None] * len(self.steps)
            for i in self.order:
                found[i] = self._slope(i, values, found, env, place)
        none = np.zeros((len(by),) + (1,) * max((np.ndim(a) for a in env.values()), default=0))
        roots = [found[i] for i in self.out]
        return [values[i] for i in self.out], [none if s is None else s for s in roots]

    def _slope(
        self, i: int, values: list[Array], slopes: list[Array | None], env: dict[Var, Array], place: dict[Var, int]
    ) -> Array | None:
        t = self.steps[i]
        if t.op == "var":
            k = place.get(t.value)
            if k is None:
                return None
            unit = np.zeros((len(place),) + (1,) * np.ndim(env[t.value]))
            unit[k] = 1
            return unit
        args = self.args[i]
        inner = [slopes[j] for j in args]
        if t.op == "int":
            return self._integral_slope(i, values, slopes, env, place)
        if all(s is None for s in inner):
            return None
        if t.op == "add":
            return _total(inner)
        if t.op == "mul":
            return _product_slope([values[j] for j in args], inner)
        if t.op == "pow":
            return _power_slope(t, values[i], [values[j] for j in args], inner)
        x = values[args[0]]
        return inner[0] * FUNCTIONS[str(t.value)][1](x, values[i])

    def _integral_slope(
        self, i: int, values: list[Array], slopes: list[Array | None], env: dict[Var, Array], place: dict[Var, int]
    ) -> Array | None:
        t, (_, lo, hi) = self.steps[i], self.args[i]
        bound = t.value
        assert isinstance(bound, Var)
        x, dx = _nodes(values[lo], values[hi])
        if x.size * len(place) > _MOST_NUMBERS:
            raise TooLarge
        inner = {v: np.expand_dims(np.asarray(a), 0) for v, a in env.items()}
        inner[bound] = x
        _, body = self._bodies[i].jacobian(inner, tuple(place))
        total: Array = np.sum(body[0] * dx, axis=1)
        for end, sign in ((hi, 1.0), (lo, -1.0)):
            s = slopes[end]
            if s is not None:
                at_end = self._bodies[i].run({**env, bound: values[end]})[0]
                total = total + sign * at_end * s
        return total


def _summed(parts: Array) -> Array:
    """An integral from what its nodes contribute; no number where the outermost still count."""
    sizes = np.abs(parts)
    edge = np.maximum(sizes[0], sizes[-1])
    total: Array = np.where(edge > _EDGE * np.max(sizes, axis=0), np.nan, np.sum(parts, axis=0))
    return total


def _only_inside_integrals(tape: Tape) -> set[int]:
    reached: set[int] = set()
    pending = [tape.index[id(r)] for r in tape.roots]
    while pending:
        i = pending.pop()
        if i not in reached:
            reached.add(i)
            pending.extend(tape.args[i][1:] if tape.steps[i].op == "int" else tape.args[i])
    return set(range(len(tape.steps))) - reached


def _nodes(lower: Array, upper: Array) -> tuple[Array, Array]:
    """Abscissae and weights (nodes, states); an infinite upper limit by x = a + s u/(1-u)."""
    u, w = _quadrature()
    lower, upper = np.broadcast_arrays(np.atleast_1d(lower), np.atleast_1d(upper))
    if lower.size * u.size > _MOST_NUMBERS:
        raise TooLarge
    u2 = u.reshape((-1,) + (1,) * lower.ndim)
    w2 = w.reshape(u2.shape)
    if np.isinf(upper).any():
        scale = np.where(np.abs(lower) > 0, np.abs(lower), 1.0)
        rest = u2[::-1]  # 1 - u, without cancelling
        return lower + scale * u2 / rest, scale * w2 / rest**2
    return lower + (upper - lower) * u2, (upper - lower) * w2


def _value(t: Term, args: list[Array], env: dict[Var, Array]) -> Array:
    if t.op == "num":
        return np.asarray(_as_float(t))
    if t.op == "var":
        return env[t.value]
    if t.op == "add":
        return sum(args[1:], args[0])
    if t.op == "mul":
        return math.prod(args[1:], start=args[0])
    if t.op == "pow":
        return _power(t.args[1], args[0], args[1])
    name = str(t.value)
    if name in CONSTANTS:
        return np.asarray(CONSTANTS[name])
    return FUNCTIONS[name][0](args[0])


def _as_float(t: Term) -> float:
    try:
        return float(t.value)
    except OverflowError:
        return math.inf


def _power(exponent: Term, base: Array, e: Array) -> Array:
    """Real powers as they are read: integer exponents for any base, odd roots keep the sign."""
    if exponent.op == "num":
        q = exponent.value
        if q.denominator == 1 and abs(q.numerator) <= 64:
            n = q.numerator
            return base**n if n >= 0 else 1.0 / base ** (-n)
        if q.denominator == 2 and q.numerator == 1:
            return np.sqrt(base)
        if q.denominator % 2 and np.isrealobj(base):
            odd = q.numerator % 2
            size = np.abs(base) ** float(q)
            return np.sign(base) * size if odd else size
    return np.power(np.asarray(base, dtype=np.result_type(base, float)), e)


def _power_slope(t: Term, y: Array, args: list[Array], inner: list[Array | None]) -> Array | None:
    (base, e), (d_base, d_e) = args, inner
    total: Array | None = None
    if d_base is not None:
        if t.args[1].op == "num":
            q = t.args[1].value
            lowered = _power(_num_term(q - 1), base, np.asarray(float(q - 1)))
            total = d_base * (float(q) * lowered)
        else:
            total = d_base * (e * y / base)
    if d_e is not None:
        part = d_e * (y * np.log(base))
        total = part if total is None else total + part
    return total


@lru_cache(maxsize=256)
def _num_term(value: object) -> Term:
    from derive.terms.term import num

    return num(value)  # type: ignore[arg-type]


def _total(slopes: list[Array | None]) -> Array | None:
    present = [s for s in slopes if s is not None]
    return sum(present[1:], present[0])


def _product_slope(values: list[Array], slopes: list[Array | None]) -> Array:
    total: Array | None = None
    for k, s in enumerate(slopes):
        if s is not None:
            rest: Array | float = 1.0
            for j, v in enumerate(values):
                if j != k:
                    rest = rest * v
            part = s * rest
            total = part if total is None else total + part
    assert total is not None
    return total
