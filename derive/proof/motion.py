"""Lines that hold because of how things change: integrated relations, general solutions, constants.

A relation r(t) = 0 holds at all times exactly when its derivative along the motion does and it holds at one
instant. The same serves along any variable, with total differentials in place of time derivatives. A proposed
solution holds when it satisfies the equations of motion identically and has as many free constants (or known
initial values) as their order (existence and uniqueness of solutions, Picard-Lindelöf).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from derive.notation.tree import Name
from derive.proof.calculus import derivative
from derive.proof.context import Context, Premise, tied_names
from derive.proof.evidence import weigh
from derive.proof.points import Cloud
from derive.proof.setting import Decision, Matter
from derive.proof.showing import shown_state, written
from derive.proof.support import proof_of
from derive.proof.tape import Tape
from derive.proof.term import ONE, ZERO, Term, Var, build, postorder, sub, substitute, var, variables
from derive.proof.world import DT, TIME, World
from derive.records import Standing, Verdict

_DEEPEST = 3


# --- integrated relations -----------------------------------------------------------------------------------


def integrated(m: Matter) -> Decision | None:
    """The pair's derivative holds, and either it holds at an instant or a constant takes up the difference."""
    if m.pair.sign not in ("=", "≈"):
        return None
    world = replace(m.context.world, primitives={**m.context.world.primitives, **dict(m.lowered.primitives)})
    context = m.context.knowing(world)
    residuals = [context.resolved(r) for r in m.residuals]
    separated = _between_instants(m, context, residuals)
    if separated is not None:
        return separated
    if not any(context.timely(r) or _holds_primitive(r, world) for r in (*m.residuals, *residuals)):
        return None
    if any(v.role == "differential" for r in residuals for v in variables(r)):
        return None  # an equation between differentials is no integral: it has no constant to miss
    slopes = [slope(r, world) for r in residuals]
    if any(s.op == "num" and r.op != "num" for s, r in zip(slopes, residuals, strict=True)):
        return None  # nothing in it varies after all
    if not all(_zero_everywhere(s, m, context) for s in slopes):
        return None
    if m.lowered.primitives:
        return _held(m, context, "follows.plain", slopes, as_premise=True)
    for key, _ in context.instants:
        if all(_zero_everywhere(context.placed(r, key), m, context, deeper=False) for r in residuals):
            return _held(m, context, "follows.plain", slopes, key=key)
    constants = _free_constants(residuals, m, context)
    if constants:
        decision = _held(m, context, "follows.constant", slopes)
        names = ", ".join(v.name for v in constants)
        verdict = replace(decision.verdict, facts=(("name", names),), introduces=tuple(v.name for v in constants))
        after = decision.after.within(_with_constants(decision.after.context, constants))
        return Decision(verdict, after)
    return _constant_missing(m, context, residuals)


def _with_constants(context: Context, constants: Sequence[Var]) -> Context:
    world = context.world
    return context.knowing(replace(world, constants=world.constants | {v.name for v in constants}))


def slope(r: Term, world: World) -> Term:
    """dr along the motion: by time where time is in it, else the total differential."""
    by_time = derivative(r, world.along_time)
    return by_time if by_time is not ZERO else derivative(r, world.total)


def _holds_primitive(r: Term, world: World) -> bool:
    return any(v in world.primitives for v in variables(r))


def _zero_everywhere(t: Term, m: Matter, context: Context, deeper: bool = True, depth: int = 0) -> bool:
    """Does a term vanish on the context, by its states or (for a term that moves) by its own derivative?"""
    t = context.resolved(t)
    if t.op == "num":
        return bool(t.value == 0)
    if not any(v in context.world.primitives for v in variables(t)):
        cloud = m.setting.states.of(context, (t,))
        if cloud.size and weigh(t, ZERO, "=", cloud).all_hold:
            return True
    if not deeper or depth >= _DEEPEST or not context.instants or not context.world.changes(t):
        return False
    if not _zero_everywhere(slope(t, context.world), m, context, True, depth + 1):
        return False
    return any(_zero_everywhere(context.placed(t, key), m, context, False) for key, _ in context.instants)


def _free_constants(residuals: Sequence[Term], m: Matter, context: Context) -> list[Var]:
    """Names in the pair that nothing before it ties down, so that they can be constants of integration."""
    tied = tied_names(context)
    own = dict.fromkeys(v for r in residuals for v in variables(r))
    world = context.world
    return [
        v for v in own
        if v.role == "value" and not v.order and not v.at and v.name not in tied and not world.is_changing(v)
    ]


def _held(
    m: Matter, context: Context, code: str, slopes: Sequence[Term], key: str = "", as_premise: bool = False
) -> Decision:
    certificates = None
    if m.setting.proofs:
        certificates = proof_of(context, [(s, ZERO) for s in slopes], "=")
        if certificates is not None and key:
            starts = proof_of(context, [(context.placed(context.resolved(r), key), ZERO) for r in m.residuals], "=")
            certificates = None if starts is None else (*certificates, *starts)
    verdict = Verdict(
        Standing.FOLLOWS, support="proved" if certificates is not None else "tested", code=code,
        premises=m.cites, certificate=certificates, points=40)
    after = context
    if as_premise:  # an equation between integrals without limits says what its differential says
        after = after.adding(*(Premise(m.label, s, "=", True, True, m.number) for s in slopes))
    else:
        after = after.adding(*m.premises(implied=False))
        after = as_function(m, after)
    return Decision(verdict, m.setting.within(after))


def as_function(m: Matter, context: Context) -> Context:
    """Adopt `v = v0 - g t` as the explicit course of v, so that later lines can put instants into it."""
    for left, right in m.lowered.parts:
        if left.op == "var" and isinstance(left.value, Var):
            found = explicit(left.value, right, context)
            if found is not None:
                world = replace(context.world, functions={**context.world.functions, left.value.name: found})
                return context.knowing(world)
    return context


def explicit(v: Var, right: Term, context: Context) -> Term | None:
    """`right`, if it gives a name by its variable (t, or that of a field) and constants alone."""
    world = context.world
    variable = world.variable_of(v.name)
    if v.order or v.at or not variable or v.name in world.functions:
        return None
    right = context.resolved(right)
    here = variables(right)
    if not any(u.name == variable and not u.order for u in here) or any(s.op == "int" for s in postorder(right)):
        return None  # an integral says how the course is found, not yet what it is
    if any(u.order or u.at or u.role != "value" or (world.is_changing(u) and u.name != variable) for u in here):
        return None
    return right


# --- separated variables ---------------------------------------------------------------------------------------

Ends = dict[Var, Term]


def _between_instants(m: Matter, context: Context, residuals: Sequence[Term]) -> Decision | None:
    """`∫_P^Q dF/F = ∫_0^β μ dφ`: with running upper limits the pair's differential holds, and the lower limits
    belong to one state of the motion and the upper ones to another.

    Known states must match the limits; where the context names no such state, the limits say that there is one.
    """
    if len(residuals) != 1 or m.lowered.primitives:
        return None
    found = _limits_of(residuals[0])
    if found is None:
        return None
    lower, upper, running = found
    if not all(context.world.is_changing(v) for v in lower):
        return None
    if any(context.world.changes(t) and t is not var(v) for ends in (lower, upper) for v, t in ends.items()):
        return None  # limits of another variable
    if not _zero_everywhere(slope(running, context.world), m, context):
        return None
    if not _zero_everywhere(substitute(running, {var(v): t for v, t in lower.items()}), m, context, deeper=False):
        return None
    moving_end = {v: t for v, t in upper.items() if t is not var(v)}
    missing = [ends for ends in (lower, moving_end) if ends and not _is_state(ends, m, context)]
    if any(_excluded(ends, m, context) for ends in missing):
        return None
    decision = _held(m, context, "follows.plain", [slope(running, context.world)])
    if not missing:
        return decision
    words = " and ".join(_as_words(ends) for ends in missing)
    verdict = replace(decision.verdict, standing=Standing.FOLLOWS_IF, code="follows.if", condition=words,
                      facts=(("condition", words),))
    return replace(decision, verdict=verdict)


def _limits_of(residual: Term) -> tuple[Ends, Ends, Term] | None:
    """Lower and upper limits by variable, and the residual with every upper limit running."""
    lower: Ends = {}
    upper: Ends = {}
    change: dict[Term, Term] = {}
    for t in postorder(residual):
        if t.op == "int" and isinstance(t.value, Var):
            v = Var(t.value.name, t.value.order)
            if lower.setdefault(v, t.args[1]) is not t.args[1] or upper.setdefault(v, t.args[2]) is not t.args[2]:
                return None
            change[t] = build("int", t.value, (t.args[0], t.args[1], var(v)))
    return (lower, upper, substitute(residual, change)) if len(lower) >= 2 else None


def _as_words(ends: Ends) -> str:
    (first, value), *rest = ends.items()
    head = f"{written(var(first))} = {written(value)}"
    return head + "".join(f" when {written(var(v))} = {written(t)}" for v, t in rest)


def _is_state(ends: Ends, m: Matter, context: Context) -> bool:
    """Does the context name an instant at which every variable has its limit?"""
    return any(
        all(_zero_everywhere(context.placed(sub(var(v), t), key), m, context, deeper=False) for v, t in ends.items())
        for key, _ in context.instants)


def _excluded(ends: Ends, m: Matter, context: Context) -> bool:
    """Does the context say that where one variable has its limit another has not?"""
    for key, _ in context.instants:
        gaps = [context.resolved(context.placed(sub(var(v), t), key)) for v, t in ends.items()]
        cloud = m.setting.states.of(context, gaps)
        found = [weigh(g, ZERO, "=", cloud) for g in gaps]
        if any(e.all_hold for e in found) and any(e.all_fail for e in found) and _told(ends, key, context):
            return True
    return False


def _told(ends: Ends, key: str, context: Context) -> bool:
    """Is each of the variables spoken of at the instant by some premise?"""
    told = [p for p in context.premises if p.kind in ("given", "instant")]
    said = {v.name for p in told for v in variables(p.term) if v.at == key}
    return all(v.name in said or key.startswith(f"{v.name}=") for v in ends)


def _constant_missing(m: Matter, context: Context, residuals: Sequence[Term]) -> Decision | None:
    """The derivative is right and nothing fixes the constant: said so, with a state where it is not zero."""
    if any(s.op == "int" for r in residuals for s in postorder(r)):
        return None
    left, right = m.lowered.parts[0]
    state = shown_state(m.setting, left, right, m.pair.sign)
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="unsupported", state=state, code="fails.constant_missing")
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


# --- proposed solutions -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Proposal:
    """A name's proposed course: `name = course` with the constants that nothing before ties down."""

    v: Var
    course: Term
    free: tuple[Var, ...]
    order: int
    equations: tuple[Premise, ...]


def proposal(m: Matter) -> Proposal | None:
    """The pair read as a solution of the equations of motion of its left side, if it can be."""
    if m.pair.sign != "=" or len(m.lowered.parts) != 1 or not isinstance(m.pair.left, Name):
        return None
    left, right = m.lowered.parts[0]
    if left.op != "var" or not isinstance(left.value, Var):
        return None
    course = explicit(left.value, right, m.context)
    if course is None:
        return None
    name = left.value.name
    equations = tuple(
        p for p in m.context.premises
        if p.sign == "=" and p.always and not p.implied and _about(name, p.term, m.context)
    )
    order = max((v.order for p in equations for v in variables(p.term) if v.name == name), default=0)
    if not order:
        return None
    tied = tied_names(m.context)
    variable = m.context.world.variable_of(name)
    tied -= m.context.world.constants
    free = tuple(v for v in variables(course) if v.name not in tied and v.name != variable)
    return Proposal(left.value, course, free, order, equations)


def _about(name: str, t: Term, context: Context) -> bool:
    """Does an equation hold a name's derivative, or the name as its only changing quantity beside its variable?"""
    here = [v for v in variables(t) if v.name == name and not v.at]
    changing = {v.name for v in variables(t) if context.world.is_changing(v)}
    return any(v.order for v in here) or (bool(here) and changing <= {name, context.world.variable_of(name)})


def general_solution(m: Matter) -> Decision | None:
    """`y = A cos ωt + B sin ωt` after `y'' = -ω² y`: satisfies it, and has enough constants."""
    p = proposal(m)
    if p is None:
        return None
    context = m.context
    world = replace(context.world, functions={**context.world.functions, p.v.name: p.course})
    with_course = context.knowing(world)
    if _satisfied(p, m, with_course):
        return _counted(p, m, with_course)
    if not p.free:
        return None
    cloud = m.setting.states.of(with_course)
    if not cloud.size or vanishes(p, with_course, cloud):
        return None
    fixed = [v.name for v in p.free if _pinned(v, with_course, m)]
    # A trial fixes some constant; one that the equations only allow to vanish was no part of a solution.
    if not any(v.name in fixed and _differs_from_zero(v, cloud) for v in p.free):
        return None
    if _ties_the_known(p, m, with_course):
        return None
    verdict = Verdict(Standing.TAKEN, code="taken.trial", facts=(("name", ", ".join(fixed)),),
                      introduces=tuple(v.name for v in p.free))
    return Decision(verdict, m.setting.within(with_course))


def _ties_the_known(p: Proposal, m: Matter, with_course: Context) -> bool:
    """Would the equations hold only for some values of their own constants? `v = v₀ e^(-k t)` would want m = 1 in
    `m v' = -k v`: that is no trial but a slip."""
    from derive.proof.states import freedom

    known = {v for q in p.equations for v in variables(q.term) if v.role == "value" and not v.order and not v.at}
    own = {p.v, *p.free}
    constants = sorted(
        (v for v in known - own if not m.context.world.is_changing(v)), key=lambda v: v.name)
    before = freedom(m.context, constants, (), m.setting.states)
    return 0 <= freedom(with_course, constants, (), m.setting.states) < before


def _satisfied(p: Proposal, m: Matter, with_course: Context) -> bool:
    """Do the equations hold identically, whatever the free constants are?"""
    others = replace(with_course, premises=tuple(
        q for q in with_course.premises if q not in p.equations and not _starting_value(q, p.v.name)))
    terms = [with_course.resolved(q.term) for q in p.equations]
    if any(v.name == p.v.name for t in terms for v in variables(t)):
        return False
    cloud = m.setting.states.of(others, terms)
    return bool(cloud.size) and all(weigh(t, ZERO, "=", cloud).all_hold for t in terms)


def _starting_value(q: Premise, name: str) -> bool:
    return any(v.at and v.name == name for v in variables(q.term))


def _counted(p: Proposal, m: Matter, with_course: Context) -> Decision:
    """Enough constants for the order: free ones and known starting values that the course already has."""
    known, contradicted = _starting_values(p, m, with_course)
    have = _independent(p, m, with_course)
    need = p.order
    names = ", ".join(v.name for v in p.free)
    if contradicted is not None:
        state = shown_state(m.setting, *_at_start(contradicted, m, with_course), "=")
        verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.start", state=state,
                          facts=(("name", p.v.name),))
        return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))
    if have + known < need:
        state = shown_state(m.setting, *m.lowered.parts[0], "=")
        verdict = Verdict(
            Standing.FAILS, strength="unsupported", code="fails.too_few_constants", state=state,
            facts=(("have", str(have + known)), ("need", str(need))))
        return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))
    code = "follows.general_solution" if names else "follows.plain"
    certificates = None
    if m.setting.proofs:
        terms = [(with_course.resolved(q.term), ZERO) for q in p.equations]
        base = replace(with_course, premises=tuple(q for q in with_course.premises if q not in p.equations))
        certificates = proof_of(base, terms, "=")
    verdict = Verdict(
        Standing.FOLLOWS, code=code, points=40, support="proved" if certificates is not None else "tested",
        certificate=certificates, facts=(("constants", names),) if names else (),
        introduces=tuple(v.name for v in p.free), premises=tuple(q.label for q in p.equations))
    after = _with_constants(with_course.adding(*m.premises(implied=True)), p.free)
    return Decision(verdict, m.setting.within(after))


def _starting_values(p: Proposal, m: Matter, with_course: Context) -> tuple[int, Premise | None]:
    """How many known starting values the course has identically, and one that it can never have."""
    known = 0
    base = replace(with_course, premises=tuple(
        q for q in with_course.premises if q not in p.equations and not _starting_value(q, p.v.name)))
    for q in m.context.premises:
        if q.implied or not _starting_value(q, p.v.name):
            continue
        t = with_course.resolved(q.term)
        cloud = m.setting.states.of(base, (t,))
        found = weigh(t, ZERO, "=", cloud)
        if found.all_hold:
            known += 1
        elif found.all_fail and not set(variables(t)) & set(p.free) and _at_known_time(q, m):
            return known, q
    return known, None


def _at_known_time(q: Premise, m: Matter) -> bool:
    """Is the instant a plain number (`t = 0`)? A named one (`v(t_1) = 0`) may be what the course fixes."""
    times = dict(m.context.instants)
    return all(
        (time := times.get(v.at)) is not None and not variables(time) for v in variables(q.term) if v.at)


def _at_start(q: Premise, m: Matter, with_course: Context) -> tuple[Term, Term]:
    """The two sides of a starting value: what is given, and what the course gives."""
    unknown = next(v for v in variables(q.term) if v.at)
    return var(unknown), with_course.resolved(var(unknown))


def _independent(p: Proposal, m: Matter, with_course: Context) -> int:
    """The rank of (y, y', …) by the free constants at a typical state: how many are really independent."""
    if not p.free:
        return 0
    rows = [p.course]
    for _ in range(p.order - 1):
        variable = Var(m.context.world.variable_of(p.v.name))
        rows.append(derivative(rows[-1], lambda u, by=variable: ONE if u == by else ZERO))  # type: ignore[misc]
    others = replace(with_course, premises=tuple(q for q in with_course.premises if q not in p.equations))
    cloud = m.setting.states.of(others, rows)
    if not cloud.size:
        return 0
    env = {v: a[:4] for v, a in cloud.columns.items()}
    _, slopes = Tape(rows).jacobian(env, p.free)
    ranks = []
    for k in range(min(4, cloud.size)):
        jac = np.array([np.broadcast_to(s, (len(p.free), len(next(iter(env.values())))))[:, k] for s in slopes])
        if np.isfinite(jac).all():
            ranks.append(int(np.linalg.matrix_rank(jac, tol=1e-9 * max(1.0, float(np.abs(jac).max())))))
    return max(ranks, default=0)


def vanishes(p: Proposal, with_course: Context, cloud: Cloud) -> bool:
    value = Tape([p.course]).run(cloud.columns)[0] if all(
        v in cloud.columns for v in variables(p.course)) else np.ones(1)
    return bool((np.abs(value) < 1e-6).all())


def _differs_from_zero(v: Var, cloud: Cloud) -> bool:
    return v in cloud.columns and bool((np.abs(cloud.columns[v]) > 1e-6).any())


def _pinned(v: Var, with_course: Context, m: Matter) -> bool:
    """Is a constant of the proposal tied to others by the equations once it is put in?"""
    from derive.proof.states import freedom

    known = {u for q in m.context.premises for u in variables(q.term) if not u.order and not u.at and u.role == "value"}
    fixed = [u for u in known if not with_course.world.is_changing(u)]
    with_v = freedom(with_course, [*fixed, v], (), m.setting.states)
    without = freedom(with_course, fixed, (), m.setting.states)
    return 0 <= without == with_v


# --- which names move ----------------------------------------------------------------------------------------


def settled(context: Context, m_states: object) -> Context:
    """A context in which names that must move are known to: `F` in `F = -k y`.

    A name declared without `(t)` is a constant of the motion unless that would bring everything to rest.
    """
    from derive.proof.states import States

    assert isinstance(m_states, States)
    for _ in range(4):
        stuck = _stuck(context, m_states)
        if not stuck:
            return context
        promoted = _promoted(context, stuck, m_states)
        if promoted is None:
            return context
        context = promoted
    return context


def _stuck(context: Context, states: object) -> set[str]:
    """Moving names whose every state is at rest, or all moving names if there is no state at all."""
    from derive.proof.states import States

    assert isinstance(states, States)
    moving = {v.name for p in context.premises for v in variables(p.term) if v.order}
    if not moving or all(p.implied for p in context.premises):
        return set()
    cloud = states.of(context)
    if not cloud.size:
        return moving
    at_rest = set()
    for v, a in cloud.columns.items():
        if v.order == 1 and v.wrt == TIME and not v.at and bool((np.abs(a) < 1e-7).all()):
            at_rest.add(v.name)
    return at_rest


def _promoted(context: Context, stuck: set[str], states: object) -> Context | None:
    """The context with one more name (or, failing that, all that stand beside a stuck one) moving."""
    world = context.world
    beside: dict[str, int] = {}
    for p in context.premises:
        names = {v.name for v in variables(p.term) if v.role == "value" and not v.at}
        if p.sign == "=" and p.always and names & (stuck | world.moving):
            for v in variables(p.term):
                alone = p.term.op == "add" and any(a.op == "var" and a.value == v for a in p.term.args)
                if v.name not in world.moving and v.name != TIME and v.role == "value" and not v.at:
                    beside[v.name] = beside.get(v.name, 0) + (2 if alone else 0) + 1
    ranked = sorted(beside, key=lambda n: -beside[n])
    isolated_names = [n for n in ranked if beside[n] >= 3]
    options = [[n] for n in isolated_names] + ([isolated_names] if len(isolated_names) > 1 else [])
    best: Context | None = None
    for option in options[:6]:
        trial = context.knowing(replace(world, moving=world.moving | frozenset(option)))
        left = _stuck(trial, states)
        if not left:
            return trial
        if left < stuck and best is None:
            best = trial
    return best


__all__ = ["DT", "Proposal", "explicit", "general_solution", "integrated", "proposal", "settled", "slope"]
