"""What an equation gives at sight: the ways it reads as `unknown = rest`."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from derive.terms.term import ONE, Term, Var, add, div, fun, mul, neg, num, variables


def isolated(equation: Term) -> list[tuple[Var, Term]]:
    """The ways `equation = 0` reads as `unknown = rest` at sight: a term ±unknown of the sum."""
    return list(_isolated(equation))


@lru_cache(maxsize=4096)  # asked again of every premise at every line
def _isolated(equation: Term) -> tuple[tuple[Var, Term], ...]:
    out = []
    parts = equation.args if equation.op == "add" else (equation,)
    for k, part in enumerate(parts):
        factor, core = 1, part
        if part.op == "mul" and len(part.args) == 2 and part.args[0].op == "num":
            factor, core = part.args[0].value, part.args[1]
        if core.op != "var":
            continue
        rest = add(*(p for j, p in enumerate(parts) if j != k)) if len(parts) > 1 else num(0)
        unknown = core.value
        assert isinstance(unknown, Var)
        if unknown not in variables(rest):
            out.append((unknown, neg(rest) if factor == 1 else mul(num(Fraction(-1) / factor), rest)))
    return tuple(out)


@lru_cache(maxsize=4096)
def from_logarithms(equation: Term) -> tuple[tuple[Var, Term], ...]:
    """`T = T_0 e^(μ φ)` where an equation reads `ln(T/T_0) - μ φ = 0`: what stands in one logarithm only."""
    parts = equation.args if equation.op == "add" else ()
    out = []
    for k, part in enumerate(parts):
        factor, core = part.args if part.op == "mul" and len(part.args) == 2 else (ONE, part)
        if core.op != "fun" or core.value != "ln" or factor.op != "num":
            continue
        rest = mul(num(Fraction(-1) / factor.value), add(*(p for j, p in enumerate(parts) if j != k)))
        inside = core.args[0].args if core.args[0].op == "mul" else (core.args[0],)
        for f in inside:
            others = mul(*(g for g in inside if g is not f))
            if f.op == "var" and isinstance(f.value, Var) and f.value not in variables(rest, others):
                out.append((f.value, div(fun("exp", rest), others)))
    return tuple(out)


class Power(NamedTuple):
    """An unknown that stands in one term of a sum only, as a factor raised to a whole power; the other terms."""

    unknown: Var
    exponent: int
    term: Term
    rest: tuple[Term, ...]


@lru_cache(maxsize=4096)
def powers(equation: Term) -> tuple[Power, ...]:
    """The unknowns of an equation that can be had from it as a root."""
    parts = equation.args if equation.op == "add" else ()
    out = []
    for k, part in enumerate(parts):
        elsewhere = set(variables(*parts[:k], *parts[k + 1:]))
        for factor in part.args if part.op == "mul" else (part,):
            base, exponent = factor.args if factor.op == "pow" else (factor, None)
            whole = 1 if exponent is None else exponent.value if exponent.op == "num" else 0
            alone = base.op == "var" and sum(base.value in variables(f) for f in (part.args or (part,))) == 1
            if alone and base.value not in elsewhere and whole in (1, 2, 3, 4):
                out.append(Power(base.value, int(whole), part, (*parts[:k], *parts[k + 1:])))
    return tuple(out)
