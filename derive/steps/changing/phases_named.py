"""The phase of an oscillation by its value, `at resonance δ = π/2`: any of those that describe the same motion may be
named, a full turn apart, or half of one where the amplitude may have either sign."""

from __future__ import annotations

import numpy as np

from derive.records import Standing, Verdict
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.states.sizes import all_positive
from derive.terms.term import Term, Var, postorder, var, variables
from derive.terms.world import TIME

_PERIODIC = ("sin", "cos", "tan", "cot")
_SOME = 4
_NEAR = 1e-6


def one_of_the_phases(m: Matter) -> Decision | None:
    """`δ = π/2`, where δ stands in sines, cosines and tangents alone and all that it may be is that, but for turns."""
    v = _named(m)
    if v is None or not _only_periodic(v, m):
        return None
    value = m.lowered.parts[0][1]
    context = all_positive(m.context, variables(*(m.context.resolved(p.term) for p in m.context.premises)))
    for there, turn in ((context, 2 * np.pi), (m.context, np.pi)):
        if there is None:
            continue
        cloud = m.setting.states.of(there, (var(v), value))
        if cloud.size < _SOME:
            continue
        found = weigh(var(v), value, "=", cloud)
        turns = (found.left - found.right) / turn
        if not np.isrealobj(turns) or (np.abs(turns - np.round(turns)) > _NEAR).any():
            return None
        verdict = Verdict(Standing.FOLLOWS, support="tested", code="follows.plain", premises=m.cites, points=cloud.size)
        return Decision(verdict, m.setting.within(m.context.adding(*m.premises(implied=False))))
    return None


def _named(m: Matter) -> Var | None:
    """The δ of `δ = π/2`, of which a course speaks."""
    if m.pair.sign != "=" or len(m.lowered.parts) != 1 or m.lowered.primitives:
        return None
    left, right = m.lowered.parts[0]
    v = left.value
    if not isinstance(v, Var) or v.order or v.at or v.role != "value" or v.name == TIME or variables(right):
        return None
    return v if not m.context.world.is_changing(v) else None


def _only_periodic(v: Var, m: Matter) -> bool:
    terms = [m.context.resolved(p.term) for p in m.context.premises if p.sign == "="]
    holding = [t for t in terms if v in variables(t)]
    return bool(holding) and all(stands_in_waves(t, v) for t in holding) and any(
        v in variables(course) for course in m.context.world.functions.values())


def stands_in_waves(t: Term, v: Var) -> bool:
    """Does v stand nowhere but in a sum with ±v inside a sine and the like?"""
    inside: set[Term] = set()
    for s in postorder(t):
        if s.op == "fun" and s.value in _PERIODIC and _plainly(s.args[0], v):
            inside.add(s)
    return not _outside(t, v, inside)


def _plainly(t: Term, v: Var) -> bool:
    parts = t.args if t.op == "add" else (t,)
    own = [p for p in parts if v in variables(p)]
    return len(own) == 1 and (own[0] is var(v) or (own[0].op == "mul" and len(own[0].args) == 2 and (
        own[0].args[0].op == "num" and abs(own[0].args[0].value) == 1 and own[0].args[1] is var(v))))


def _outside(t: Term, v: Var, inside: set[Term]) -> bool:
    stack, seen = [t], set()
    while stack:
        s = stack.pop()
        if s in inside or s in seen:
            continue
        if s is var(v):
            return True
        seen.add(s)
        stack += s.args
    return False
