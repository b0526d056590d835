"""Values at different instants, tied by how a quantity changes, although no line has written the formula out.

Where some derivative of a quantity vanishes identically (constant acceleration, a logarithm that falls evenly),
Taylor's formula ties them exactly; where its rate is given by itself or by its variable alone (drag, a force that
swells and fades), an integral does. Only asked for when a line would otherwise be refused.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from derive.states.context import Context, Premise, given_by_time
from derive.states.elimination import cancels, linear
from derive.states.evidence import weigh
from derive.states.outright import shorthand_out
from derive.states.setting import Setting
from derive.terms.calculus import derivative
from derive.terms.term import (
    MINUS_ONE,
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
from derive.terms.tidying import tidied
from derive.terms.world import TIME

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
    # Asked of one context again and again, by every line that would be refused and every way to mend it.
    world, known = context.world, setting.states.links
    meanings = (world.fields, world.functions, world.definitions)
    key = (context.premises, context.instants, context.seed, world.moving, *(frozenset(m.items()) for m in meanings))
    if key not in known:
        known[key] = tuple(_all_links(context, setting))
    return context.adding(*known[key]) if known[key] else None


def _all_links(context: Context, setting: Setting) -> Iterator[Premise]:
    world, outright = context.world, {v.name for v in given_by_time(context)}
    for name in sorted({*world.moving, *world.fields}):
        variable = world.variable_of(name)
        times = [(k, t) for k, t in context.instants if k.startswith(f"{variable}=") and t is not None]
        if not times or name in world.functions or not _mentioned(name, context) or _goes_as_told(name, context):
            continue
        for form in FORMS:
            found = _rates(form(var(Var(name))), variable, context, setting)
            if found is not None:
                yield from _links(found, variable, times, context)
                break
        else:
            # How it goes may stand there as an approximation, which the law of its rate would not bear.
            known = variable == TIME and name in outright
            yield from () if known else _integrals(name, variable, times, context)
        if variable == TIME and name not in outright:
            yield from _ways(name, times, context)
    yield from _by_each_other(context)


def _mentioned(name: str, context: Context) -> bool:
    return any(v.name == name for p in context.premises for v in variables(p.term))


def _goes_as_told(name: str, context: Context) -> bool:
    """The E of `E = ½ m z'² + ½ k z²` where z swings as a line above says: its course is known, and never evenly."""
    told = (p.sides[1] for p in context.premises if p.sides is not None and p.sign == "=" and p.sides[0] == var(
        Var(name)) and Var(TIME) not in variables(p.sides[1]))
    time = Var(TIME)
    for course in map(context.resolved, told):
        settled = not any(v.order or context.world.is_changing(v) for v in variables(course) if v != time)
        if settled and any(t.op == "fun" and time in variables(t) for t in postorder(course)):
            return True
    return False


def _rates(quantity: Term, variable: str, context: Context, setting: Setting) -> list[Term] | None:
    """The quantity and its rates of change down to the constant one, where there is a constant one. (That x changes no
    more where it is x_max says nothing of any other moment.)"""
    along = context.world.along(variable)
    told = [p for p in context.premises if p.kind == "meaning"]
    moments = {p.label for p in told if any(v.order or v.name == variable for v in variables(p.term))}  # not what ω is
    context = replace(context, premises=tuple(p for p in context.premises if p not in told or p.label not in moments))
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


def _integrals(name: str, variable: str, times: Sequence[tuple[str, Term]], context: Context) -> Iterator[Premise]:
    """`t - t₁ = ∫ dv/f(v)` for `v' = f(v)`; for a rate f(t) the integral of it."""
    v, by = Var(name), Var(variable)
    rate = rate_of(v, variable, context)
    if rate is None or not {v, by} & set(variables(rate)):
        return
    for key, time in times:
        start = context.placed(var(v), key)
        if v in variables(rate):
            gap = sub(sub(var(by), time), _swept(power(rate, MINUS_ONE), v, start, var(v)))
        else:
            gap = sub(sub(var(v), start), _swept(rate, by, time, var(by)))
        yield Premise("rate of change", gap, "=", True, False, 0, "link")


def _ways(name: str, times: Sequence[tuple[str, Term]], context: Context) -> Iterator[Premise]:
    """What changes by a rate of v alone where v does too: x - x₁ = ∫ v dv/f(v) for `x' = v`, `v' = f(v)`."""
    v = Var(name)
    rate = rate_of(v, TIME, context)
    if rate is None or v not in variables(rate):
        return
    for other in sorted(context.world.moving - {name} - context.world.functions.keys()):
        along = rate_of(Var(other), TIME, context)
        if along is None or v not in variables(along):
            continue
        for key, _ in times:
            start, here = context.placed(var(Var(other)), key), var(Var(other))
            swept = _swept(mul(along, power(rate, MINUS_ONE)), v, context.placed(var(v), key), var(v))
            yield Premise("rate of change", sub(sub(here, start), swept), "=", True, False, 0, "link")


def _by_each_other(context: Context) -> Iterator[Premise]:
    """`M v' = -u M'`: v - v₁ = -u ∫ dM/M, whatever the pace."""
    world = context.world
    times = [k for k, t in context.instants if k.startswith(f"{TIME}=") and t is not None]
    for p in context.premises if times else ():
        rates = [v for v in variables(p.term) if v.order and not v.at]
        if p.sign != "=" or not p.always or len(rates) != 2 or any(v.order != 1 or v.wrt != TIME for v in rates):
            continue
        for one, other in (rates, rates[::-1]):
            first = linear(p.term, one)
            second = linear(first[1], other) if first is not None else None
            if first is None or second is None or not cancels(second[1]):
                continue
            ratio, by = neg(div(second[0], first[0])), Var(other.name)
            changing = {v for v in variables(ratio) if v.order or v.at or v.name == TIME or world.is_changing(v)}
            if changing == {by} and not {one.name, other.name} & world.functions.keys():
                for key in times:
                    v = var(Var(one.name))
                    swept = _swept(ratio, by, context.placed(var(by), key), var(by))
                    gap = sub(sub(v, context.placed(v, key)), swept)
                    yield Premise("rate of change", gap, "=", True, False, 0, "link")


def _swept(rate: Term, bound: Var, start: Term, end: Term) -> Term:
    dummy = Var(bound.name, bound.order, role="dummy")
    return integral(substitute(rate, {var(bound): var(dummy)}), dummy, start, end)


def rate_of(v: Var, variable: str, context: Context) -> Term | None:
    """The rate of a quantity by constants and itself, another alone or its variable, where a premise gives it so."""
    world = context.world
    slope = derivative(var(v), world.along(variable))
    if slope.op != "var" or not isinstance(slope.value, Var):
        return None
    for p in context.premises:
        if p.sign != "=" or not p.always or slope.value not in variables(p.term):
            continue
        split = linear(shorthand_out(context.resolved(p.term), world), slope.value)
        if split is None:
            continue
        rate = tidied(neg(div(split[1], split[0])))
        here = variables(rate)
        changing = [u for u in here if u.order or u.at or u.name == variable or world.is_changing(u)]
        if len(changing) == 1 and not changing[0].order and not changing[0].at:
            return rate
    return None
