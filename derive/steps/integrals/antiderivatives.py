"""An integral worked out in a bracket: `∫_0^d k x dx = [½ k x²]_0^d` says of the bracket that its slope is k x.

What is right at the limits only, as `½ k x² + k x (x - d)` is there, is refused by the slopes, before anything else is
asked of the line.
"""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Between, Expr, Integral, Name, Neg, Product, Quotient, rebuilt
from derive.records import Standing, Verdict
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.states.states import freedom
from derive.terms.calculus import derivative
from derive.terms.lowering import lower
from derive.terms.term import ONE, ZERO, Term, Var
from derive.terms.writing import written


def wrong_antiderivative(m: Matter) -> Decision | None:
    """The break of a bracket between the limits of an integral whose slope is not what is integrated."""
    integral, bracket = m.pair.left, _bracket_of(m.pair.right)
    if m.pair.sign != "=" or m.lowered.primitives or not isinstance(integral, Integral) or bracket is None:
        return None
    if not isinstance(integral.wrt, Name) or (integral.lower, integral.upper) != (bracket.lower, bracket.upper):
        return None
    x, world = Var(integral.wrt.ident), m.context.world
    without_limits: Expr = rebuilt(m.pair.right, {id(bracket): bracket.body})  # type: ignore[assignment]
    inside = lower(integral.body, world), lower(without_limits, world)
    if not all(isinstance(t, Term) for t in inside) or freedom(m.context, [x], (), m.setting.states) == 0:
        return None
    body, whole = (m.context.resolved(t) for t in inside if isinstance(t, Term))
    slope = derivative(whole, lambda v: ONE if v == x else ZERO)
    found = weigh(slope, body, "=", m.setting.states.of(m.context, (slope, body)))
    state = shown_state(m.setting, slope, body, "=") if found.all_fail else None
    if state is None:
        return None
    facts = (("found", written(slope)), ("wanted", written(body)))
    verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.antiderivative", facts=facts, state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _bracket_of(e: Expr) -> Between | None:
    """The bracket of `[½ k x²]_0^d`, `-g [½ t²]_0^T`, `[…]_0^d / M`."""
    if isinstance(e, Between):
        return e
    if isinstance(e, Neg):
        return _bracket_of(e.arg)
    if isinstance(e, Quotient):
        return _bracket_of(e.num)
    found = [b for f in e.factors if (b := _bracket_of(f)) is not None] if isinstance(e, Product) else []
    return found[0] if len(found) == 1 else None
