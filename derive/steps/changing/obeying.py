"""Relations between what moves and sines, cosines and exponentials of t: `x + y = A cos α t` of two coupled bodies.

Where the difference of the two sides obeys a linear equation with constant coefficients, and it and as many of its
rates as the equation's order are nothing at one instant, it is nothing for good (Picard-Lindelöf). The equation is that
of the course that is written; the page has to say that what moves obeys it too.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

import numpy as np

from derive.proof.support import proof_of
from derive.records import Standing, Verdict
from derive.states.setting import Decision, Matter
from derive.steps.changing.given_courses import as_function
from derive.steps.changing.motion import with_constants, zero_everywhere
from derive.terms.calculus import derivative
from derive.terms.tape import taped
from derive.terms.term import ONE, TWO, ZERO, Term, Var, add, mul, neg, postorder, power, substitute, variables
from derive.terms.world import TIME, World

# Two waves of different rates (`x = ½ A (cos α t + cos β t)`); rates of a higher order are seldom told by a page.
_HIGHEST = 4

# What stands before a relation, its rate and the rate of that in an equation that a course obeys.
Obeyed = tuple[Term, ...]


def obeying(m: Matter) -> Decision | None:
    """The pair holds at an instant with its rates, or has constants enough to; and where it holds it goes on so."""
    if m.pair.sign != "=" or len(m.residuals) != 1 or m.lowered.primitives:
        return None
    context, world = m.context, m.context.world
    residual = context.resolved(m.residuals[0])
    moving = [v for v in variables(residual) if v.name != TIME and (v.order or world.is_changing(v))]
    equations = list(_obeyed(residual, world)) if moving and not any(v.at for v in variables(residual)) else []
    order = sum(len(e) - 1 for e in equations)
    if not 0 < order <= _HIGHEST:
        return None
    rates = [residual]
    while len(rates) < order:
        rates.append(context.resolved(derivative(rates[-1], world.along_time)))
    rest = residual
    for e in equations:
        rest = _put_into(e, rest, m)
    if not zero_everywhere(rest, m, context, deeper=False):
        return None
    free = [v for v in m.unknowns if v.name in m.fresh]
    if free and _independent(rates, free, m) < len(free):
        return None
    for key, _ in (*context.instants, ("", None)):
        starts = [context.placed(r, key) for r in rates] if key else []
        told = [s for s in starts if zero_everywhere(s, m, context, deeper=False)]
        if len(told) + len(free) == order:
            return _held(m, [rest, *told], free)
    return None


def _independent(rates: Sequence[Term], free: Sequence[Var], m: Matter) -> int:
    """How many of some constants tell apart what a relation and its rates are at a moment."""
    cloud = m.setting.states.of(m.context, rates)
    if not cloud.size:
        return 0
    _, slopes = taped(*rates).jacobian({v: a[:1] for v, a in cloud.columns.items()}, free)
    jacobian = np.array([np.broadcast_to(s, (len(free), 1))[:, 0] for s in slopes])
    return int(np.linalg.matrix_rank(jacobian)) if np.isfinite(jacobian).all() else 0


def _obeyed(residual: Term, world: World) -> Iterator[Obeyed]:
    """The equations of the waves and exponentials that a relation holds; none where t stands in anything else."""
    running = Var(TIME)
    waves: dict[Term, None] = {}
    decays: dict[Term, None] = {}
    found: dict[Term, Term] = {}
    for t in postorder(residual):
        if t.op != "fun" or running not in variables(t):
            continue
        rate = derivative(t.args[0], lambda u: ONE if u == running else ZERO)
        if t.value not in ("sin", "cos", "exp") or world.changes(rate) or running in variables(rate):
            return
        (decays if t.value == "exp" else waves)[rate] = None
        found[t] = ONE
    if not found or running in variables(substitute(residual, found)):
        return
    if waves and decays:
        yield from ((add(power(d, TWO), power(w, TWO)), neg(mul(TWO, d)), ONE) for d, w in product(decays, waves))
    else:
        yield from ((power(w, TWO), ZERO, ONE) for w in waves)
        yield from ((neg(d), ONE) for d in decays)


def _put_into(equation: Obeyed, t: Term, m: Matter) -> Term:
    out = ZERO
    for k, before in enumerate(equation):
        out = add(out, mul(before, t))
        if k + 1 < len(equation):
            t = m.context.resolved(derivative(t, m.context.world.along_time))
    return out


def _held(m: Matter, vanishing: Sequence[Term], free: Sequence[Var] = ()) -> Decision:
    certificates = proof_of(m.context, [(t, ZERO) for t in vanishing], "=") if m.setting.proofs else None
    names = ", ".join(v.name for v in free)
    verdict = Verdict(
        Standing.FOLLOWS, support="proved" if certificates is not None else "tested",
        code="follows.general_solution" if free else "follows.plain", facts=(("constants", names),) if free else (),
        introduces=tuple(v.name for v in free), premises=m.cites, certificate=certificates, points=40)
    after = m.context.adding(*m.premises(implied=False))
    return Decision(verdict, m.setting.within(with_constants(after, free) if free else as_function(m, after)))
