"""What an integral leaves open: the names of a line that can be its constants of integration."""

from __future__ import annotations

from collections.abc import Sequence

from derive.states.context import Context, tied_names
from derive.terms.term import Term, Var, variables
from derive.terms.world import World


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
