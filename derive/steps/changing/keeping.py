"""Relations that, where they hold, do not change: they go on holding from any instant on at which they do.

The change of such a relation is a multiple of itself, and only nothing grows from nothing (Picard-Lindelöf).
"""

from __future__ import annotations

from collections.abc import Sequence

from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.setting import Matter
from derive.states.states import freedom
from derive.terms.calculus import derivative
from derive.terms.term import ONE, ZERO, Term, Var, variables
from derive.terms.world import TIME


def goes_on(m: Matter, context: Context, residuals: Sequence[Term], slopes: Sequence[Term]) -> bool:
    """`v² = F/b - C e^(-2bx/m)` after `m v dv/dx = F - b v²`: does a course of one name by its variable, however it is
    put, not change where it holds? It has to be a plain root, and nothing above may say yet what the name is."""
    if len(residuals) != 1 or m.lowered.primitives:
        return False
    (residual,), (change,) = residuals, slopes
    world, here = context.world, variables(residual)
    running = Var(world.running(residual))
    others = [v for v in here if world.is_changing(v) and v != running]
    # `v = u e^(-c x/m)`: where v and x both go their way in time, x may run instead.
    if len(others) != (1 if running in here else 2) or any(v.order for v in others):
        return False
    other = next((v for v in others if m.lowered.parts[0][0].value == v), others[0])
    by_other = derivative(residual, lambda u: ONE if u == other else ZERO)
    now = m.premises(implied=False, always=False)
    cloud = m.setting.states.of(context, (change, by_other), now)
    if not cloud.size or not weigh(change, ZERO, "=", cloud).all_hold:
        return False
    plain = 2 * int(weigh(by_other, ZERO, "=", cloud).fails.sum()) > cloud.size
    known = [*_known(m, context), *(v for v in others if v != other)]
    before, with_it = (freedom(context, names, (), m.setting.states) for names in (known, [*known, other]))
    return plain and 0 <= before < with_it


def ties(m: Matter, context: Context, extra: tuple[Premise, ...]) -> bool | None:
    """Does a relation leave less room to the constants and to the moment? None where it leaves no state at all."""
    known = _known(m, context)
    before, after = (freedom(context, known, more, m.setting.states) for more in ((), extra))
    return None if after < 0 <= before else after < before


def _known(m: Matter, context: Context) -> list[Var]:
    """The constants of what is said of the motion, and the moment."""
    of_motion = [
        p.term for p in m.context.premises if context.world.changes(p.term) or any(v.at for v in variables(p.term))]
    constants = {
        v for t in of_motion for v in variables(t)
        if v.role == "value" and not v.order and not v.at and not context.world.is_changing(v)}
    return sorted(constants | {Var(TIME)}, key=lambda v: v.name)
