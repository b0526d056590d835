"""Integrals between limits whose value is known at sight: ∫ dT/T, ∫ x² dx, ∫ k dt. A search for states solves
`ln(T2/T1) = μ φ` for T2, and has to feel its way along the integral."""

from __future__ import annotations

from functools import lru_cache

from derive.terms.term import (
    MINUS_ONE,
    ONE,
    ZERO,
    Term,
    Var,
    add,
    div,
    fun,
    mul,
    postorder,
    power,
    sub,
    substitute,
    var,
)


@lru_cache(maxsize=2048)
def swept(t: Term) -> Term:
    """A term with such integrals worked out."""
    change = {s: value for s in postorder(t) if s.op == "int" and (value := _value(s)) is not None}
    return substitute(t, change) if change else t


def _value(t: Term) -> Term | None:
    """The value of an integral of a sum of powers of what it runs over."""
    body, lower, upper = t.args
    assert isinstance(t.value, Var)
    x = var(t.value)
    total = ZERO
    for term in body.args if body.op == "add" else (body,):
        factors = term.args if term.op == "mul" else (term,)
        own = [f for f in factors if x in postorder(f)]
        if len(own) > 1:
            return None
        beside = mul(*(f for f in factors if f not in own)) if len(own) < len(factors) else ONE
        exponent = ZERO if not own else ONE if own[0] is x else (
            own[0].args[1] if own[0].op == "pow" and own[0].args[0] is x and own[0].args[1].op == "num" else None)
        if exponent is None or (exponent.value < 0 and ZERO in (lower, upper)):
            return None
        if exponent is MINUS_ONE:
            whole = fun("ln", div(upper, lower))
        else:
            raised = add(exponent, ONE)
            ends = (ZERO if end is ZERO else power(end, raised) for end in (upper, lower))
            whole = div(sub(*ends), raised)
        total = add(total, mul(beside, whole))
    return total
