"""Systems without what nothing asks for: of all derivatives and instants only those that tell something."""

from __future__ import annotations

from collections.abc import Sequence

from derive.states.elimination import Signs, linear
from derive.states.projection import System
from derive.terms.allowance import look
from derive.terms.isolation import isolated
from derive.terms.prior import PriorOf
from derive.terms.signs import is_nonzero
from derive.terms.term import ZERO, Term, Var, substitute, variables
from derive.terms.world import TIME


def pruned(system: System, wanted: Sequence[Term], prior_of: PriorOf) -> System:
    """Without equations that only say what some derivative or value at an instant is that nothing asks for,
    and without conditions on quantities that nothing speaks of.

    Taking a relation at every instant and to every order makes many of these; each is solved by its own unknown.
    """
    needed = set(variables(*wanted, *system.positive))
    uses: dict[Var, int] = {}
    still = {e: ZERO for e in system.equations if e.op == "var"}
    left = [e for e in system.equations if not _endless_slope(e, still, prior_of)]
    for e in left:
        for v in variables(e):
            uses[v] = uses.get(v, 0) + 1
    # Where one is left out more may be, and none that was idle is needed again: which goes first makes no difference.
    before = 0
    while before != len(left):
        look()
        before, kept = len(left), []
        for e in left:
            if not _defines_unused(e, uses, needed):
                kept.append(e)
                continue
            for v in variables(e):
                uses[v] -= 1
        left = kept
    met = needed.union(variables(*left))
    nonzero = tuple(t for t in system.nonzero if met.issuperset(variables(t)))
    return System(tuple(left), system.positive, nonzero)


def _defines_unused(equation: Term, uses: dict[Var, int], needed: set[Var]) -> bool:
    own = [v for v in variables(equation) if (v.order or v.at) and uses[v] == 1 and v not in needed]
    if any(v.name == TIME and v.at and not v.at.startswith("#") for v in own):
        return True  # when a place is reached, where nothing is said of that instant
    at_sight = {v for v, _ in isolated(equation)} if own else set()
    return any(v.role == "value" and v in at_sight for v in own)


def _endless_slope(equation: Term, still: dict[Term, Term], prior_of: PriorOf) -> bool:
    """`v dv/dx = -μ g` where v = 0: a slope along a place may be infinite at one place. An acceleration is so only
    where nothing else is possible: `m v v' = P` at a start from rest, for a P that is something."""
    for v in variables(equation) if still else ():
        if v.at and v.order:
            split = linear(equation, v)
            if split is not None and substitute(split[0], still) is ZERO and (
                v.wrt != TIME or is_nonzero(Signs(prior_of)(substitute(split[1], still)))
            ):
                return True
    return False
