"""Divisions by something that can vanish: a line that divides by `k - m Ω²` says nothing of k = m Ω².

Random states never meet the case itself; a denominator that is positive at some and negative at others is
taken to vanish in between. Denominators that stood in an earlier line have been answered for there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from derive.states.context import Context
from derive.states.projection import Cloud
from derive.terms.functions import Array
from derive.terms.tape import taped
from derive.terms.term import Term, Var, postorder, variables


def can_vanish(parts: Sequence[tuple[Term, Term]], context: Context, cloud: Cloud) -> Term | None:
    """A denominator that the parts bring in and that the context lets vanish, or None."""
    new = dict.fromkeys(d for part in parts for t in part for d in denominators(t))
    if not new or not cloud.size:
        return None
    divided_by = {d for p in context.premises for d in divisors(p.term)}
    known = {d for d in divided_by if d.op == "add"}
    excluded = [*divided_by, *(context.resolved(p.term) for p in context.premises if p.sign == "≠")]
    told = cloud.columns.keys()
    answered = _signs([d for d in excluded if told >= set(variables(d)) and not within_integral(d)], cloud)
    fresh = [(d, seen) for d in new if d not in known and told >= set(variables(seen := context.resolved(d)))]
    for (d, _), sign in zip(fresh, _signs([seen for _, seen in fresh], cloud), strict=True):
        # What has its sign, or the other, with something answered for vanishes only together with it.
        if sign is not None and bool((sign > 0).any() and (sign < 0).any()) and not any(
            known is not None and (bool((sign == known).all()) or bool((sign == -known).all())) for known in answered
        ):
            return d
    return None


def _signs(terms: Sequence[Term], cloud: Cloud) -> list[Array | None]:
    """The sign of each term state by state; None for one that is complex."""
    values = taped(*terms).run(cloud.columns) if terms else []
    with np.errstate(all="ignore"):
        return [np.broadcast_to(np.sign(v), cloud.size) if np.isrealobj(v) else None for v in values]


def denominators(t: Term) -> Iterator[Term]:
    """The sums that a term divides by, but for those in an integrand."""
    return (d for d in divisors(t) if d.op == "add")


def divisors(t: Term) -> Iterator[Term]:
    """The sums and names that a term divides by, but for those in an integrand."""
    for s in postorder(t):
        if s.op == "pow" and s.args[1].op == "num" and s.args[1].value < 0:
            below = s.args[0].args if s.args[0].op == "mul" else s.args[:1]  # `F/(2 s)` divides by s
            yield from (d for d in below if d.op in ("add", "var") and not within_integral(d))


def within_integral(t: Term) -> bool:
    """Is it a piece of an integrand, which has no value by itself?"""
    return any(s.op == "var" and isinstance(s.value, Var) and s.value.role == "dummy" for s in postorder(t))
