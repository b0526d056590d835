"""What a line comes to as everybody takes it, and in the case that is spoken of: rules for a pair, as in `judge`.

A custom (an angle is acute, g is what it is near the ground) is asked only where it shows that a line holds, or that
its number is off.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from derive.records import Standing, Symbol
from derive.states.setting import Case, Decision, Matter, Rule, Setting
from derive.states.sizes import all_positive
from derive.states.states import freedom
from derive.steps.brought_in import quick
from derive.steps.cases import conditions
from derive.steps.changing import courses, misfits, motion, phases_named
from derive.steps.customs import customary
from derive.steps.letters import defining, rates, valued, vector_rates
from derive.steps.numbers import numeric
from derive.terms.term import Var, variables
from derive.terms.world import TIME
from derive.verdicts.pairs.at_states import amounts_granted, holds_at_states
from derive.verdicts.pairs.ground import side_near_the_ground
from derive.verdicts.pairs.open_cases import (
    holds_in_open_case,
    in_open_case_by,
    inside_open_case,
    number_at_open_instant,
    with_more_known,
)
from derive.verdicts.pairs.refuting import fails, refuted_in_open_case, refuted_there, undecided
from derive.verdicts.pairs.said_there import later
from derive.verdicts.pairs.weighing import evidence


def by_custom_in_open_case(m: Matter) -> Decision | None:
    """`cos θ = 1/√(1 + μ²)` below `dT/dθ = 0: tan θ = μ`, for the angles that there are. What a new name is short for
    (`U = …`) is for no case to show."""
    spoken = {v.name for case in m.setting.cases for p in case.premises for v in variables(p.term)}
    is_short = defining.defined_by(m, set(m.fresh) - spoken) is not None
    return None if is_short else in_open_case_by(m, _by_custom_and_amounts, adopted=True)


def _by_custom_and_amounts(m: Matter) -> Decision | None:
    found = by_custom(m)
    return amounts_granted(found, m) if found is not None else None


def by_number_in_open_case(m: Matter) -> Decision | None:
    """`if N = 5 N, θ = 47°`: a number is right there to the figures it is written with."""
    rules = (numeric.right_to_its_figures, numeric.from_rounded_values)
    found = next((d for rule in rules if (d := in_open_case_by(m, rule)) is not None), None)
    return found or _root_in_open_case(m) or number_at_open_instant(m)


def _root_in_open_case(m: Matter) -> Decision | None:
    """`t = 4 s` below `lands: y = 0`: the page goes on with that one of the roots."""
    found = in_open_case_by(m, quick.side_of_a_root)
    inside = inside_open_case(m, beside=True) if found is not None else None
    chosen = quick.on_its_side(inside) if inside is not None else None
    if found is None or inside is None or chosen is None:
        return None
    beside = tuple(p for p in chosen.context.premises if p not in inside.context.premises)
    return replace(found, after=with_more_known(m, beside))


def by_phase_in_open_case(m: Matter) -> Decision | None:
    """`δ = π/2` next below `Ω = √(k/m): X = F0/(b Ω)`."""
    return in_open_case_by(m, phases_named.one_of_the_phases)


def by_course_in_open_case(m: Matter) -> Decision | None:
    """`v = u e^(-k t/m)` below `with B = m g: m v' = -k v`: solved for the case, the page goes on in it. With givens it
    is the case that is gone on with: `critical: γ = ω0`, `θ = (A + B t) e^(-γ t)`."""
    if m.setting.cases and m.setting.strict:
        return in_open_case_by(m, courses.general_solution, adopted=True)
    inside = inside_open_case(m, beside=True) if m.setting.cases and not m.setting.strict else None
    if inside is None:
        return None
    found = courses.general_solution(inside)
    return found if found is not None and found.verdict.standing is not Standing.FAILS else (
        _by_course_of_sizes(inside, m.setting.cases[-1]) or found)


def _by_course_of_sizes(inside: Matter, case: Case) -> Decision | None:
    """`θ = (A + B t) e^(-ω t)` below `critical: b² = 4 I κ`: of a damping that is more than nothing."""
    sized = all_positive(inside.context, variables(*(p.term for p in case.premises)))
    view = replace(inside, setting=inside.setting.within(sized)) if sized is not None else None
    found = courses.general_solution(view) if view is not None else None
    if view is None or found is None or found.verdict.standing is Standing.FAILS:
        return None
    return customary.said(found, view)


def by_value_in_open_case(m: Matter) -> Decision | None:
    """`dV/dr = 0 → r0 = …` is decided by what r is there; where several values are left, r0 may name any."""
    within = None
    found = valued.as_value_there(m) or (within := valued.as_value_within(m))
    if found is None:
        return None
    inside, name, surely = found
    decision = (
        holds_in_open_case(inside) or holds_in_open_case(_after_the_start(inside))
        or in_open_case_by(inside, by_custom))
    if decision is None:
        above = all(m.number not in (c.line, c.opened, *(p.source for p in c.premises)) for c in m.setting.cases)
        if above and m.words and name.name.partition("_")[2].isdigit():
            return None  # `first stretch: W1 = ½ k a²`, of another W than that of the case above
        refuted = (refuted_in_open_case(inside) if surely or within is None else None) or (
            refuted_there(inside) if surely else None)
        if refuted is None:
            return None
        world = m.context.world
        new = () if name.name in world.symbols else (Symbol(name.name, declared=False),)
        named = m.context.knowing(world.declaring(new))
        own = (*m.setting.broken, *m.premises(implied=False))
        return replace(refuted, after=replace(m.setting.within(named), broken=own))
    verdict = replace(decision.verdict, introduces=(name.name,))
    return Decision(verdict, m.setting.within(defining.defining(m, name, m.context)))


def _after_the_start(inside: Matter) -> Matter:
    """`at y = 0: t1 = …`: of two times at which it is so, the later one."""
    key = inside.setting.cases[-1].key
    return later(inside, key) if key and not key.startswith(f"{TIME}=") else valued.later_than_the_start(inside)


def by_custom(m: Matter) -> Decision | None:
    """A line of a working without givens is decided by what everybody takes for granted, where it needs that: by what
    leaves no condition open first, and by exact values before the writer's rounded ones."""
    with_condition = broken = None
    seen: list[Matter] = []
    for inside in customary.views(m):
        decision = next((d for rule in CUSTOMARY if (d := rule(inside)) is not None), None)
        if decision is not None:
            decision = vector_rates.without_start(_still_a_value(m, customary.said(decision, inside)), m)
            if decision.verdict.standing is not Standing.FOLLOWS_IF:
                return decision
            with_condition = with_condition or decision
            continue
        seen.append(inside)
        if (broken := _broken_by_custom(m, inside, seen, with_condition is None)) is not None:
            break
    rounded = ((numeric.from_rounded_values(inside), inside) for inside in seen)
    found = next((_still_a_value(m, customary.said(d, inside)) for d, inside in rounded if d is not None), broken)
    if found is not None:
        return found
    if with_condition is not None and _fails_everywhere(m):
        return None  # no start that `z(0) = -y0` leaves open could bear it out
    # `N ≥ 0` says what is meant, and is not asked under which conditions it would come out by itself; nor is the one of
    # two roots that a value is, `v = 10 m/s`.
    return (quick.bound_of_a_name(m) or quick.root_that_is_meant(m) if with_condition is not None else None) or (
        with_condition)


_NOTHING = 1e-9


def _fails_everywhere(m: Matter) -> bool:
    """Does a pair fail in every state in which its sides are something, where the page says what its left side is?"""
    left, right = m.lowered.parts[0]
    if not isinstance(left.value, Var) or left.value.order or len(m.lowered.parts) > 1:
        return False
    given = [v for v in variables(m.context.resolved(right)) if v.role == "value"]
    free = freedom(m.context, given, (), m.setting.states)
    if not 0 <= free == freedom(m.context, [*given, left.value], (), m.setting.states):
        return False
    found, cloud = evidence(m)
    for e in found if cloud.size and m.pair.sign == "=" else ():
        something = np.abs(e.left) + np.abs(e.right) > _NOTHING
        if something.any() and e.fails[something].all():
            return True
    return False


def _broken_by_custom(m: Matter, inside: Matter, seen: Sequence[Matter], open_otherwise: bool) -> Decision | None:
    """The break of a line that does not hold under a custom of which it speaks itself. seen: the matter under that
    custom and others before."""
    off = vector_rates.off_course(m, inside) if vector_rates.of_vectors(inside) else None
    if off is not None:
        return undecided(m) if m.setting.hopeful else off
    if rates.gives_course(m, inside) and misfits.no_constants_fit(inside, set(inside.fresh)):
        return misfits.changes_otherwise(inside)
    if open_otherwise and customary.binding(m, inside):
        return undecided(m) if m.setting.hopeful else _off_by(inside, seen, m) or fails(inside)
    return None


def _off_by(inside: Matter, seen: Sequence[Matter], m: Matter) -> Decision | None:
    """A number that is wrong whatever the usual g is rounded to, with the slip that explains it for one of these. What
    the line took for granted stays out of the page."""
    alike = [x for x in seen if x.context.premises[-1].label == inside.context.premises[-1].label]
    found = [d for d in map(numeric.wrong_number, alike or [inside]) if d is not None]
    if not found:
        return None
    chosen = next((d for d in found if "factor" in dict(d.verdict.facts)), found[0])
    own = chosen.after.broken[len(inside.setting.broken):]
    return replace(chosen, after=replace(m.setting, broken=(*m.setting.broken, *own)))


def _still_a_value(m: Matter, decision: Decision) -> Decision:
    """`T = 2.01 s` is right with the usual g, and it may be what g is going to be found from: that is left open."""
    value = quick.value_of_a_name(m) if customary.usual_g(decision) else None
    return replace(decision, after=_as_reckoned(value.after, m)) if value is not None else decision


def _as_reckoned(setting: Setting, m: Matter) -> Setting:
    """The value that a line has reckoned, marked as such: it goes with what it comes from."""
    context, told = setting.context, {*m.context.premises}
    return setting.within(replace(context, premises=tuple(
        replace(p, kind="reckoned") if p.kind == "value" and p not in told else p for p in context.premises)))


# What is asked under a custom: only what shows that the line holds, or that its number is off.
CUSTOMARY: tuple[Rule, ...] = (
    holds_at_states, courses.general_solution, numeric.right_to_its_figures, side_near_the_ground, motion.integrated,
    conditions.follows_if)
