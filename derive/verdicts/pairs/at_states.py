"""What the states of the context say by themselves: nothing where there are none, or that a pair follows."""

from __future__ import annotations

from derive.proof.support import proof_of, with_proof
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.projection import Cloud
from derive.states.setting import Decision, Matter
from derive.steps.cases import lost_cases
from derive.steps.changing import trials
from derive.steps.customs import amounts, customary
from derive.steps.customs.divisions import can_vanish
from derive.steps.extremes import stationary
from derive.steps.letters import defining
from derive.verdicts.pairs.refuting import broken_on_purpose
from derive.verdicts.pairs.weighing import evidence


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
    if divided is not None and not m.setting.states.any(m.context, (Premise("", divided, "=", False),)).size:
        divided = None
    if divided is not None:
        inside = customary.with_sizes(m)
        decision = holds_at_states(inside) if inside is not None else None
        if inside is not None and decision is not None:
            return customary.said(decision, inside)
        return lost_cases.decided(m, lost_cases.Condition(divided, "≠"), cloud)
    decision = follows(m, m.context, cloud)
    if decision.verdict.support != "proved" and (lost := lost_at_rest(m, cloud)) is not None:
        return lost
    return None if decision.verdict.support != "proved" and broken_on_purpose(m) is not None else decision


def lost_at_rest(m: Matter, cloud: Cloud) -> Decision | None:
    """`ω² = k/m` of a trial y = A cos ω t + B sin ω t: unless nothing moves, which states are seldom met by chance."""
    rest = trials.at_rest(m) if m.pair.sign == "=" else None
    if rest is None:
        return None
    parts = [(rest[0].resolved(a), rest[0].resolved(b)) for a, b in m.lowered.parts]
    still = rest[0].states([t for part in parts for t in part])  # sought anew: those known are of what moves
    if not any(weigh(a, b, "=", still).fails.any() for a, b in parts):
        return None
    return lost_cases.decided(m, lost_cases.Condition(rest[1], "≠"), cloud, at=rest[0])


def follows(m: Matter, context: Context, cloud: Cloud) -> Decision:
    """The verdict on a pair that holds at every state, with its proof where one is found."""
    verdict = Verdict(Standing.FOLLOWS, points=cloud.size, code="follows.plain")
    certificates = proof_of(context, m.lowered.parts, m.pair.sign, cloud=cloud) if m.setting.proofs else None
    verdict = with_proof(verdict, certificates, m.cites)
    there = stationary.said_of_extreme(m)
    after = m.context.adding(*m.premises(implied=True, always=not there))
    if not there:
        after = defining.with_definition(after, m)
    return Decision(verdict, m.setting.within(after))


def amounts_granted(decision: Decision, m: Matter) -> Decision:
    """No condition is asked that only says that a force, a mass or a drag is there, or that an angle is acute
    (`P = W/(cos α + μ sin α)`)."""
    if decision.verdict.standing is not Standing.FOLLOWS_IF:
        return decision
    of_an_angle = any(name in decision.verdict.condition for name in ("sin ", "cos ", "tan ", "sin(", "cos(", "tan("))
    for acute in (False, True) if of_an_angle else (False,):
        inside = amounts.with_amounts(m, acute)
        granted = holds_at_states(inside) if inside is not None else None
        if inside is not None and granted is not None and granted.verdict.standing is Standing.FOLLOWS:
            return customary.said(granted, inside)
    return decision
