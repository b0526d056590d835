"""Derivatives for the re-checker: its own short table, so that it need not trust the engine's."""

from __future__ import annotations

from collections.abc import Callable

from derive.proof.recheck.arithmetic import Refused
from derive.terms.term import MINUS_ONE, ONE, TWO, ZERO, Term, Var, add, div, fun, mul, postorder, power, sub


def _one_less_square(x: Term) -> Term:
    return sub(ONE, power(x, TWO))


# function -> (its slope at the argument)
_TABLE: dict[str, Callable[[Term], Term]] = {
    "sin": lambda x: fun("cos", x),
    "cos": lambda x: mul(MINUS_ONE, fun("sin", x)),
    "tan": lambda x: add(ONE, power(fun("tan", x), TWO)),
    "exp": lambda x: fun("exp", x),
    "ln": lambda x: power(x, MINUS_ONE),
    "sinh": lambda x: fun("cosh", x),
    "cosh": lambda x: fun("sinh", x),
    "tanh": lambda x: _one_less_square(fun("tanh", x)),
    "arctan": lambda x: power(add(ONE, power(x, TWO)), MINUS_ONE),
    "arcsin": lambda x: power(_one_less_square(x), div(MINUS_ONE, TWO)),
    "arccos": lambda x: mul(MINUS_ONE, power(_one_less_square(x), div(MINUS_ONE, TWO))),
    "arctanh": lambda x: power(_one_less_square(x), MINUS_ONE),
    "arcsinh": lambda x: power(add(ONE, power(x, TWO)), div(MINUS_ONE, TWO)),
}


def slope(root: Term, slopes: dict[Var, Term]) -> Term:
    """The derivative along the motion; a variable whose slope is not listed has none to offer."""
    return _slope(root, lambda v: slopes[v])


def slope_by(root: Term, bound: Var) -> Term:
    """The derivative by one variable, every other held."""
    return _slope(root, lambda v: ONE if v == bound else ZERO)


def _slope(root: Term, of: Callable[[Var], Term]) -> Term:
    done: dict[int, Term] = {}
    for t in postorder(root):
        done[id(t)] = _one(t, [done[id(a)] for a in t.args], of)
    return done[id(root)]


def _one(t: Term, d: list[Term], of: Callable[[Var], Term]) -> Term:
    if t.op == "var" and isinstance(t.value, Var):
        return of(t.value)
    if all(x is ZERO for x in d):
        return ZERO
    if t.op == "add":
        return add(*d)
    if t.op == "mul":
        return add(*(mul(*t.args[:k], x, *t.args[k + 1:]) for k, x in enumerate(d)))
    if t.op == "pow":
        base, e = t.args
        by_base = mul(e, power(base, sub(e, ONE)), d[0])
        return by_base if d[1] is ZERO else add(by_base, mul(t, fun("ln", base), d[1]))
    if t.op == "fun" and t.value in _TABLE:
        return mul(_TABLE[str(t.value)](t.args[0]), d[0])
    raise Refused
