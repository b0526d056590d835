"""Extremes: `dR/dα = 0` said of the best angle is a condition, which picks states out and follows from nothing.

It holds where the quantity is greatest, least or in equilibrium and nowhere else, so it is taken for the lines
after it without being differentiated further. Rates in time are left alone: `v' = 0` is a claim about a motion.
"""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Derivative, Differential, Expr, Name, Num, Quotient, Relation
from derive.records import Standing, Verdict
from derive.states.context import given_by_time
from derive.states.setting import Decision, Matter
from derive.terms.claims import Pair
from derive.terms.term import variables
from derive.terms.world import TIME, World


def is_slope(e: Expr, world: World) -> bool:
    """`dR/dα`, `dU/dx`: a first derivative by something other than time or a quantity that moves with it."""
    if isinstance(e, Derivative):
        return e.order == 1 and not e.partial and isinstance(e.wrt, Name) and not _moves(e.wrt, world)
    if isinstance(e, Quotient) and isinstance(e.num, Differential) and isinstance(e.den, Differential):
        return isinstance(e.den.body, Name) and not _moves(e.den.body, world)
    return False


def _moves(name: Name, world: World) -> bool:
    return name.ident == TIME or name.ident in world.moving


def of_chain(pair: Pair, claim: Relation, world: World) -> Pair:
    """`dR/dα = 2 v² cos 2α/g = 0`: the end of the chain is said of the slope it begins with."""
    if len(claim.sides) < 3 or pair.right is not claim.sides[-1] or pair.sign != "=":
        return pair
    return replace(pair, left=claim.sides[0]) if is_slope(claim.sides[0], world) and _is_zero(pair.right) else pair


def _is_zero(e: Expr) -> bool:
    return isinstance(e, Num) and e.value == 0


def taken(m: Matter) -> Decision | None:
    """The condition for an extreme, where some state can meet it."""
    left, right = m.pair.left, m.pair.right
    if _is_zero(left):
        left, right = right, left
    if m.pair.sign != "=" or not _is_zero(right) or not (is_slope(left, m.context.world) or _of_a_path(left, m)):
        return None
    if m.words.split()[-1:] in (["under"], ["at"]):  # `dR/dα = 0 at α = π/4` says where it is so
        return None
    condition = m.premises(implied=False, always=False)
    if not m.setting.states.any(m.context, condition).size:
        return None
    verdict = Verdict(Standing.TAKEN, code="taken.case")
    return Decision(verdict, m.setting.within(m.context.adding(*condition)))


def _of_a_path(e: Expr, m: Matter) -> bool:
    """`dy/dx` where both places are given by t: level at the top, and no claim about the motion."""
    if not (isinstance(e, Derivative) and e.order == 1 and isinstance(e.body, Name) and isinstance(e.wrt, Name)):
        return False
    return {e.body.ident, e.wrt.ident} <= {v.name for v in given_by_time(m.context)}


def said_of_extreme(m: Matter) -> bool:
    """Is the pair about the very place that a condition has picked out? `tan α = μ` below `dR/dα = 0` gives μ there,
    and must not be put for μ where R is differentiated."""
    picked = {v.wrt for p in m.context.premises if not p.always for v in variables(p.term) if v.order} - {TIME}
    return bool(picked & {v.name for v in m.unknowns})
