"""Moments of a motion that a working with givens speaks of by what is nothing then: `stops: v = 0`, `x = D` there.

Nothing gives such a line and nothing has to: while something moves, the writer says which moment is meant. Without
givens these are values brought in on the way (see quick.py).
"""

from __future__ import annotations

from dataclasses import replace

from derive.notation.printing import as_text
from derive.records import Standing, Verdict
from derive.states.context import Premise, tied_names
from derive.states.setting import Case, Decision, Matter
from derive.states.sizes import CONSERVED
from derive.steps.quick import claims_to_follow
from derive.terms.term import ZERO, Term, Var, variables
from derive.terms.world import World

_LATEST = 6  # cases kept open


def moment(m: Matter) -> Decision | None:
    """`v = 0`, `at rest: θ' = 0`, `N = 0` of what moves: opens the case, where it can be."""
    if not _may_name_a_moment(m):
        return None
    left, right = m.lowered.parts[0]
    v = _moving_name(m, left) if right is ZERO else _moving_name(m, right) if left is ZERO else None
    if v is None or (v.order and _may_be_kept(v.name, m)):
        return None
    premises = m.premises(implied=False, always=False)
    for loose in (frozenset[str](), frozenset((v.name,))):
        if m.setting.states.any(m.context.loosened(loose), premises).size:
            case = Case(as_text(m.pair.relation()), premises=premises, loose=loose, line=m.number)
            cases = (*m.setting.cases, case)[-_LATEST:]
            return Decision(Verdict(Standing.TAKEN, code="taken.case"), replace(m.setting, cases=cases))
    return None


def _may_be_kept(name: str, m: Matter) -> bool:
    """`E' = 0`, `L' = 0` of what is made of others: says that it is conserved, and may be wrong."""
    return name.partition("_")[0] in CONSERVED or name in m.context.world.definitions


def value_then(m: Matter) -> Decision | None:
    """`v = 0`, then `x = D`: what nothing has spoken of yet is a name for the value that something has then."""
    case = m.setting.cases[-1] if m.setting.cases else None
    if case is None or not case.premises or case.left or not _may_name_a_moment(m):
        return None
    for side, other in (m.lowered.parts[0], m.lowered.parts[0][::-1]):
        name = other.value
        if not isinstance(name, Var) or name.order or name.at or name.name in tied_names(m.context):
            continue
        if _moving_name(m, side) is None or _moves(name, m.context.world):
            continue
        premises = (*case.premises, *m.premises(implied=False, always=False))
        if m.setting.states.any(m.context.loosened(case.loose), premises).size:
            cases = (*m.setting.cases[:-1], replace(case, premises=premises))
            return Decision(Verdict(Standing.TAKEN, code="taken.case"), replace(m.setting, cases=cases))
    return None


def _may_name_a_moment(m: Matter) -> bool:
    plain = m.pair.sign == "=" and len(m.lowered.parts) == 1 and not m.lowered.primitives and not m.at
    return plain and m.setting.strict and not m.setting.hopeful and not claims_to_follow(m)


def _moving_name(m: Matter, t: Term) -> Var | None:
    v = t.value
    return v if isinstance(v, Var) and v.role == "value" and _moves(v, m.context.world) else None


def _moves(v: Var, world: World) -> bool:
    """Does a quantity change along the motion, or is it what others change along?"""
    return world.is_changing(v) or (not v.at and v.name in world.fields.values())


def known_ever_after(m: Matter, case: Case) -> tuple[Premise, ...]:
    """`D = m v0/k`, drawn of the moment at which v = 0: what never changes is the same at any other."""
    world = m.context.world
    of_a_moment = all(any(_moves(v, world) for v in variables(p.term)) for p in case.premises)
    if not case.premises or not of_a_moment or any(_moves(v, world) for v in m.unknowns):
        return ()
    return m.premises(implied=False)  # nothing outside the moment implies it
