"""Proposed solutions: `y = A cos ωt + B sin ωt` after an equation of motion.

A proposed course holds when it satisfies the equations of motion identically and has as many free constants (or
known initial values) as their order (existence and uniqueness of solutions, Picard-Lindelöf).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from derive.notation.tree import Name
from derive.proof.support import proof_of
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise, tied_names
from derive.states.evidence import weigh
from derive.states.projection import Cloud
from derive.states.setting import Decision, Matter, Trial
from derive.states.showing import shown_state
from derive.states.states import freedom
from derive.steps.changing import staying
from derive.steps.changing.coupled import coupled_solution
from derive.steps.changing.course_starts import (
    at_start,
    is_starting_value,
    starting_values,
    starts_otherwise,
    told_by_others,
)
from derive.steps.changing.motion import integrated, with_constants
from derive.steps.changing.proposals import FREE_PART, Proposal, proposal
from derive.steps.changing.ranks import independent
from derive.steps.changing.trials import complex_constants, moves, tried_out, with_complex_amplitudes, with_sizes
from derive.terms.calculus import derivative
from derive.terms.tape import taped
from derive.terms.term import ONE, ZERO, Term, Var, mul, postorder, substitute, var, variables
from derive.terms.world import TIME
from derive.terms.writing import written


def general_solution(m: Matter) -> Decision | None:
    """`y = A cos ωt + B sin ωt` after `y'' = -ω² y`: satisfies it, and has enough constants."""
    if len(m.lowered.parts) > 1:
        return _each_component(m)
    p = proposal(m)
    if p is None:
        return None
    found = coupled_solution(p, m) or _past_places(p, m) or _solution(p, m) or _beside_others(p, m)
    if found is None and not m.setting.strict:
        whole = proposal(m, written_out=True)
        found = _solution(whole, m) if whole is not None and whole.equations != p.equations else None
    if found is None or found.verdict.standing is not Standing.FOLLOWS_IF:
        return found
    # `x = …` below `x' = v` and v as a function of t: where x starts is all that is to be known.
    first = integrated(m)
    return first if first is not None and first.verdict.standing is Standing.FOLLOWS else found


# The less is established, the later.
_TRIED = "what was tried not being nothing"
_BY_STRENGTH = (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.TAKEN)


def _each_component(m: Matter) -> Decision | None:
    """`r = (A cos ωt, B sin ωt)` after `r'' = -ω² r`: each component by itself, one after the other; a component of
    nothing rests."""
    moving = [part for part in m.lowered.parts if part[1] is not ZERO]
    if not isinstance(m.pair.left, Name) or any(left.op != "var" for left, _ in m.lowered.parts) or not moving:
        return None
    still = tuple(p for p, part in zip(m.premises(implied=False), m.lowered.parts, strict=True) if part[1] is ZERO)
    setting, verdicts = m.setting, []
    tried: tuple[Premise, ...] = ()
    for part in moving:
        inside = setting.within(setting.context.adding(*tried))
        found = general_solution(replace(m, setting=inside, lowered=replace(m.lowered, parts=(part,))))
        if found is None or found.verdict.standing not in _BY_STRENGTH:
            return None
        verdicts.append(found.verdict)
        setting = found.after
        # What a trial brings in is not nothing, or it would say nothing of the others.
        if found.verdict.code == "taken.trial":
            tried = tuple(Premise(_TRIED, var(Var(n)), "≠", always=False) for n in found.verdict.introduces)
    kept = tuple(p for p in setting.context.premises if p.label != _TRIED)
    context = replace(setting.context, premises=kept).adding(*still)
    if not m.setting.states.any(context).size:
        return None
    weakest = max(verdicts, key=lambda v: _BY_STRENGTH.index(v.standing))
    conditions = " and ".join(v.condition for v in verdicts if v.condition)
    said = replace(weakest, condition=conditions) if weakest.standing is Standing.FOLLOWS_IF else weakest
    return Decision(said, setting.within(context))


def _beside_others(p: Proposal, m: Matter) -> Decision | None:
    """The same without what only says what other constants are: the λ found by a trial that was left behind."""
    own = {v.name for q in p.equations for v in variables(q.term)} | {v.name for v in variables(p.course)}
    apart = [
        q for q in m.context.premises
        if q not in p.equations and not own.issuperset(v.name for v in variables(q.term))
        and not any(m.context.world.is_changing(v) or v.at for v in variables(q.term))]
    if not apart:
        return None
    kept = tuple(q for q in m.context.premises if q not in apart)
    found = _solution(p, replace(m, setting=m.setting.within(replace(m.context, premises=kept))))
    if found is None or found.verdict.standing not in (Standing.TAKEN, Standing.FOLLOWS):
        return None
    after = found.after.context
    whole = replace(after, premises=(*apart, *after.premises))
    return replace(found, after=found.after.within(whole)) if m.setting.states.any(whole).size else None


def _past_places(p: Proposal, m: Matter) -> Decision | None:
    """The same without what was said of places on the way (`at x = 0: x'² = k A²/m`), whose moments are hard to find.
    Not past what they say of the constants of the course itself (`x' = u at x = 0`)."""
    keys = {key for key, _ in m.context.instants if key.startswith(f"{p.v.name}=")}
    there = [q for q in m.context.premises if any(v.at in keys for v in variables(q.term))]
    own = {v.name for v in (*variables(p.course), *(v for q in p.equations for v in variables(q.term)))}
    if not keys or any(q.kind == "instant" and own.issuperset(v.name for v in variables(q.term)) for q in there):
        return None
    kept = tuple(q for q in m.context.premises if q not in there)
    instants = tuple(one for one in m.context.instants if one[0] not in keys)
    found = _solution(p, replace(m, setting=m.setting.within(replace(m.context, premises=kept, instants=instants))))
    if found is None or found.verdict.standing is not Standing.FOLLOWS:
        return None
    # The lines below may speak of those places again, and of what was said there (`w = A ω`, the speed where x = 0).
    after = found.after.context
    whole = replace(after, premises=(*after.premises, *there), instants=m.context.instants)
    return replace(found, after=found.after.within(whole)) if m.setting.states.any(whole).size else found


def _solution(p: Proposal, m: Matter) -> Decision | None:
    context = m.context
    world = with_complex_amplitudes(context, p.course)
    with_course = context.knowing(world.taking(p.v.name, p.course))
    if _satisfied(p, m, with_course):
        if not constrained(p, m):
            return None
        # Right for its own equation, it may still not go with what stands beside it: `v = u₀ e^(-k t/m)` where that is
        # the course of u = v + m g/k would want g = 0.
        rest = replace(with_course, premises=tuple(q for q in with_course.premises if q not in p.aside))
        if not _ties_the_known(p, m, rest):
            return _counted(p, m, with_course)
        _, contradicted = starting_values(p, m, with_course)
        return starts_otherwise(p, m, *at_start(contradicted, with_course)) if contradicted is not None else None
    if not p.free:
        return None
    if p.order > 1 and (opened := _open_trial(p, m, with_course)) is not None:
        return opened
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
    trial = Trial(p.v.name, len(with_course.premises))
    return Decision(verdict, replace(m.setting.within(with_course), trials=(*m.setting.trials, trial)))


def _open_trial(p: Proposal, m: Matter, with_course: Context) -> Decision | None:
    """`x = C e^(r t)` of what swings: tried with an r that the equation has yet to give, which may be imaginary."""
    rates = {
        v.name for t in postorder(p.course) if t.op == "fun" and t.value == "exp" for v in p.free
        if t.args[0] is mul(var(v), var(Var(m.context.world.variable_of(p.v.name))))}
    loosened = complex_constants(with_course, rates) if rates else None
    if loosened is None or not moves(loosened, p.v.name, m.setting) or not rest_would_do(p, m):
        return None
    verdict = Verdict(Standing.TAKEN, code="taken.trial", facts=(("name", ", ".join(sorted(rates))),),
                      introduces=tuple(v.name for v in p.free))
    after, trial = tried_out(with_sizes(loosened), p.v.name, p.course, m.setting)
    return Decision(verdict, replace(m.setting.within(after), trials=(*m.setting.trials, trial)))


def constrained(p: Proposal, m: Matter) -> bool:
    """Do the equations say anything of the name's own course? `m v' = -u m'` leaves m any, where v is as it may be."""
    changing = {
        v.name for q in p.equations for v in variables(q.term)
        if m.context.world.is_changing(v) and v.name != m.context.world.variable_of(p.v.name)}
    if len(changing) < 2:
        return True
    wrt = m.context.world.variable_of(p.v.name)
    course = [Var(p.v.name, k, wrt if k else "") for k in range(p.order * len(changing) + 1)]
    fixed = sorted({
        v for q in p.equations for v in variables(q.term)
        if v.role == "value" and not v.at and not m.context.world.is_changing(v)}, key=lambda v: v.name)
    with_it, without = (freedom(m.context, names, (), m.setting.states) for names in ([*course, *fixed], fixed))
    return with_it < len(course) + without


def _ties_the_known(p: Proposal, m: Matter, with_course: Context) -> bool:
    """Would the equations hold only for some values of their own constants? `v = v₀ e^(-k t)` would want m = 1 in
    `m v' = -k v`: that is no trial but a slip. So is `h = q/c + K e^(c t)`, which below `h - q/c = K e^(-c t)` wants
    K = 0, and a course of x1 that beside those of x1 ± x2 wants no amplitude at all."""
    tied = tied_names(_without_free_part(p.v.name, m.context))
    met = {v for v in (*p.free, *variables(p.course)) if v.name in tied and v.role == "value"}
    known = {v for q in p.equations for v in variables(q.term) if v.role == "value" and not v.order and not v.at} | met
    own = {p.v, *p.free} - met
    constants = sorted(
        (v for v in known - own if not m.context.world.is_changing(v)), key=lambda v: v.name)
    before = freedom(m.context, constants, (), m.setting.states)
    return 0 <= freedom(with_course, constants, (), m.setting.states) < before


def _without_free_part(name: str, context: Context) -> Context:
    """The context before `x_h = A cos ω0 t + B sin ω0 t` was written, whose constants are to be those of x."""
    parts = {n for n in context.world.functions if n.partition("_")[0] == name and n.partition("_")[2] in FREE_PART}
    if not parts:
        return context
    world = replace(context.world, functions={n: t for n, t in context.world.functions.items() if n not in parts})
    kept = tuple(q for q in context.premises if parts.isdisjoint(v.name for v in variables(q.term)))
    return replace(context, premises=kept).knowing(world)


def _satisfied(p: Proposal, m: Matter, with_course: Context) -> bool:
    """Do the equations hold identically, whatever the free constants are?"""
    others = replace(with_course, premises=tuple(
        q for q in with_course.premises if q not in p.aside and not is_starting_value(q, p.v.name)))
    terms = [with_course.resolved(q.term) for q in p.equations]
    if any(v.name == p.v.name for t in terms for v in variables(t)):
        return False
    moment, world = m.context.world.variable_of(p.v.name), m.context.world
    if not any(v.name != moment and world.is_changing(v) for t in terms for v in variables(t)):
        others = replace(others, premises=tuple(q for q in others.premises if not _ties_another(q, p, m)))
    cloud = m.setting.states.of(others, terms)
    return bool(cloud.size) and all(weigh(t, ZERO, "=", cloud).all_hold for t in terms)


def _ties_another(q: Premise, p: Proposal, m: Matter) -> bool:
    """`E = ½ I θ'² + m g h (1 - cos θ)`: beside `E' = 0`, a wrong course has it at moments at which it obeys."""
    own = {v.name for v in variables(q.term)}
    return p.v.name in own and bool(own & m.context.world.moving - {p.v.name})


# Words that tell how a motion starts: `y = y0 cos ωt if it is let go at y0`.
_LET_GO = frozenset(("go", "released", "release", "rest", "starts", "starting", "started"))


def _counted(p: Proposal, m: Matter, with_course: Context) -> Decision:
    """Enough constants for the order: free ones and known starting values that the course already has."""
    p = _with_its_own_constants(p, m)
    known, contradicted = starting_values(p, m, with_course)
    have = independent(p, m, with_course)
    need = p.order
    names = ", ".join(v.name for v in p.free)
    if contradicted is not None:
        return starts_otherwise(p, m, *at_start(contradicted, with_course))
    if have + known < need and (kept := staying.kept(m)) is not None:
        return kept  # its start is told of something else: of x' where v = x'
    if have + known < need:
        told_of, other = told_by_others(p, m)
        if other is not None and not p.free:
            return starts_otherwise(p, m, *other)
        known = max(known, told_of)
    # `x' = u when x = 0` leaves open only when that is, and clocks are set as one likes.
    clock = have + known + 2 == need and any(key.startswith(f"{p.v.name}=") for key, _ in m.context.instants)
    told = not _LET_GO.isdisjoint(m.words.lower().replace(",", " ").split())
    # `A e^(-3t) + B e^(-3t)`, but not `u t sin θ` below `y' = u sin θ - g t`
    above = {v for q in m.context.premises for v in variables(q.term)}
    doubled = have < need <= len([v for v in p.free if v not in above])
    if have + known < need and not doubled and (clock or told or not m.setting.strict):
        return _from_its_start(p, m, with_course, 1 if clock else p.order)
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
        base = replace(with_course, premises=tuple(q for q in with_course.premises if q not in p.aside))
        certificates = proof_of(base, terms, "=")
    verdict = Verdict(
        Standing.FOLLOWS, code=code, points=40, support="proved" if certificates is not None else "tested",
        certificate=certificates, facts=(("constants", names),) if names else (),
        introduces=tuple(v.name for v in p.free), premises=tuple(q.label for q in p.equations))
    after = with_constants(with_course.adding(*m.premises(implied=True)), p.free)
    return Decision(verdict, m.setting.within(after))


def _from_its_start(p: Proposal, m: Matter, with_course: Context, open_values: int) -> Decision:
    """`v = u tanh(g t/u)`: one of the solutions, right where the motion starts as it says.

    open_values: how many of its value and its rates at the start nothing above tells.
    """
    variable = Var(m.context.world.variable_of(p.v.name))
    told = {v.order for q in m.context.premises if not q.implied for v in variables(q.term)
            if v.at and v.name == p.v.name}  # and not contradicted
    said, course = [], p.course
    for k in range(open_values):
        start = substitute(course, {var(variable): ZERO})
        value = m.setting.states.of(m.context, (start,))
        if k in told:
            pass
        elif value.size and weigh(start, ZERO, "=", value).all_hold:
            said.append(f"{p.v.name}{chr(39) * k} = 0")
        elif not set(variables(start)) & set(p.free):
            said.append(f"{p.v.name}{chr(39) * k} = {written(start)}")
        course = derivative(course, lambda u, by=variable: ONE if u == by else ZERO)  # type: ignore[misc]
    words = f"{' and '.join(said)} at {variable.name} = 0" if said else f"{p.v.name} starts so"
    verdict = Verdict(
        Standing.FOLLOWS_IF, code="follows.if", condition=words, facts=(("condition", words),), points=40,
        support="tested", introduces=tuple(v.name for v in p.free), premises=tuple(q.label for q in p.equations),
        state=shown_state(m.setting, *m.lowered.parts[0], "="))
    after = with_constants(with_course.adding(*m.premises(implied=True)), p.free)
    return Decision(verdict, m.setting.within(after))


def _with_its_own_constants(p: Proposal, m: Matter) -> Proposal:
    """Without those in what the equations say it by: m0 of `m = m0 - q t` is no constant of the v in `m v' = -u m'`."""
    world, own = m.context.world, (p.v.name, m.context.world.variable_of(p.v.name))
    others = {v.name for q in p.equations for v in variables(q.term) if world.is_changing(v)} - {*own}
    beside = {
        v for q in m.context.premises if q not in p.aside for v in variables(q.term)
        if any(u.name in others for u in variables(q.term))}
    return replace(p, free=tuple(v for v in p.free if v not in beside))



def vanishes(p: Proposal, with_course: Context, cloud: Cloud) -> bool:
    """Do the equations leave nothing of a course, or, where rest would satisfy them as well, nothing of one of its
    terms? `A e^(p t) + B e^(-q t)` is no solution where A has to be nothing; of a trial for a driven motion some part
    may be."""
    terms = p.course.args if p.course.op == "add" and _rest_would_do(p, with_course, cloud) else (p.course,)
    # At any moment, where the equations hold whatever it is.
    running = Var(with_course.world.variable_of(p.v.name))
    columns = {running: np.linspace(0.3, 1.7, cloud.size), **cloud.columns}
    told = [t for t in terms if all(v in columns for v in variables(t))]
    sizes = [np.broadcast_to(np.abs(a), cloud.size) for a in taped(*told).run(columns)] if told else []
    return any(bool((a < 1e-6).all()) for a in sizes)


def rest_would_do(p: Proposal, m: Matter) -> bool:
    """Do the equations allow that nothing moves, so that solutions may be added?"""
    return _rest_would_do(p, m.context, m.setting.states.of(m.context, _at_rest(p, m.context)))


def _at_rest(p: Proposal, context: Context) -> list[Term]:
    """What is left of the equations where nothing moves."""
    world = context.world
    still = context.knowing(replace(world, functions={**world.functions, p.v.name: ZERO}))
    return [still.resolved(q.term) for q in p.equations]


def _rest_would_do(p: Proposal, with_course: Context, cloud: Cloud) -> bool:
    told = cloud.columns.keys()  # t is not among it where every term falls off alike
    return all(told >= set(variables(t)) and weigh(t, ZERO, "=", cloud).all_hold for t in _at_rest(p, with_course))


def _differs_from_zero(v: Var, cloud: Cloud) -> bool:
    # In most states: where the instants happen to lie far back, e^(3t) is lost in rounding beside e^(-2t).
    return v in cloud.columns and bool(np.median(np.abs(cloud.columns[v])) > 1e-6)


def _pinned(v: Var, with_course: Context, m: Matter) -> bool:
    """Is a constant of the proposal tied to others by the equations once it is put in?"""
    said = (*(q.term for q in m.context.premises), *m.context.world.functions.values())  # the course of x beside y's
    known = {u for u in variables(*said) if not u.order and not u.at and u.role == "value" and u.name != TIME}
    fixed = [u for u in known if not with_course.world.is_changing(u)]
    with_v = freedom(with_course, [*fixed, v], (), m.setting.states)
    without = freedom(with_course, fixed, (), m.setting.states)
    return 0 <= without == with_v
