"""A claim that is said of a case, decided there: in it, in it and the one that is open already, or as a limit where
nothing is left of it."""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Claim
from derive.records import Standing, Verdict
from derive.states.said import Source, matter
from derive.states.setting import Case, Decision, Matter, Setting
from derive.steps.brought_in import moments
from derive.steps.changing import trials
from derive.steps.letters.defining import defined_by, defining
from derive.steps.limiting import limits
from derive.steps.numbers.numeric import right_to_its_figures
from derive.steps.small import smallness
from derive.terms.claims import Pair
from derive.verdicts.cases.limiting import tends_to
from derive.verdicts.claims.suppositions import gives_values, is_at_an_end
from derive.verdicts.pairs.at_states import holds_at_states
from derive.verdicts.pairs.customs import by_custom
from derive.verdicts.pairs.judge import judge
from derive.verdicts.pairs.moments_found import one_of_the_moments
from derive.verdicts.pairs.open_cases import (
    granted_there,
    holds_in_open_case,
    in_both_cases,
    in_case,
    knowing,
    next_below,
    tell_times,
    without_what_is_apart,
)
from derive.verdicts.pairs.refuting import off_its_course
from derive.verdicts.pairs.said_there import at_instant
from derive.verdicts.pairs.still_rounded import still_rounded


def decided_under(pair: Pair, where: Claim, case: Case, setting: Setting, source: Source) -> Decision:
    """A claim said of a case on its own line: decided in the case; where nothing is left there, as a limit."""
    if pair.sign == "→":
        return tends_to(pair, where, setting, source)
    freed = trials.left_behind(pair, setting)
    if freed is not None:
        anew = decided_under(pair, where, case, freed, source)
        if anew.verdict.standing is Standing.FOLLOWS:
            return anew
    m = matter(pair, setting, source, "under")
    decision = in_case(m, case) or in_both_cases(m) or holds_in_open_case(m) or one_of_the_moments(m, case)
    decision = decision or moments.value_then(m)
    decision = decision or smallness.in_regime(m, lambda inner: _in_either(inner, case))
    if decision is not None:
        return decision
    context = case.loosening(setting.context)
    if not setting.states.of(context, sum(m.lowered.parts, ()), case.premises).size:
        context = without_what_is_apart(context, m)
    if not setting.states.of(context, sum(m.lowered.parts, ()), case.premises).size:
        limit = limits.tends(pair, where, setting, source)
        if limit.verdict.standing in (Standing.FOLLOWS, Standing.FAILS):
            return limit
        anyway = judge(m)  # what fails elsewhere need not fail there
        elsewhere = anyway.verdict.standing is Standing.FAILS and anyway.verdict.state is not None
        return limit if elsewhere else anyway
    inside = context.adding(*case.premises)
    there = replace(_in_regime_too(setting.within(inside), case), cases=(), rounded=still_rounded(setting, inside))
    spoken = _spoken_there(m, case, there)
    decision = spoken or _judged_there(m, case, there)
    if decision.verdict.standing is Standing.TAKEN:
        return off_its_course(m, where) or _taken_there(decision, m, case)
    if decision.verdict.code == "fails.contradicts" and is_at_an_end(pair.relation(), there, source):
        return Decision(Verdict(Standing.TAKEN, code="taken.case"), setting)
    if decision.verdict.standing is Standing.FAILS:
        own = m.premises(implied=False)
        return Decision(decision.verdict, replace(setting, broken=(*setting.broken, *case.premises, *own)))
    if decision.verdict.code == "follows.general_solution":
        return decision  # what is found of its motion the page goes on with
    return spoken or _gone_on_with(decision, m, case)


def _taken_there(decision: Decision, m: Matter, case: Case) -> Decision:
    """What nothing in the case supports is taken as on the page at large; `power at 0.4 m/s: P = F v`, whose P nobody
    has met, as what names it."""
    if case.anew:
        return Decision(decision.verdict, m.setting)
    anywhere = judge(m)
    valued = anywhere.verdict.standing is Standing.FAILS and gives_values(case.where)
    named = _naming(m, m.setting) if valued else m.setting
    return anywhere if named is m.setting else Decision(decision.verdict, named)


def _gone_on_with(decision: Decision, m: Matter, case: Case) -> Decision:
    """What holds in a case under a further condition (`x = 0: sin θ = c/v`, if t ≠ 0) is the part of it that the page
    goes on with."""
    part = decision.verdict.standing is Standing.FOLLOWS_IF
    return Decision(decision.verdict, _naming(m, knowing(m, case) if part else m.setting))


def _in_regime_too(there: Setting, case: Case) -> Setting:
    """`for l = 2 m: T = 2.8 s` below `for small θ: …`: what is opened goes on in the case, where anything is left."""
    if there.regime is None:
        return there
    kept = case.loosening(there.regime.context).adding(*case.premises)
    return replace(there, regime=replace(there.regime, context=kept)) if there.states.any(kept).size else there


def _spoken_there(m: Matter, case: Case, there: Setting) -> Decision | None:
    spoken = _in_what_is_spoken_of(m, case, there)
    if spoken is not None and spoken.verdict.standing is Standing.FAILS:
        alone = judge(replace(m, setting=there))  # it is not said of that other case after all
        return spoken if alone.verdict.standing is not Standing.FOLLOWS else None
    return spoken


def _judged_there(m: Matter, case: Case, there: Setting) -> Decision:
    """What the case gives, without a condition that goes without saying in it."""
    inside = replace(m, setting=there)
    decision = judge(inside)
    if decision.verdict.standing is not Standing.FOLLOWS_IF:
        return decision
    return granted_there(m, inside, case) or decision


def _naming(m: Matter, setting: Setting) -> Setting:
    """The setting with a name that a line about a case brings in: `smallest when sin ω t = 1: N_min = …`."""
    found = defined_by(m, set(m.fresh))
    return setting if found is None else setting.within(defining(m, found[0], setting.context))


def _in_either(m: Matter, case: Case) -> Decision:
    """In the case, or in it and the one that is being worked out; else open."""
    open_still = Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), m.setting)
    return in_case(m, case) or in_both_cases(m) or open_still


def _in_what_is_spoken_of(m: Matter, case: Case, there: Setting) -> Decision | None:
    """A claim said of a case, and of the other one or the instant that the page is speaking of already: `for μ = 0.3:
    T = 2.6 P` below `after half a turn φ = π`, `with u² = 5 g L: T = 6 m g` below `at the bottom θ = 0: T = …`."""
    same = {p.term for p in case.premises}
    other = next((
        c for c in reversed(m.setting.cases) if c is not case and not (c.premises and same == {
            p.term for p in c.premises}) and (c.key or _may_be_both(c, there))), None)
    numbers = gives_values(case.where) and other is not None and not other.left
    here = other is not None and other.line == m.number  # `v0 = 0: cos θ = 2/3, θ = 48°` below `leaves when N = 0: …`
    if other is None or tell_times(case, other) or (
            other.line and not numbers and not here and not next_below(m, other)):
        return None
    inside, after = replace(m, setting=there), m.setting
    if other.key:
        inside = at_instant(inside, other.key)
    else:
        inside = replace(m, setting=there.within(other.loosening(there.context).adding(*other.premises)))
        after = replace(after, cases=tuple(case.inside(other) if c is case else c for c in after.cases))
    found = holds_at_states(inside) or right_to_its_figures(inside) or by_custom(inside)
    if found is not None and found.verdict.standing in (Standing.FOLLOWS, Standing.APPROXIMATES):
        return Decision(found.verdict, after)
    return replace(judge(inside), after=m.setting) if here or not (other.line or other.key) else None


def _may_be_both(other: Case, there: Setting) -> bool:
    """May another case be so as well? `c = 2/5` is not `c = 1` too, of which the line above spoke."""
    return bool(there.states.any(other.loosening(there.context).adding(*other.premises)).size)
