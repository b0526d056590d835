"""Derivatives of terms, exactly and without simplifying.

One rule table serves partial derivatives, derivatives along the motion and total differentials: they
differ only in what a variable's own derivative is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import lru_cache

from derive.terms.term import (
    MINUS_ONE,
    ONE,
    TWO,
    ZERO,
    Term,
    Var,
    add,
    div,
    fun,
    integral,
    mul,
    neg,
    num,
    postorder,
    power,
    sub,
    substitute,
    var,
    variables,
)

# name -> derivative by the argument (standard table of derivatives)
SLOPES: dict[str, Callable[[Term], Term]] = {
    "sin": lambda x: fun("cos", x),
    "cos": lambda x: neg(fun("sin", x)),
    "tan": lambda x: add(ONE, power(fun("tan", x), TWO)),
    "cot": lambda x: neg(add(ONE, power(fun("cot", x), TWO))),
    "sec": lambda x: mul(fun("sec", x), fun("tan", x)),
    "csc": lambda x: neg(mul(fun("csc", x), fun("cot", x))),
    "arcsin": lambda x: power(sub(ONE, power(x, TWO)), num(Fraction(-1, 2))),
    "arccos": lambda x: neg(power(sub(ONE, power(x, TWO)), num(Fraction(-1, 2)))),
    "arctan": lambda x: power(add(ONE, power(x, TWO)), MINUS_ONE),
    "sinh": lambda x: fun("cosh", x),
    "cosh": lambda x: fun("sinh", x),
    "tanh": lambda x: sub(ONE, power(fun("tanh", x), TWO)),
    "arcsinh": lambda x: power(add(power(x, TWO), ONE), num(Fraction(-1, 2))),
    "arccosh": lambda x: power(sub(power(x, TWO), ONE), num(Fraction(-1, 2))),
    "arctanh": lambda x: power(sub(ONE, power(x, TWO)), MINUS_ONE),
    "exp": lambda x: fun("exp", x),
    "ln": lambda x: power(x, MINUS_ONE),
    "log10": lambda x: power(mul(x, fun("ln", num(10))), MINUS_ONE),
    "abs": lambda x: fun("sign", x),
    "sign": lambda x: ZERO,
}


def derivative(root: Term, of: Callable[[Var], Term]) -> Term:
    """The derivative of a term, given that of each free variable.

    For an integral with variable limits this is Leibniz's rule.
    """
    return _derivative(root, tuple(map(of, variables(root))))


@lru_cache(maxsize=4096)  # three of four are asked for again: of the premises, line after line
def _derivative(root: Term, slopes: tuple[Term, ...]) -> Term:
    of = dict(zip(variables(root), slopes, strict=True))
    done: dict[int, Term] = {}
    for t in postorder(root):
        done[id(t)] = _one(t, [done[id(a)] for a in t.args], of)
    return done[id(root)]


def _one(t: Term, inner: list[Term], of: Mapping[Var, Term]) -> Term:
    if t.op == "var":
        assert isinstance(t.value, Var)
        return ZERO if t.value.role == "dummy" else of[t.value]
    if t.op == "add":
        return add(*inner)
    if t.op == "mul":
        return add(*(
            mul(d, *(a for j, a in enumerate(t.args) if j != k)) for k, d in enumerate(inner) if d is not ZERO
        ))
    if t.op == "pow":
        base, e = t.args
        of_base = mul(e, power(base, sub(e, ONE)), inner[0]) if inner[0] is not ZERO else ZERO
        of_exponent = mul(t, fun("ln", base), inner[1]) if inner[1] is not ZERO else ZERO
        return add(of_base, of_exponent)
    if t.op == "int":
        bound = t.value
        assert isinstance(bound, Var)
        body, lower, upper = t.args
        ends = [
            mul(sign, substitute(body, {var(bound): end}), d)
            for sign, end, d in ((ONE, upper, inner[2]), (MINUS_ONE, lower, inner[1])) if d is not ZERO
        ]
        under = integral(inner[0], bound, lower, upper) if inner[0] is not ZERO else ZERO
        return add(under, *ends)
    if not t.args or inner[0] is ZERO:
        return ZERO
    return mul(SLOPES[str(t.value)](t.args[0]), inner[0])


def partial(root: Term, by: Var) -> Term:
    """∂root/∂by with every other variable held."""
    return derivative(root, lambda v: ONE if v == by else ZERO)


def ratio(top: Term, bottom: Term) -> Term:
    """A quotient of two differentials."""
    return ONE if top is bottom else div(top, bottom)
