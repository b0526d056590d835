"""Functions, powers and quadrature on arrays: what single steps of a term are in numbers."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from derive.terms.allowance import TooLarge
from derive.terms.term import Term

Array = NDArray[Any]

# Double exponential quadrature (Takahasi and Mori 1974). Measured on 1/x over four decades, sin, exp and
# rational integrands: 4e-9 at the worst and mostly under 1e-12, where 24 Gauss nodes gave 7e-6 and worse.
_NODES, _SPACING = 31, 0.1
# Its outermost nodes count for nothing where an integral converges as quickly as it takes for that accuracy (1/√x
# at 0: 3e-8 of the largest); where they count, the integral diverges or its value is not to be trusted.
_EDGE = 1e-5
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


def power_of(exponent: Term, base: Array, e: Array | float) -> Array:
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


def nodes_between(lower: Array, upper: Array) -> tuple[Array, Array]:
    """Abscissae and weights (nodes, states); an infinite upper limit by x = a + s u/(1-u)."""
    u, w = _quadrature()
    lower, upper = np.atleast_1d(lower), np.atleast_1d(upper)
    width = upper - lower
    if width.size * u.size > _MOST_NUMBERS:
        raise TooLarge
    u2 = u.reshape((-1,) + (1,) * width.ndim)
    w2 = w.reshape(u2.shape)
    if np.isinf(upper).any():
        scale = np.where(np.abs(lower) > 0, np.abs(lower), 1.0)
        rest = u2[::-1]  # 1 - u, without cancelling
        return lower + scale * u2 / rest, scale * w2 / rest**2
    return lower + width * u2, width * w2


def summed(parts: Array) -> Array:
    """An integral from what its nodes contribute; no number where the outermost still count."""
    sizes = np.abs(parts)
    edge = np.maximum(sizes[0], sizes[-1])
    total: Array = np.where(edge > _EDGE * np.max(sizes, axis=0), np.nan, np.sum(parts, axis=0))
    return total

# What they are of nothing, where that is plain.
AT_ZERO = {
    **dict.fromkeys(("sin", "tan", "sinh", "tanh", "arcsin", "arctan", "arcsinh", "arctanh", "abs", "sqrt", "cbrt"), 0),
    **dict.fromkeys(("cos", "cosh", "sec", "exp"), 1),
}
