"""What an integral leaves open: the names of a line that can be its constants, and what it runs along."""

from __future__ import annotations

from collections.abc import Sequence

from derive.states.context import Context, tied_names
from derive.states.setting import Matter
from derive.terms.term import Term, Var, variables
from derive.terms.world import TIME, World


def free_constants(residuals: Sequence[Term], context: Context) -> list[Var]:
    """The C of `½ v² = a x + C`, the u of `v² = u² - 2 g x`. What stands more than once among what does not change
    (`p² = m k r0³ (r0 - l)`) says something of itself, and takes up no difference."""
    return [v for v in untied(residuals, context) if all(_stands_once(v, r, context.world) for r in residuals)]


def untied(residuals: Sequence[Term], context: Context) -> list[Var]:
    """Names in a pair that stay the same and that nothing before it ties down."""
    tied = tied_names(context)
    own = dict.fromkeys(v for r in residuals for v in variables(r))
    return [
        v for v in own
        if v.role == "value" and not v.order and not v.at and v.name not in tied and not context.world.is_changing(v)]


def _stands_once(v: Var, t: Term, world: World) -> bool:
    """Does a name stand but once in each stretch of a term in which nothing changes?"""
    if v not in variables(t):
        return True
    still = [a for a in t.args if not world.changes(a)]
    if len(still) == len(t.args):
        return _count(v, t) <= 1
    return sum(_count(v, a) for a in still) <= 1 and all(
        _stands_once(v, a, world) for a in t.args if world.changes(a))


def _count(v: Var, t: Term) -> int:
    """How often a name stands in a term, as far as two; shared parts are looked at once for each place."""
    if t.value == v and t.op == "var":
        return 1
    found = 0
    for a in t.args if v in variables(t) else ():
        found += _count(v, a)
        if found > 1:
            return found
    return found


def runs_along(m: Matter, context: Context) -> str:
    """The time, or the place where the pair does not speak of the time."""
    place = running(m)
    timeless = place == TIME and Var(TIME) not in variables(*context.resolved(m.residuals[0]).args)
    return (_coordinate(m, context) if timeless else None) or place


def _coordinate(m: Matter, context: Context) -> str | None:
    """y in `v² = (m g/k) (1 - e^(-2 k y/m))`: what moves on the right, where that is one thing and not on the left."""
    left, right = (variables(t) for t in m.lowered.parts[0])
    moving = [v.name for v in right if context.world.is_changing(v) and not (v.order or v.at) and v not in left]
    return moving[0] if len(moving) == 1 else None


def has_constant(residual: Term, context: Context) -> bool:
    """`½ m v² + ½ k x² = ½ k A²`: a term of constants stands beside what changes."""
    parts, along = residual.args if residual.op == "add" else (), Var(context.world.running(residual))
    return any(variables(t) and along not in variables(t) and not context.world.changes(t) for t in parts)


def of_highest_order(residuals: Sequence[Term], context: Context) -> bool:
    """`m v' = -c v` beside `m v' = W - c v`: an equation of motion of its own, not what one gives on integration."""
    orders: dict[str, int] = {}
    for v in (v for p in context.premises if not p.implied for v in variables(p.term)):
        orders[v.name] = max(v.order, orders.get(v.name, 0))
    return any(v.order and v.order >= orders.get(v.name, v.order + 1) for r in residuals for v in variables(r))


def running(m: Matter) -> str:
    """What the two sides run along: t, or x in `½ v² = a x` where `v dv/dx = a`."""
    return m.context.world.running(m.residuals[0])
