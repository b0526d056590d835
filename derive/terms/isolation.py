"""What an equation gives at sight: the ways it reads as `unknown = rest`."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from derive.terms.term import Term, Var, add, mul, neg, num, variables


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
