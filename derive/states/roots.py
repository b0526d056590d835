"""Every root of an equation in one unknown, to begin from: a search from random starts may come upon one only.

`x² - 6x + 8 = 0` says x = 2 or x = 4; with 4 never met, `x = 2 or x = 3` would hold at every state that is known.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

import numpy as np

from derive.terms.functions import Array
from derive.terms.prior import PriorOf
from derive.terms.term import Term, Var, variables

_HIGHEST = 6
_REAL = 1e-9

Polynomial = np.polynomial.Polynomial


def begin_at_roots(equations: Iterable[Term], env: dict[Var, Array], prior_of: PriorOf, given: set[Var]) -> None:
    """Give each unknown that an equation by itself leaves several values these in turn, each root to as many states."""
    run = 1
    for equation in equations:
        here = variables(equation)
        if len(here) != 1 or here[0] in given or here[0] not in env:
            continue
        roots = real_roots(equation, here[0], prior_of)
        if len(roots) < 2:
            continue
        env[here[0]] = roots[np.arange(len(env[here[0]])) // run % len(roots)]
        given.add(here[0])
        run *= len(roots)  # so that all pairs of roots of two equations are met


def real_roots(equation: Term, unknown: Var, prior_of: PriorOf) -> Array:
    """The admissible real roots of a polynomial equation; none where it is no polynomial of a low degree."""
    prior = prior_of(unknown)
    whole = None if prior.complex else _polynomial(equation)
    if whole is None or not 1 < whole.trim().degree() <= _HIGHEST:
        return np.zeros(0)
    roots = np.asarray(whole.trim().roots(), dtype=complex)
    real = np.sort(roots.real[np.abs(roots.imag) <= _REAL * np.maximum(np.abs(roots), 1)])
    apart = np.diff(real, prepend=-np.inf) > _REAL * np.maximum(np.abs(real), 1)
    return real[apart & (real > prior.lower) & (real < prior.upper)]


def _polynomial(t: Term) -> Polynomial | None:
    """A term in one unknown as a polynomial with plain coefficients."""
    if t.op == "num":
        return Polynomial([float(t.value)])
    if t.op == "var":
        return Polynomial([0.0, 1.0])
    if t.op == "pow":
        exponent = t.args[1].value if t.args[1].op == "num" else None
        base = _polynomial(t.args[0]) if exponent in range(2, _HIGHEST + 1) else None
        return base ** int(exponent) if base is not None and isinstance(exponent, Fraction) else None
    if t.op not in ("add", "mul"):
        return None
    out: Polynomial | None = None
    for part in map(_polynomial, t.args):
        if part is None:
            return None
        out = part if out is None else out + part if t.op == "add" else out * part
        if out.degree() > _HIGHEST:
            return None
    return out
