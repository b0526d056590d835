"""States in many figures: a system solved for some of its unknowns, so that the others can be put anywhere.

Plain floating point can't tell 1 - tanh 30 from nothing, nor follow a difference of large numbers to a limit.
A `Chart` takes unknowns that are linear in some equation out in closed form and finds the rest by Newton's
method in mpmath. It knows nothing of what is asked of the states.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import mpmath
import numpy as np
from numpy.typing import NDArray

from derive.terms.calculus import partial
from derive.terms.functions import Array
from derive.terms.isolation import isolated
from derive.terms.tape import taped
from derive.terms.term import ZERO, Term, Var, div, neg, postorder, substitute, var, variables

# Far out (x = 1e24) a kinetic energy mc²(γ - 1) loses 48 figures; twice that and some are kept.
DIGITS = 120
_TURNS = 40
_LARGEST = 1500
_LONGEST = mpmath.mpf(10) ** 30

Values = dict[Var, Any]

_FUNCTIONS: dict[str, Callable[[Any], Any]] = {
    "sin": mpmath.sin, "cos": mpmath.cos, "tan": mpmath.tan, "cot": mpmath.cot, "sec": mpmath.sec,
    "csc": mpmath.csc, "arcsin": mpmath.asin, "arccos": mpmath.acos, "arctan": mpmath.atan, "sinh": mpmath.sinh,
    "cosh": mpmath.cosh, "tanh": mpmath.tanh, "arcsinh": mpmath.asinh, "arccosh": mpmath.acosh,
    "arctanh": mpmath.atanh, "exp": mpmath.exp, "ln": mpmath.log, "log10": mpmath.log10, "sqrt": mpmath.sqrt,
    "cbrt": lambda x: mpmath.sign(x) * mpmath.cbrt(abs(x)), "abs": abs, "sign": mpmath.sign,
}
_OF_ANYTHING = frozenset(("arctan", "ln", "sqrt", "cbrt", "abs", "sign"))  # however large that is


class Beyond(Exception):
    """Not to be had in many figures: complex, undefined, too large, or an integral."""


def values(terms: Sequence[Term], env: Mapping[Var, Any]) -> list[Any]:
    """Real terms at one state, in mpmath's current precision. Raises Beyond."""
    done: dict[int, Any] = {}
    for t in postorder(*terms):
        try:
            done[id(t)] = _one(t, [done[id(a)] for a in t.args], env)
        except (ValueError, ZeroDivisionError, OverflowError, KeyError, TypeError) as odd:
            raise Beyond from odd
    return [done[id(t)] for t in terms]


def _one(t: Term, args: list[Any], env: Mapping[Var, Any]) -> Any:
    if t.op == "num":
        return mpmath.mpf(t.value.numerator) / t.value.denominator
    if t.op == "var":
        return env[t.value]
    if t.op == "add":
        return mpmath.fsum(args)
    if t.op == "mul":
        return mpmath.fprod(args)
    if t.op == "pow" and args[0] < 0 and _odd_root(t):
        out = _power(-args[0], args[1]) * (-1) ** t.args[1].value.numerator
    elif t.op == "pow":
        out = _power(*args)
    elif t.op == "fun" and t.value == "pi":
        return +mpmath.pi
    elif t.op == "fun" and args and (abs(args[0]) < _LONGEST or t.value in _OF_ANYTHING):
        out = _FUNCTIONS[str(t.value)](args[0])
    else:
        raise Beyond
    if isinstance(out, mpmath.mpc) or not mpmath.isfinite(out):
        raise Beyond
    return out


def _power(base: Any, exponent: Any) -> Any:
    if abs(exponent) > 10**6:
        raise Beyond
    return base**exponent


def _odd_root(t: Term) -> bool:
    """Is a power read as one that keeps the sign of a negative base (as points are)?"""
    e = t.args[1].value if t.op == "pow" else None
    return isinstance(e, Fraction) and e.denominator % 2 == 1 and e.denominator > 1


@dataclass(frozen=True, slots=True)
class Chart:
    """closed: dependent unknowns in the order in which they are worked out, each by those before it and held ones.

    core: equations left over and the unknowns they are solved for, before the closed ones.
    """

    closed: tuple[tuple[Var, Term], ...]
    core: tuple[Term, ...] = ()
    solved: tuple[Var, ...] = ()
    slopes: tuple[Term, ...] = ()

    @property
    def dependent(self) -> frozenset[Var]:
        return frozenset((*self.solved, *(v for v, _ in self.closed)))

    def at(self, held: Mapping[Var, Any], guess: Mapping[Var, Any]) -> Values:
        """The state with the held values, its core the root that is nearest to the guess. Raises Beyond."""
        env: Values = {**guess, **held}
        if self.core:
            self._find_root(env)
        for v, t in self.closed:
            env[v] = values([t], env)[0]
        return env

    def _find_root(self, env: Values) -> None:
        n = len(self.core)
        for _ in range(_TURNS):
            found = values([*self.core, *self.slopes], env)
            slopes = mpmath.matrix(n, n)
            for i in range(n):
                for j in range(n):
                    slopes[i, j] = found[n + i * n + j]
            try:
                step = mpmath.lu_solve(slopes, mpmath.matrix([-r for r in found[:n]]))
            except (ZeroDivisionError, ValueError, TypeError) as odd:  # TypeError: its way to meet nan
                raise Beyond from odd
            done = True
            for j, v in enumerate(self.solved):
                done = done and abs(step[j]) <= abs(env[v]) * mpmath.mpf(10) ** (-DIGITS // 2)
                env[v] += step[j]
            if done:
                return
        raise Beyond


def charted(equations: Sequence[Term], dependent: Sequence[Var], env: Mapping[Var, Array]) -> Chart | None:
    """A chart in which `dependent` are worked out, from as many of the equations as that takes.

    `env` holds one state (arrays of one value), at which what is divided by must not vanish.
    """
    rows = _independent(equations, dependent, env)
    if len(rows) != len(dependent):
        return None
    left, waiting = list(rows), list(dependent)
    closed: list[tuple[Var, Term]] = []
    while left:
        found = _linear(left, waiting, env)
        if found is None:
            break
        k, v, rest = found
        change = {var(v): rest}
        del left[k]
        waiting.remove(v)
        closed = [(v, rest), *closed]
        left = [substitute(t, change) for t in left]
        if len(postorder(*left)) > _LARGEST:
            return None
    slopes = tuple(partial(t, v) for t in left for v in waiting)
    return Chart(tuple(closed), tuple(left), tuple(waiting), slopes)


def _linear(
    equations: Sequence[Term], unknowns: Sequence[Var], env: Mapping[Var, Array]
) -> tuple[int, Var, Term] | None:
    """The first equation that gives an unknown in closed form: at sight, else divided by its coefficient."""
    for k, t in enumerate(equations):
        for v, rest in isolated(t):
            if v in unknowns:
                return k, v, rest
    for k, t in enumerate(equations):
        here = variables(t)
        for v in unknowns:
            if v not in here:
                continue
            by = partial(t, v)
            if by is ZERO or v in variables(by):
                continue
            size = np.abs(np.ravel(taped(by).run(dict(env))[0])[0])
            if np.isfinite(size) and size > 1e-9:
                return k, v, neg(div(substitute(t, {var(v): ZERO}), by))
    return None


def _independent(equations: Sequence[Term], dependent: Sequence[Var], env: Mapping[Var, Array]) -> list[Term]:
    """As many equations as there are dependent unknowns, their slopes by these independent at the state."""
    if not equations:
        return []
    _, slopes = taped(*equations).jacobian(dict(env), list(dependent))
    basis: list[NDArray[Any]] = []
    out: list[Term] = []
    for t, slope in zip(equations, slopes, strict=True):
        row = np.broadcast_to(np.asarray(slope), (len(dependent), 1))[:, 0] if len(dependent) else np.zeros(0)
        size = float(np.linalg.norm(row))
        if not size or not np.isfinite(size):
            continue
        rest = row / size
        for b in basis:
            rest = rest - (b.conj() @ rest) * b
        left = float(np.linalg.norm(rest))
        if left > 1e-7:
            basis.append(rest / left)
            out.append(t)
    return out
