"""What a line that a working starts from says of what moves: that it does."""

from __future__ import annotations

from dataclasses import replace

from derive.states.context import Context, Premise
from derive.states.elimination import linear
from derive.terms.isolation import isolated
from derive.terms.term import MINUS_ONE, ONE, ZERO, Term, Var, add, mul, power, sub, substitute, var, variables
from derive.terms.world import TIME


def of_what_moves(p: Premise, context: Context) -> Premise:
    """`dv/dt = v dv/dx` says that v = dx/dt, and not that v may as well be at rest: a rate in every term is no
    nothing. Below it `v dv/dx` is dv/dt, at rest as well."""
    for v in variables(p.term):
        split = linear(p.term, v) if v.order == 1 and v.wrt == TIME and not v.at and p.sign == "=" else None
        if split is not None and split[1] is ZERO and variables(split[0]):
            return replace(p, term=_without_rates_below(split[0]), sides=None)
    called = {
        rate: name for q in context.premises if q.always and q.sign == "=" for rate, name in isolated(q.term)
        if rate.order == 1 and rate.wrt == TIME and not rate.at and name.op == "var"}
    below = {var(v): called[v] for v in _rates_below(p.term) if v in called}
    term = _divided_out(substitute(p.term, below)) if below else p.term
    term = _divided_by_what_goes_on(term) if p.sign == "=" else term
    return replace(p, term=term, sides=None) if term is not p.term else p


def _divided_by_what_goes_on(t: Term) -> Term:
    """`m dv/dx = -c v` for `m v dv/dx = -c v²`: whoever says how v goes on has no v in mind that is nothing."""
    slopes = {v.name for v in variables(t) if v.order == 1 and not v.at}
    everywhere = (
        v for v in variables(t) if v.name in slopes and not (v.order or v.at)
        and all(_holds(part, var(v)) for part in _terms(t)))
    return next((add(*(_over(part, var(v)) for part in _terms(t))) for v in everywhere), t)


def _holds(product: Term, factor: Term) -> bool:
    """Is a product so many times the factor, whole?"""
    return any(f is factor or _is_power_of(factor, f) for f in _factors(product))


def _is_power_of(base: Term, t: Term) -> bool:
    return t.op == "pow" and t.args[0] is base and t.args[1].op == "num" and t.args[1].value > 1


def _over(product: Term, factor: Term) -> Term:
    """A product with one such factor less."""
    factors = list(_factors(product))
    k = next(k for k, f in enumerate(factors) if f is factor or _is_power_of(factor, f))
    f = factors[k]
    factors[k] = power(factor, sub(f.args[1], ONE)) if f.op == "pow" else ONE
    return mul(*factors)


def _factors(t: Term) -> tuple[Term, ...]:
    return t.args if t.op == "mul" else (t,)


def _terms(t: Term) -> tuple[Term, ...]:
    return t.args if t.op == "add" else (t,)


def _rates_below(t: Term) -> set[Var]:
    """The rates that terms of a sum are divided by."""
    factors = [f for part in _terms(t) for f in (part.args if part.op == "mul" else (part,))]
    return {
        f.args[0].value for f in factors
        if f.op == "pow" and f.args[1] is MINUS_ONE and isinstance(f.args[0].value, Var) and f.args[0].value.order}


def _without_rates_below(t: Term) -> Term:
    """`1 - v/x' = 0` as `x' - v = 0`, so that it says something at rest too."""
    for rate in _rates_below(t):
        t = add(*(_divided_out(mul(part, var(rate))) for part in _terms(t)))
    return t


def _divided_out(t: Term) -> Term:
    """A sum of products without what its products hold together with one over it."""
    parts = []
    for part in _terms(t):
        factors = list(part.args) if part.op == "mul" else [part]
        for f in [f for f in factors if f.op != "num"]:
            if f in factors and power(f, MINUS_ONE) in factors:
                factors.remove(f)
                factors.remove(power(f, MINUS_ONE))
        parts.append(mul(*factors))
    return add(*parts)
