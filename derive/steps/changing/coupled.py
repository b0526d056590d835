"""`x1 = C cos ω1 t + D cos ω2 t` of two things that pull at each other: what the course of one makes that of the other.

The equation of motion of the one gives the other by the time, and all equations have to hold identically for both.
"""

from __future__ import annotations

from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.elimination import linear
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.steps.changing.motion import with_constants
from derive.steps.changing.proposals import Proposal
from derive.steps.changing.ranks import independent
from derive.terms.calculus import derivative
from derive.terms.term import ONE, ZERO, Term, Var, div, neg, substitute, var, variables
from derive.terms.world import TIME, World
from derive.terms.writing import written

_MOST = 4  # things that pull at each other


def coupled_solution(p: Proposal, m: Matter) -> Decision | None:
    """A course that with what it makes of the others solves their equations; None where it does not, or is alone."""
    if m.context.world.variable_of(p.v.name) != TIME or m.setting.regime is not None:
        return None
    world, others = _led_on(p, m)
    orders = {n: _order(n, m.context) for n in (p.v.name, *others)}
    if sum(order > 1 for order in orders.values()) < 2 or not _all_hold(m, world, {*orders}):
        return None
    starts = [
        q for q in m.context.premises if not q.implied and any(v.at and v.name in orders for v in variables(q.term))]
    context = m.context.knowing(world)
    if any(not _holds(context.resolved(q.term), m, world) for q in starts):
        return None  # these fix the constants, or are missed
    need, told = sum(orders.values()), len(starts)
    have = independent(replace(p, order=need), m, replace(context, premises=_still(m), instants=()))
    if have + told < need and m.setting.strict:
        return None
    after = m.setting.within(with_constants(context.adding(*m.premises(implied=True)), p.free))
    names = ", ".join(v.name for v in p.free)
    verdict = Verdict(
        Standing.FOLLOWS, code="follows.general_solution" if names else "follows.plain", points=40, support="tested",
        facts=(("constants", names),) if names else (), introduces=tuple(v.name for v in p.free),
        premises=tuple(q.label for q in p.equations))
    if have + told < need:
        said = _starts([n for n, order in orders.items() if order > 1], starts, world)
        verdict = replace(verdict, standing=Standing.FOLLOWS_IF, code="follows.if", condition=said,
                          facts=(("condition", said),), state=shown_state(m.setting, *m.lowered.parts[0], "="))
    return Decision(verdict, after)


def _led_on(p: Proposal, m: Matter) -> tuple[World, list[str]]:
    """The world with the courses that the equations give beside the proposed one, and whose these are."""
    world, others = m.context.world.taking(p.v.name, p.course), []
    for _ in range(_MOST):
        found = next((f for q in m.context.premises if q.sign == "=" and q.always
                      and (f := _given(q, m.context.knowing(world))) is not None), None)
        if found is None:
            break
        world = world.taking(*found)
        others.append(found[0])
    return world, others


def _given(q: Premise, context: Context) -> tuple[str, Term] | None:
    """The one thing that a premise gives by the time, once the courses known are put in."""
    t = context.resolved(q.term)
    moving = [v for v in variables(t) if context.world.is_changing(v) and v.name != TIME]
    if len(moving) != 1 or moving[0].order or moving[0].at or Var(TIME) not in variables(t):
        return None
    split = linear(t, moving[0])
    return None if split is None else (moving[0].name, neg(div(split[1], split[0])))


def _order(name: str, context: Context) -> int:
    return max((v.order for q in context.premises if not q.implied for v in variables(q.term)
                if v.name == name and v.wrt in ("", TIME)), default=0)


def _all_hold(m: Matter, world: World, names: set[str]) -> bool:
    """Do the equations of all these hold at all times?"""
    context = m.context.knowing(world)
    own = [q for q in m.context.premises if q.sign == "=" and any(
        v.name in names and not v.at for v in variables(q.term))]
    return all(_holds(context.resolved(q.term), m, world) for q in own)


def _holds(t: Term, m: Matter, world: World) -> bool:
    """Is a term nothing for all constants that the other lines allow, and at all times?"""
    cloud = m.setting.states.of(replace(m.context, premises=_still(m), instants=()).knowing(world), (t,))
    return bool(cloud.size) and weigh(t, ZERO, "=", cloud).all_hold


def _still(m: Matter) -> tuple[Premise, ...]:
    """What the lines say of the constants."""
    return tuple(q for q in m.context.premises if not any(
        v.at or v.order or m.context.world.is_changing(v) for v in variables(q.term)))


# A start that takes longer to say is said to go with the others.
_LONG = 24


def _starts(names: list[str], told: list[Premise], world: World) -> str:
    """How they start, where no line says it: `x_1 = A, x_1' = 0 and x_2' = 0 at t = 0`."""
    known = {(v.name, v.order) for q in told for v in variables(q.term) if v.at}
    said, long = [], []
    for name in names:
        course = world.functions[name]
        for order in range(2):
            value = written(substitute(course, {var(Var(TIME)): ZERO}))
            if (name, order) not in known and len(value) <= _LONG:
                said.append(f"{name}{chr(39) * order} = {value}")
            elif (name, order) not in known:
                long.append(name)
            course = derivative(course, lambda v: ONE if v == Var(TIME) else ZERO)
    words = f"{' and '.join(filter(None, (', '.join(said[:-1]), *said[-1:])))} at t = 0" if said else ""
    others = f"{' and '.join(dict.fromkeys(long))} starts as goes with it" if long else ""
    return ", and ".join(filter(None, (words, others)))
