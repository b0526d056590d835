"""Courses of what no equation of motion is written for by name: `x' = u e^(-b t)` after `x'' = -b x'` and x'(0) = u.

A relation that holds at one instant, and whose change vanishes wherever it holds, goes on holding: its change is a
multiple of itself, and nothing but nothing solves such an equation from nothing.
"""

from __future__ import annotations

from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter, Setting
from derive.states.showing import shown_state
from derive.states.states import freedom
from derive.steps.changing import motion
from derive.steps.changing.given_courses import as_function
from derive.steps.changing.keeping import ties
from derive.terms.term import ZERO, Term, Var, variables
from derive.terms.world import TIME
from derive.terms.writing import written


def kept(m: Matter) -> Decision | None:
    """A course that holds at a known instant and keeps to itself from there."""
    if not m.context.instants or not (is_course(m) or _along_another(m)):
        return None
    (residual,) = map(m.context.resolved, m.residuals)
    key = next((k for k, _ in m.context.instants if _vanishes(m.context.placed(residual, k), m)), None)
    if key is None or not _vanishes(_change(m), m, _at_a_moment(m)) or ties(m, m.context, _at_a_moment(m)):
        return None
    if _is_settled(m):
        return None  # it is for the states to say: `t² = 0` holds at t = 0, where its change is nothing too
    after = as_function(m, m.context.adding(*m.premises(implied=False)))
    verdict = Verdict(Standing.FOLLOWS, support="tested", code="follows.plain", premises=m.cites, points=40)
    return Decision(verdict, m.setting.within(after))


def strays(m: Matter) -> Decision | None:
    """A course that starts otherwise than what is known, or that no motion keeps to: it starts nothing."""
    course = is_course(m)
    if course and not m.lowered.parts[0][0].value.order:
        return None  # of a name's own course `courses` knows more
    if not course and not _of_time_passed(m):
        return _refuted_law(m)
    begun = _begins_otherwise(m)
    if begun is None and not _ties_constants(m):
        return None
    settled = begun is None and _is_settled(m)
    setting, sides = begun or ((m.setting, m.lowered.parts[0]) if settled else _a_moment_later(m))
    state = shown_state(setting, *sides, "=")
    if state is None:
        return None
    code, facts = "fails.start", (("name", written(m.lowered.parts[0][0])),)
    if settled:
        code, facts = "fails.state", ()  # type: ignore[assignment]
    elif begun is None:
        code, facts = "fails.derivative", (("left", written(sides[0])), ("right", written(sides[1])))  # type: ignore[assignment]
    verdict = Verdict(Standing.FAILS, strength="contradicts", code=code, facts=facts, state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _refuted_law(m: Matter) -> Decision | None:
    """`m d'' = -k d`, where d = x1 - x2 and the lines above say how both of these go: no law of its own, since it could
    hold only if the spring between them were none."""
    world = m.context.world
    rates = [v for r in m.residuals for v in variables(r) if v.order and v.wrt == TIME and not v.at]
    given = any(v.name in world.definitions and v.name in world.moving for v in rates)
    if m.pair.sign != "=" or m.lowered.primitives or m.fresh or not given:
        return None
    if not ties(m, _timeless(m), m.premises(implied=False)):
        return None
    state = shown_state(m.setting, *m.lowered.parts[0], "=")
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="unsupported", code="fails.state", state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _begins_otherwise(m: Matter) -> tuple[Setting, tuple[Term, Term]] | None:
    """What is known at an instant whose time is a plain number, and what the course gives there, where they differ."""
    for key, time in m.context.instants:
        if time is None or variables(time):
            continue
        left, right = (m.context.resolved(m.context.placed(m.context.resolved(t), key)) for t in m.lowered.parts[0])
        if any(v.name in m.fresh for v in variables(left, right)):
            continue  # constants that the line brings in are what its start needs them to be
        cloud = m.setting.states.of(m.context, (left, right))
        if cloud.size and weigh(left, right, "=", cloud).all_fail:
            return m.setting, (left, right)
    return None


def _is_settled(m: Matter) -> bool:
    """Do the lines above say outright what the left side is, `y'` below `y = A cos ω t`?"""
    left, right = m.lowered.parts[0]
    own, states = [v for v in variables(right) if v.role == "value"], m.setting.states
    return left.op == "var" and freedom(m.context, [*own, left.value], (), states) == freedom(
        m.context, own, (), states)


def _a_moment_later(m: Matter) -> tuple[Setting, tuple[Term, Term]]:
    """The rates of both sides, at a moment at which the course might hold."""
    context = _timeless(m).adding(*_at_a_moment(m))
    left, right = (m.context.resolved(motion.slope(t, m.context.world)) for t in m.lowered.parts[0])
    return m.setting.within(context), (left, right)


def _ties_constants(m: Matter) -> bool:
    """Could the course hold at all times only for some values of what the lines above leave free, as if b were 0?"""
    timeless = _timeless(m)
    tied = ties(m, timeless, m.premises(implied=False))
    if tied is None:  # not even so: what is declared of the constants forbids it
        cloud = m.setting.states.of(timeless, (_change(m),), _at_a_moment(m))
        return bool(cloud.size) and weigh(_change(m), ZERO, "=", cloud).all_fail
    return tied


def _timeless(m: Matter) -> Context:
    """What is known of every moment: how the motion starts is left open."""
    kept = tuple(p for p in m.context.premises if not any(v.at for v in variables(p.term)))
    return replace(m.context, instants=(), premises=kept)


def is_course(m: Matter) -> bool:
    """`x' = u e^(-b t)`: what moves, or a rate of it, by the time that has passed and by constants."""
    if m.pair.sign != "=" or m.lowered.primitives or len(m.lowered.parts) != 1:
        return False
    left, right = m.lowered.parts[0]
    v, world, here = left.value, m.context.world, variables(m.context.resolved(right))
    return (
        left.op == "var" and isinstance(v, Var) and v.role == "value" and not v.at and v.wrt in ("", TIME)
        and v.name in world.moving and v.name not in world.functions and Var(TIME) in here
        and not any(u.order or u.at or u.role != "value" or (u.name != TIME and world.is_changing(u)) for u in here))


def _along_another(m: Matter) -> bool:
    """`v = v0 e^(-k x/m)`: what moves, by another that does and by constants."""
    if m.pair.sign != "=" or m.lowered.primitives or len(m.lowered.parts) != 1:
        return False
    left, right = m.lowered.parts[0]
    v, world, here = left.value, m.context.world, variables(m.context.resolved(right))
    others = {u for u in here if u.name in world.moving}
    return (
        isinstance(v, Var) and v.role == "value" and not (v.at or v.order) and v.name in world.moving
        and len(others) == 1 and v not in others and Var(TIME) not in here
        and not any(u.order or u.at or u.role != "value" or u.name in world.functions for u in here))


def _of_time_passed(m: Matter) -> bool:
    """`1/v - 1/u = -c t/m`, where the equation of motion for v is known: what integrating it is to have given. So is
    `ln(v/u) = -c x/m` of the place that has been passed, where it is known how v goes on along that."""
    if m.pair.sign != "=" or m.lowered.primitives or len(m.lowered.parts) != 1:
        return False
    world, here = m.context.world, variables(*map(m.context.resolved, m.residuals))
    changing = [v for v in here if world.variable_of(v.name)]
    along = {world.variable_of(v.name) for v in changing}
    known = [v for p in m.context.premises if not p.implied and p.always for v in variables(p.term) if not v.at]
    return len(along) == 1 and Var(min(along)) in here and not m.fresh and all(
        v.role == "value" and not v.at and v.wrt in ("", *along)
        and any(u.name == v.name and u.order > v.order for u in known) for v in changing)


def _change(m: Matter) -> Term:
    (residual,) = map(m.context.resolved, m.residuals)
    return m.context.resolved(motion.slope(residual, m.context.world))


def _at_a_moment(m: Matter) -> tuple[Premise, ...]:
    """The course as it might hold now, without saying that it holds the moment after."""
    return m.premises(implied=False, always=False)


def _vanishes(t: Term, m: Matter, extra: tuple[Premise, ...] = ()) -> bool:
    cloud = m.setting.states.of(m.context, (t,), extra)
    return bool(cloud.size) and weigh(t, ZERO, "=", cloud).all_hold
