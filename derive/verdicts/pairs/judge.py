"""Does a pair of sides follow? The rules, asked in turn; the first that knows decides.

Cheap and certain first: the states of the context. A rule returns a decision or None; none of them ever
answers "follows" for what the states or a proof have not shown, nor "does not follow" without a state.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.records import Standing
from derive.states.poles import without_bound
from derive.states.setting import Decision, Matter, Rule
from derive.steps.breaks import carrying, redefined
from derive.steps.brought_in import figures, fresh, identities, laws, moments, quick, restated, substituting
from derive.steps.cases import conditions
from derive.steps.changing import (
    by_angle,
    courses,
    logarithms,
    motion,
    obeying,
    one_wave,
    phases_named,
    starting,
    staying,
)
from derive.steps.changing.kinematics import linked
from derive.steps.changing.oscillation import with_meaning, with_meaning_of_a_mode
from derive.steps.compared import proportion, twins
from derive.steps.extremes import flights, greatest, stationary
from derive.steps.integrals import antiderivatives, ends, totals, ways
from derive.steps.letters import defining, rates
from derive.steps.limiting import limits
from derive.steps.numbers import components, numeric, rounded
from derive.steps.small import smallness, swings
from derive.terms.term import Var
from derive.verdicts.pairs.at_states import amounts_granted, holds_at_states, lost_at_rest, no_states
from derive.verdicts.pairs.customs import (
    by_course_in_open_case,
    by_custom,
    by_custom_in_open_case,
    by_number_in_open_case,
    by_phase_in_open_case,
    by_value_in_open_case,
)
from derive.verdicts.pairs.edges import bound_worked_out, extreme_of_a_bound
from derive.verdicts.pairs.ground import refuted_by_usual_g
from derive.verdicts.pairs.meant import by_components, by_its_place
from derive.verdicts.pairs.moments_found import time_at_open_instant
from derive.verdicts.pairs.multiples import told_in_words
from derive.verdicts.pairs.open_cases import (
    follows_in_open_case_if,
    holds_in_open_case,
    in_open_case_by,
    inside_open_case,
)
from derive.verdicts.pairs.refuting import (
    fails,
    is_settled_otherwise,
    off_at_its_own_head,
    off_in_open_case,
    off_its_course_next,
    refuted_in_open_case,
    undecided,
)
from derive.verdicts.pairs.weighing import evidence

# --- rules --------------------------------------------------------------------------------------------------


def by_constant_rates(m: Matter) -> Decision | None:
    """Values of a uniformly changing quantity at different instants are tied, formula written out or not."""
    context = linked(m.context, m.setting)
    if context is None:
        return None
    inside = replace(m, setting=m.setting.within(context))
    return holds_at_states(inside) or holds_in_open_case(inside) or numeric.right_to_its_figures(inside)


def by_meaning(m: Matter) -> Decision | None:
    """A line about a period or frequency of a known oscillation is decided by what the word means."""
    inside = with_meaning(m)
    if inside is not None and evidence(inside)[1].size:
        return judge(inside)
    modes = (holds_at_states(mode) for mode in with_meaning_of_a_mode(m))
    return next((found for found in modes if found is not None), None)


def by_extreme(m: Matter) -> Decision | None:
    """`z_max = …` is decided by what the word means, where z is known. Only there z changes no more: the lines below
    are told nothing but the value."""
    inside = greatest.with_meaning(m)
    if inside is None or evidence(inside)[0][0].mixed:
        return None
    decision = judge(inside)
    if decision.verdict.standing is Standing.FAILS:
        return replace(decision, after=replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))
    (name,) = set(m.fresh) - set(inside.fresh)
    return replace(decision, after=m.setting.within(defining.defining(m, Var(name), m.context)))


def by_flight(m: Matter) -> Decision | None:
    """`range R = …`, `max height H = …` below x and y by t are decided by what the words mean."""
    meant = flights.with_meaning(m)
    if meant is None or evidence(meant.inside)[0][0].mixed:
        return None
    decision = judge(meant.inside)
    if decision.verdict.standing is Standing.FAILS:
        broken = (*m.setting.broken, *m.premises(implied=False))
        return replace(decision, after=replace(m.setting, broken=broken)) if meant.surely else None
    return replace(decision, after=m.setting.within(defining.defining(m, meant.name, m.context)))


def along_its_angle(m: Matter) -> Decision | None:
    """`u = (G M/h²) (1 + e cos φ)` below u = 1/r and the equation of u by φ is decided by that equation."""
    inside = by_angle.by_its_angle(m)
    decision = judge(inside) if inside is not None else None
    if decision is None or decision.verdict.standing not in (Standing.FOLLOWS, Standing.FOLLOWS_IF, Standing.FAILS):
        return None
    if decision.verdict.standing is Standing.FAILS:
        return _failed(decision, m)
    known = m.context.adding(*m.premises(implied=False))
    new = [Var(n) for n in decision.verdict.introduces]
    return replace(decision, after=m.setting.within(motion.with_constants(known, new)))


def by_twins(m: Matter) -> Decision | None:
    """`T2/T1 = (r2/r1)^(3/2)` is decided by what the lines above say of T and r, for each of the two."""
    inside = inside_open_case(m)
    if inside is None:
        return _by_twins(m)
    off = _by_twins(inside)
    failing = off is not None and off.verdict.standing is Standing.FAILS
    return _failed(off, m) if failing and off is not None else in_open_case_by(m, _by_twins)


def _by_twins(m: Matter) -> Decision | None:
    seen, failing = told_in_words(m), None
    for inside, both in twins.views(seen):
        decision = holds_at_states(inside) or numeric.right_to_its_figures(inside)
        if decision is not None and seen is m:
            exact = decision.verdict.standing is Standing.FOLLOWS
            known = m.setting.within(m.context.adding(*m.premises(implied=False)) if exact else both)
            return replace(decision, after=replace(known, rounded=decision.after.rounded))
        if decision is not None:
            return replace(decision, after=m.setting)
        off = evidence(inside)[0][0]
        failing = failing or (fails(inside) if off.fails.any() and not off.holds.any() else None)
    told = seen is not m or (not m.reason and twins.only_drawn(m.words))
    return _failed(failing, m) if failing is not None and told else None


def _failed(decision: Decision, m: Matter) -> Decision:
    return replace(decision, after=replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def by_values_put_in(m: Matter) -> Decision | None:
    """`v = a t = 4·5` where nobody has given t: taken for the values of the task, if it holds with the others."""
    if quick.is_fixed_in_a_case(m) or is_settled_otherwise(m):
        return None
    view = substituting.with_values_put_in(m, lambda inside: any(rule(inside) is not None for rule in PUT_IN))
    return substituting.said(view) if view is not None else None


def carried(m: Matter) -> Decision | None:
    """The pair follows from the writer's own broken lines."""
    return carrying.carried(m, WRITERS)


def improper(m: Matter) -> Decision | None:
    """`T/4 = ∫_0^α dθ/√(2 g/l (cos θ - cos α))` below an approximation: numbers near the end of it show no break."""
    return undecided(m) if any(without_bound(t) for part in m.lowered.parts for t in part) else None


# After a break: what follows from the writer's own lines, for a line that does not hold.
OWN: tuple[Rule, ...] = (
    carried, redefined.carried_by_definition, redefined.carried_by_slope, numeric.carried_number)

RULES: tuple[Rule, ...] = (
    no_states,
    along_its_angle,
    antiderivatives.wrong_antiderivative,
    conditions.lost_at_an_edge,
    holds_at_states,
    swings.about_a_place,
    one_wave.written_as_one,
    courses.general_solution,
    obeying.obeying,
    staying.kept,
    holds_in_open_case,
    stationary.taken,
    stationary.slope_of_one_form,
    off_at_its_own_head,
    numeric.right_to_its_figures,
    components.right_to_their_figures,
    numeric.near_a_fraction,
    proportion.proportional,
    totals.total,
    totals.stated_total,
    totals.over_the_body,
    totals.told_over_the_body,
    ways.named_by_integral,
    ways.over_a_way,
    motion.integrated,
    numeric.grows_to_its_figures,
    by_constant_rates,
    ends.between_ends,
    by_meaning,
    by_extreme,
    by_flight,
    by_its_place,
    by_components,
    extreme_of_a_bound,
    by_twins,
    by_custom,
    by_custom_in_open_case,
    phases_named.one_of_the_phases,
    by_phase_in_open_case,
    time_at_open_instant,
    by_number_in_open_case,
    by_course_in_open_case,
    by_value_in_open_case,
    fresh.new_name,
    smallness.right_to_its_order,
    bound_worked_out,
    quick.bound_of_a_name,
    moments.moment,
    moments.moment_of_a_decay,
    moments.meeting,
    moments.value_then,
    moments.bound_of_a_force,
    figures.put_in,
    figures.share_put_in,
    conditions.kept_apart,
    conditions.turned_about,
    quick.root_that_is_meant,
    conditions.follows_if,
    follows_in_open_case_if,
    quick.side_of_a_root,
    off_in_open_case,
    refuted_by_usual_g,
    quick.value_of_a_name,
    limits.of_known_limit,
    by_values_put_in,
    smallness.right_if_small,
    identities.no_identity,
    refuted_in_open_case,
    off_its_course_next,
    moments.time_named,
    staying.strays,
    rates.grows_otherwise,
    moments.moment_by_the_time,
    restated.with_another_number,
    fresh.starting_relation,
    laws.law,
    starting.start_of_motion,
    numeric.from_rounded_values,
    rounded.agrees_with_rounded_givens,
    rounded.agrees_with_rounded_results,
    numeric.right_for_its_head,
    *OWN,
    improper,
    numeric.wrong_number,
    fails,
    undecided,
)

# What is asked with values put in.
PUT_IN: tuple[Rule, ...] = (holds_at_states, numeric.right_to_its_figures, numeric.from_rounded_values)

# What is asked of the writer's own view after a break: all that shows that a pair follows, nothing that takes it.
WRITERS: tuple[Rule, ...] = (
    holds_at_states,
    courses.general_solution,
    obeying.obeying,
    staying.kept,
    holds_in_open_case,
    proportion.proportional,
    motion.integrated,
    numeric.grows_to_its_figures,
    by_constant_rates,
    ends.between_ends,
    by_meaning,
    smallness.right_to_its_order,
    conditions.follows_if,
    limits.of_known_limit,
)

# Inside an approximation the exact context may still decide outright; everything else is asked of the
# context kept to its order first.
EXACT: tuple[Rule, ...] = (holds_at_states, holds_in_open_case, numeric.right_to_its_figures)
AFTERWARDS: tuple[Rule, ...] = (
    *OWN, improper, numeric.wrong_number, fails, undecided,
)


# What can show that a line holds, or take it: all that is asked of a reading that is only tried.
HOPEFUL: tuple[Rule, ...] = (*RULES[: RULES.index(OWN[0])], undecided)


def judge(m: Matter) -> Decision:
    """The first rule that knows decides; the last always does."""
    if m.setting.regime is None:
        return _first(HOPEFUL if m.setting.hopeful else RULES, m)
    for rule in EXACT:
        decision = rule(m)
        if decision is not None:
            return decision
    usual = by_custom(m)
    if usual is not None and usual.verdict.standing is Standing.FOLLOWS:
        return usual
    to_order = smallness.right_to_its_order(m) or _extreme_to_its_order(m)
    if to_order is not None:
        return _unless_carried(_lost_at_rest_in_regime(m) or to_order, m)
    return _number_in_regime(m) or _in_regime(m) or _first((undecided,) if m.setting.hopeful else AFTERWARDS, m)


def _number_in_regime(m: Matter) -> Decision | None:
    """A number that an approximation fixes, right to its figures or off."""
    inside = smallness.at_nothing(m)
    decision = (numeric.right_to_its_figures(inside) or numeric.wrong_number(inside)) if inside is not None else None
    if decision is None:
        return None
    return replace(decision, after=replace(m.setting, rounded=decision.after.rounded, broken=decision.after.broken))


_OPEN = (Standing.FAILS, Standing.UNDECIDED)


def _in_regime(m: Matter) -> Decision | None:
    """What is said in the context kept to its order; nothing is brought in there that the exact one denies: what is cut
    off may have left `dv/dt` open below `v ≈ u q t/m0`."""
    found = smallness.in_regime(m, judge)
    if found is not None and found.verdict.code != "taken.start" and found.verdict.standing not in _OPEN:
        return found
    exact = judge(replace(m, setting=replace(m.setting, regime=None)))
    if exact.verdict.standing is Standing.FOLLOWS:  # the energy of a pendulum, below its small swings
        return replace(exact, after=replace(m.setting, context=exact.after.context))
    if found is None or found.verdict.standing in _OPEN or exact.verdict.standing is not Standing.FAILS:
        return found
    return replace(exact, after=replace(m.setting, broken=exact.after.broken))


def _extreme_to_its_order(m: Matter) -> Decision | None:
    """`for small α: v_max ≈ α √(g L)`, of what the word means."""
    inside = greatest.with_meaning(m)
    decision = smallness.right_to_its_order(inside) if inside is not None else None
    if decision is None:
        return None
    return replace(decision, after=replace(m.setting, regime=decision.after.regime, broken=decision.after.broken))


def _lost_at_rest_in_regime(m: Matter) -> Decision | None:
    """`ω² = g/l` of a trial in an opened approximation: unless nothing swings."""
    if m.setting.regime is None or not m.setting.trials or m.pair.sign != "=":
        return None
    inner = replace(m, setting=replace(m.setting, context=m.setting.regime.context, regime=None))
    lost = lost_at_rest(inner, evidence(inner)[1])
    return smallness.in_regime(m, lambda _: lost) if lost is not None else None


def _first(rules: Sequence[Rule], m: Matter) -> Decision:
    for rule in rules:
        decision = rule(m)
        if decision is not None:
            # Before the rules that end the list the writer's own lines have been asked already.
            decision = starting.granted_from_rest(amounts_granted(logarithms.with_their_domain(decision, m), m), m)
            return decision if rule in AFTERWARDS else _unless_carried(decision, m)
    raise AssertionError("the last rule decides everything")


def _unless_carried(decision: Decision, m: Matter) -> Decision:
    """A rule that refuses or gives up, or takes a line for want of support, knows the true context only; the writer's
    own may still bear the line out."""
    unsupported = decision.verdict.code in ("taken.start", "taken.law") and not m.fresh
    if not m.setting.broken or not (
            unsupported or decision.verdict.standing in (Standing.FAILS, Standing.UNDECIDED)):
        return decision
    own = (rule(m) for rule in OWN)
    return next((d for d in own if d is not None), decision)
