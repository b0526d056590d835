"""Does a pair of sides follow? The rules, asked in turn; the first that knows decides.

Cheap and certain first: the states of the context. A rule returns a decision or None; none of them ever
answers "follows" for what the states or a proof have not shown, nor "does not follow" without a state.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states import probing
from derive.states.context import Context, shorthand_out
from derive.states.evidence import Evidence, weigh
from derive.states.projection import Cloud
from derive.states.setting import Case, Decision, Matter
from derive.states.showing import shown_state
from derive.states.states import freedom
from derive.steps import (
    antiderivatives,
    carrying,
    conditions,
    courses,
    customary,
    defining,
    fresh,
    greatest,
    identities,
    laws,
    limits,
    motion,
    numeric,
    proportion,
    quick,
    redefined,
    smallness,
    starting,
    stationary,
    staying,
    substituting,
    totals,
)
from derive.steps.divisions import can_vanish
from derive.steps.kinematics import linked
from derive.steps.oscillation import with_meaning
from derive.terms.term import Var

Rule = Callable[[Matter], Decision | None]


# --- evidence ---------------------------------------------------------------------------------------------


def evidence(m: Matter, context: Context | None = None, extra: Sequence[object] = ()) -> tuple[list[Evidence], Cloud]:
    """What the states of a context say of every part of a pair."""
    context = context or m.context
    parts = [(context.resolved(a), context.resolved(b)) for a, b in m.lowered.parts]
    cloud = m.setting.states.of(context, [t for part in parts for t in part], extra)  # type: ignore[arg-type]
    return [weigh(a, b, m.pair.sign, cloud) for a, b in parts], cloud


# --- rules --------------------------------------------------------------------------------------------------


def no_states(m: Matter) -> Decision | None:
    """Nothing satisfies the context: everything would follow, so nothing is claimed."""
    _, cloud = evidence(m)
    if cloud.size:
        return None
    verdict = Verdict(Standing.UNDECIDED, code="context.contradiction")
    return Decision(verdict, m.setting)


def holds_at_states(m: Matter) -> Decision | None:
    """Every state of the context satisfies the pair."""
    if m.lowered.primitives:
        return None
    found, cloud = evidence(m)
    if not all(e.all_hold for e in found):
        return None
    divided = can_vanish(m.lowered.parts, m.context, cloud) if m.pair.sign == "=" else None
    if divided is not None:
        inside = customary.with_sizes(m)
        decision = holds_at_states(inside) if inside is not None else None
        if inside is not None and decision is not None:
            return customary.said(decision, inside)
        return conditions.decided(m, conditions.Condition(divided, "≠"), cloud)
    decision = follows(m, m.context, cloud)
    return None if decision.verdict.support != "proved" and _broken_on_purpose(m) is not None else decision


def _broken_on_purpose(m: Matter) -> Context | None:
    """States at given bounds, or pushed over the line's own, that satisfy the context and not an inequality."""
    if m.pair.sign not in probing.SIGNS:
        return None
    return probing.counterexample(m.lowered.parts, m.pair.sign, m.context, m.setting.states)


def follows(
    m: Matter, context: Context, cloud: Cloud, code: str = "follows.plain", extra: Sequence[object] = ()
) -> Decision:
    """The verdict on a pair that holds at every state, with its proof where one is found."""
    verdict = Verdict(Standing.FOLLOWS, points=cloud.size, code=code)
    parts = m.lowered.parts
    certificates = None
    if m.setting.proofs:
        certificates = proof_of(context, parts, m.pair.sign, extra, cloud=cloud)  # type: ignore[arg-type]
    verdict = with_proof(verdict, certificates, m.cites)
    after = m.context.adding(*m.premises(implied=True))
    if not stationary.said_of_extreme(m):
        after = defining.with_definition(after, m)
    return Decision(verdict, m.setting.within(after))


NEXT = 2  # lines below: an empty one may stand between


def holds_in_open_case(m: Matter) -> Decision | None:
    """The pair holds in the case or at the instant that is being spoken of (the latest first)."""
    goes_on = any(w in fresh.CLAIMING for w in m.words.lower().replace(",", " ").split())
    for back, case in enumerate(reversed(m.setting.cases)):
        below = back == 0 and (goes_on or (case.drawn and m.number <= case.line + NEXT))
        if case.line not in (0, m.number) and not below:
            continue
        decision = in_case(m, case) or _in_case_by_custom(m, case)
        if decision is not None:
            return decision
    return None


def _in_case_by_custom(m: Matter, case: Case) -> Decision | None:
    """`h = u²/(2 g)` in the case v = 0, where nobody has said that g is more than nothing."""
    inside = customary.with_sizes(m) if case.premises else None
    decision = in_case(inside, case) if inside is not None else None
    return customary.said(decision, inside) if decision is not None and inside is not None else None


def follows_in_open_case_if(m: Matter) -> Decision | None:
    """`if h = 0, R = v² sin 2α/g`: what holds of the case spoken of under a further condition."""
    inside = _inside_open_case(m)
    found = conditions.follows_if(inside) if inside is not None else None
    return None if found is None else replace(found, after=m.setting)


def refuted_in_open_case(m: Matter) -> Decision | None:
    """A line that holds nowhere in the case spoken of, where that ties its names: it starts nothing."""
    inside = _inside_open_case(m) if m.setting.cases else None
    if inside is None or m.pair.sign != "=":
        return None
    found, cloud = evidence(inside)
    if not cloud.size or not any(e.all_fail for e in found):
        return None
    own = [v for v in m.unknowns if v.role == "value"]
    states = m.setting.states
    return fails(m) if freedom(inside.context, own, (), states) < freedom(m.context, own, (), states) else None


def _inside_open_case(m: Matter) -> Matter | None:
    """The pair in the latest supposition that is open, where anything is left there."""
    case = next((c for c in reversed(m.setting.cases) if c.premises and c.line in (0, m.number)), None)
    if case is None:
        return None
    context = m.context.loosened(case.loose).adding(*case.premises)
    if not m.setting.states.any(context).size:
        return None
    return replace(m, setting=replace(m.setting.within(context), cases=()))


def in_case(m: Matter, case: Case) -> Decision | None:
    if case.premises:
        context = m.context.loosened(case.loose)
        found, cloud = evidence(m, context, case.premises)
        if not cloud.size or not all(e.all_hold for e in found):
            return None
        verdict = with_proof(
            Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.in_case", facts=(("case", case.words),)),
            proof_of(context, m.lowered.parts, m.pair.sign, case.premises, cloud=cloud) if m.setting.proofs else None,
            (case.words,))
        return Decision(verdict, m.setting)
    if any(v.role == "value" and not v.order and case.key.startswith(f"{v.name}=") for v in m.unknowns):
        return None  # a line with t in it is not only about the instant t = 0
    moved = at_instant(m, case.key)
    if moved.lowered.parts == m.lowered.parts:
        return None  # nothing in it depends on where it is said
    found, cloud = evidence(moved)
    if not cloud.size or not all(e.all_hold for e in found):
        return None
    verdict = with_proof(
        Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.at", facts=(("case", case.words),)),
        proof_of(moved.context, moved.lowered.parts, m.pair.sign, cloud=cloud) if m.setting.proofs else None,
        (case.words,))
    after = moved.context.adding(*(replace(p, always=False) for p in moved.premises(implied=True)))
    return Decision(verdict, m.setting.within(after))


def at_instant(m: Matter, key: str) -> Matter:
    """The same pair said of one named instant."""
    c = m.context
    # At `α = δ` a shorthand for something of α is not itself a function of α: it has to be written out.
    seen = shorthand_out if not c.world.is_changing(Var(key.split("=")[0])) else (lambda t, _: t)
    parts = tuple(
        (c.placed(seen(c.resolved(a), c.world), key), c.placed(seen(c.resolved(b), c.world), key))
        for a, b in m.lowered.parts)
    return replace(m, lowered=replace(m.lowered, parts=parts), at=key)


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
    return None if inside is None or not evidence(inside)[1].size else judge(inside)


def by_extreme(m: Matter) -> Decision | None:
    """`z_max = …` is decided by what the word means, where z is known."""
    inside = greatest.with_meaning(m)
    return None if inside is None or evidence(inside)[0][0].mixed else judge(inside)


def by_custom(m: Matter) -> Decision | None:
    """A line of a working without givens is decided by what everybody takes for granted, where it needs that."""
    for inside in customary.views(m):
        decision = next((d for rule in CUSTOMARY if (d := rule(inside)) is not None), None)
        if decision is not None:
            return _still_a_value(m, customary.said(decision, inside))
        if customary.binding(m, inside):
            return undecided(m) if m.setting.hopeful else numeric.wrong_number(inside) or fails(inside)
    return None


def _still_a_value(m: Matter, decision: Decision) -> Decision:
    """`T = 2.01 s` is right with the usual g, and it may be what g is going to be found from: that is left open."""
    value = quick.value_of_a_name(m) if customary.usual_g(decision) else None
    return replace(decision, after=value.after) if value is not None else decision


def by_values_put_in(m: Matter) -> Decision | None:
    """`v = a t = 4·5` where nobody has given t: taken for the values of the task, if it holds with the others."""
    view = substituting.with_values_put_in(m, lambda inside: any(rule(inside) is not None for rule in PUT_IN))
    return substituting.said(view) if view is not None else None


def fails(m: Matter) -> Decision | None:
    """Some state of the context does not satisfy the pair: that state is shown."""
    before, context = m.setting, linked(m.context, m.setting)
    if context is not None and m.setting.states.any(context).size:
        m = replace(m, setting=before.within(context))  # states of one motion from instant to instant
    inside = _inside_open_case(m)
    if inside is not None and any(e.fails.any() for e in evidence(inside)[0]):
        m = inside  # what is said of a case is refuted there
    found, cloud = evidence(m)
    bad = next((k for k, e in enumerate(found) if e.fails.any()), None)
    if bad is None:
        return _fails_on_purpose(m)
    left, right = m.lowered.parts[bad]
    strength = "unsupported"
    if m.pair.sign == "=" and not found[bad].holds.any() and (
        not m.setting.states.any(m.context, m.premises(implied=False)).size
    ):
        strength = "contradicts"
    state = shown_state(m.setting, left, right, m.pair.sign)
    verdict = Verdict(
        Standing.FAILS, strength=strength, state=state, points=cloud.size,  # type: ignore[arg-type]
        code="fails.contradicts" if strength == "contradicts" else "fails.state",
    )
    return Decision(verdict, replace(before, broken=(*before.broken, *carrying.writers_own(m))))


def _fails_on_purpose(m: Matter) -> Decision | None:
    """An inequality that fails only at states that were sought for it."""
    narrowed = _broken_on_purpose(m)
    if narrowed is None:
        return None
    shown = (shown_state(m.setting.within(narrowed), a, b, m.pair.sign) for a, b in m.lowered.parts)
    state = next((s for s in shown if s is not None), None)
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="unsupported", state=state, points=1, code="fails.state")
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def carried(m: Matter) -> Decision | None:
    """The pair follows from the writer's own broken lines."""
    return carrying.carried(m, WRITERS)


def undecided(m: Matter) -> Decision | None:
    return Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), m.setting)


# After a break: what follows from the writer's own lines, for a line that does not hold.
OWN: tuple[Rule, ...] = (carried, redefined.carried_by_definition, numeric.carried_number)

RULES: tuple[Rule, ...] = (
    no_states,
    antiderivatives.wrong_antiderivative,
    conditions.lost_at_an_edge,
    holds_at_states,
    courses.general_solution,
    staying.kept,
    holds_in_open_case,
    stationary.taken,
    stationary.slope_of_one_form,
    numeric.right_to_its_figures,
    proportion.proportional,
    totals.total,
    totals.over_the_body,
    motion.integrated,
    by_constant_rates,
    by_meaning,
    by_extreme,
    by_custom,
    fresh.new_name,
    smallness.right_to_its_order,
    quick.bound_of_a_name,
    conditions.kept_apart,
    conditions.turned_about,
    conditions.follows_if,
    follows_in_open_case_if,
    quick.side_of_a_root,
    quick.value_of_a_name,
    limits.of_known_limit,
    by_values_put_in,
    identities.no_identity,
    refuted_in_open_case,
    staying.strays,
    fresh.starting_relation,
    laws.law,
    starting.start_of_motion,
    numeric.from_rounded_values,
    *OWN,
    numeric.wrong_number,
    fails,
    undecided,
)

# What is asked under a custom: only what shows that the line holds, or that its number is off.
CUSTOMARY: tuple[Rule, ...] = (
    holds_at_states, numeric.right_to_its_figures, conditions.follows_if, numeric.from_rounded_values)

# What is asked with values put in.
PUT_IN: tuple[Rule, ...] = (holds_at_states, numeric.right_to_its_figures, numeric.from_rounded_values)

# What is asked of the writer's own view after a break: all that shows that a pair follows, nothing that takes it.
WRITERS: tuple[Rule, ...] = (
    holds_at_states,
    courses.general_solution,
    staying.kept,
    holds_in_open_case,
    proportion.proportional,
    motion.integrated,
    by_constant_rates,
    by_meaning,
    smallness.right_to_its_order,
    conditions.follows_if,
    limits.of_known_limit,
)

# Inside an approximation the exact context may still decide outright; everything else is asked of the
# context kept to its order first.
EXACT: tuple[Rule, ...] = (holds_at_states, holds_in_open_case)
AFTERWARDS: tuple[Rule, ...] = (
    *OWN, numeric.wrong_number, fails, undecided,
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
    to_order = smallness.right_to_its_order(m)
    if to_order is not None:
        return _unless_carried(to_order, m)
    return smallness.in_regime(m, judge) or _first((undecided,) if m.setting.hopeful else AFTERWARDS, m)


def _first(rules: Sequence[Rule], m: Matter) -> Decision:
    for rule in rules:
        decision = rule(m)
        if decision is not None:
            # Before the rules that end the list the writer's own lines have been asked already.
            return decision if rule in AFTERWARDS else _unless_carried(decision, m)
    raise AssertionError("the last rule decides everything")


def _unless_carried(decision: Decision, m: Matter) -> Decision:
    """A rule that refuses or gives up knows the true context only; the writer's own may still bear the line out."""
    if decision.verdict.standing not in (Standing.FAILS, Standing.UNDECIDED) or not m.setting.broken:
        return decision
    own = (rule(m) for rule in OWN)
    return next((d for d in own if d is not None), decision)
