"""What runs in a limit, where to, and from which side: `m → ∞`, `θ → 0`, `m1/m2 → ∞`, `m ≫ M`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import mpmath

from derive.notation.tree import Claim, Relation
from derive.states.context import Context
from derive.states.precise import Values, values
from derive.terms.claims import pairs
from derive.terms.lowering import INFINITY, lower
from derive.terms.term import ZERO, Term, Var, var

_EXPRESSION = "\u2192"  # the unknown that stands for an expression that runs (`m1/m2 → ∞`)


@dataclass(frozen=True, slots=True)
class Run:
    """The variable that runs, the end it runs to (None: infinity, with `side` as its sign), and how it reads.

    whole: the expression that runs where it is not a name; the variable then stands for it.
    side:  the side a finite end is reached from, 0 where the states must tell.
    """

    variable: Var
    end: Term | None
    side: int = 0
    whole: Term | None = None


def run_of(where: Claim | None, context: Context) -> Run | None:
    """What runs and where to, or None where the condition is not about a limit."""
    if not isinstance(where, Relation) or where.signs[0] not in ("→", "=", "≪", "≫"):
        return None
    pair = next(pairs(where))
    what, end = lower(pair.left, context.world), lower(pair.right, context.world)
    if not isinstance(what, Term) or not isinstance(end, Term):
        return None
    whole = None
    if what.op != "var":
        what, whole = var(Var(_EXPRESSION)), what
    v = what.value
    assert isinstance(v, Var)
    if end is INFINITY or pair.sign == "≫":
        return Run(v, None, 1, whole)
    if end.op == "mul" and INFINITY in end.args:
        return Run(v, None, -1, whole)
    if pair.sign == "≪":
        return Run(v, ZERO, 1, whole)
    return Run(v, end, 0, whole)


def place_of(run: Run, env: Values, exponent: int, side: int) -> Any:
    """The value of the running variable at a distance: 10^k far out, or within 10^-k of a finite end."""
    if run.end is None:
        return run.side * mpmath.mpf(10) ** exponent
    end = values([run.end], env)[0]
    return end + side * mpmath.mpf(10) ** -exponent * (abs(end) or 1)


def sides_of(run: Run, context: Context) -> tuple[int, ...]:
    """From which side a finite end may be reached: the likelier first."""
    if run.end is None or run.side:
        return (run.side,)
    prior = context.prior(run.variable)
    end = run.end.value if run.end.op == "num" else None
    if end is not None and float(end) >= prior.upper:
        return (-1,)
    if end is not None and float(end) <= prior.lower:
        return (1,)
    return (1, -1)
