"""Quantities that change at a constant rate: their values at different instants are tied by Taylor's formula.

Where some derivative of a quantity vanishes identically (constant acceleration, a logarithm that falls evenly),
its value at one instant gives that at any other exactly, although no line has written the formula out. Only
asked for when a line would otherwise be refused.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from derive.proof.calculus import derivative
from derive.proof.context import Context, Premise
from derive.proof.evidence import weigh
from derive.proof.setting import Setting
from derive.proof.term import TWO, ZERO, Term, Var, add, fun, mul, num, power, sub, var, variables

_DEGREE = 3

# What of a quantity may change at a constant rate: itself (uniform motion), its logarithm (growth and decay)
# or its square (uniform acceleration along the way).
FORMS: tuple[Callable[[Term], Term], ...] = (
    lambda t: t, lambda t: fun("ln", t), lambda t: power(t, TWO),
)


def linked(context: Context, setting: Setting) -> Context | None:
    """The context with the values of such quantities at its instants tied together; None where there are none."""
    if any(p.kind == "link" for p in context.premises):
        return None
    world = context.world
    links: list[Premise] = []
    for name in sorted({*world.moving, *world.fields}):
        variable = world.variable_of(name)
        times = [(k, t) for k, t in context.instants if k.startswith(f"{variable}=") and t is not None]
        if not times or name in world.functions or not _mentioned(name, context):
            continue
        for form in FORMS:
            found = _rates(form(var(Var(name))), variable, context, setting)
            if found is not None:
                links.extend(_links(found, variable, times, context))
                break
    return context.adding(*links) if links else None


def _mentioned(name: str, context: Context) -> bool:
    return any(v.name == name for p in context.premises for v in variables(p.term))


def _rates(quantity: Term, variable: str, context: Context, setting: Setting) -> list[Term] | None:
    """The quantity and its rates of change down to the constant one, where there is a constant one."""
    along = context.world.along(variable)
    rates = [quantity]
    most = _DEGREE if quantity.op == "var" else 1
    for _ in range(most + 1):
        rates.append(derivative(rates[-1], along))
        cloud = setting.states.of(context, (rates[-1],))
        if not cloud.size:
            return None
        if len(rates) > 2 and weigh(rates[-1], ZERO, "=", cloud).all_hold:
            return rates[:-1]
    return None


def _links(
    rates: list[Term], variable: str, times: Sequence[tuple[str, Term]], context: Context
) -> Iterator[Premise]:
    """Taylor's formula from every named instant to the general one, for the quantity and its rates."""
    for key, time in times:
        elapsed = sub(var(Var(variable)), time)
        for lower in range(len(rates) - 1):
            series: list[Term] = []
            factorial = 1
            for j, rate in enumerate(rates[lower:]):
                factorial *= max(j, 1)
                at = context.placed(rate, key)
                series.append(mul(num(Fraction(1, factorial)), at, power(elapsed, num(j))))
            yield Premise("constant rate of change", sub(rates[lower], add(*series)), "=", True, False, 0, "link")
