"""Motions that are polynomials in time: their values at different instants are tied by Taylor's formula.

Where some derivative of a name vanishes identically (constant velocity, constant acceleration), the value at
one instant gives that at any other exactly, although no line has written the formula out. Only asked for when
a line would otherwise be refused.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import numpy as np

from derive.proof.context import Context, Premise
from derive.proof.setting import Setting
from derive.proof.term import Term, Var, add, mul, num, power, sub, var, variables
from derive.proof.world import TIME

_DEGREE = 3


def linked(context: Context, setting: Setting) -> Context | None:
    """The context with the values of polynomial motions at its instants tied together; None where none is."""
    times = [(k, t) for k, t in context.instants if k.startswith(f"{TIME}=") and t is not None]
    if not times or any(p.kind == "link" for p in context.premises):
        return None
    links = [
        link
        for name in sorted(context.world.moving)
        if name not in context.world.functions and _mentioned(name, context)
        for degree in [_degree(name, context, setting)] if degree is not None
        for link in _links(name, degree, times)
    ]
    return context.adding(*links) if links else None


def _mentioned(name: str, context: Context) -> bool:
    return any(v.name == name for p in context.premises for v in variables(p.term))


def _degree(name: str, context: Context, setting: Setting) -> int | None:
    """The degree of a name's motion as a polynomial in t: one less than the first derivative that vanishes."""
    for order in range(1, _DEGREE + 1):
        v = Var(name, order, TIME)
        cloud = setting.states.of(context, (var(v),))
        column = cloud.columns.get(v)
        if column is None or not cloud.size:
            return None
        if bool((np.abs(column) < 1e-9).all()) and order > 1:
            return order - 1
    return None


def _links(name: str, degree: int, times: list[tuple[str, Term | None]]) -> Iterator[Premise]:
    """Taylor's formula from every named instant to the general one, for the name and its derivatives."""
    for key, time in times:
        assert time is not None
        elapsed = sub(var(Var(TIME)), time)
        for lower in range(degree):
            series: list[Term] = []
            factorial = 1
            for j in range(degree - lower + 1):
                factorial *= max(j, 1)
                at = var(_jet(name, lower + j, key))
                series.append(mul(num(Fraction(1, factorial)), at, power(elapsed, num(j))))
            term = sub(var(_jet(name, lower, "")), add(*series))
            yield Premise("constant rate of change", term, "=", True, False, 0, "link")


def _jet(name: str, order: int, key: str) -> Var:
    return Var(name, order, TIME if order else "", key)

