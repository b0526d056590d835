"""Claims: taken apart into pairs, each judged in the setting left by the one before it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from derive.notation.tree import Claim, Expr, Integral, Name, Relation
from derive.records import Standing, Verdict
from derive.states import moving
from derive.states.context import Premise
from derive.states.said import Outcome, Source, matter, moved_on
from derive.states.setting import Decision, Setting
from derive.steps.changing import trials
from derive.steps.changing.given_courses import as_function
from derive.steps.extremes import stationary
from derive.steps.integrals import totals, ways
from derive.steps.letters.defining import with_definition
from derive.steps.limiting import limits
from derive.terms.claims import Pair, alternatives, pairs, without_bare_integrals, without_limits
from derive.terms.lowering import lower
from derive.terms.measured import measured
from derive.terms.term import Term, sub, variables
from derive.verdicts.claims.branching import either
from derive.verdicts.claims.on_the_way import led_on_by
from derive.verdicts.pairs.judge import judge

# What a course comes to without its trial, and what the trial lets pass of it then.
_LENIENT = {Standing.FAILS: (Standing.TAKEN, Standing.UNDECIDED), Standing.TAKEN: (Standing.TAKEN,)}


def decide_claim(claim: Claim, setting: Setting, source: Source, word: str = "") -> Outcome:
    """The verdicts on a claim, one a pair of its sides, and the setting after it."""
    wrong = _wrongly_spelt_out(claim, setting, source)
    if wrong is not None:
        return (wrong.verdict,), wrong.after
    typed, claim = claim, without_bare_integrals(claim, setting.context.world)
    if claim is not typed and isinstance(typed, Relation):
        whole = _over_a_way(typed, setting, source)
        if whole is not None:
            return whole
    options = alternatives(claim)
    if len(options) > 1:
        value = measured(claim)
        as_value = decide_claim(value, setting, source, word) if value is not None else None
        if as_value is not None and not any(v.standing is Standing.FAILS for v in as_value[0]):
            return as_value
        decision = either(options, setting, source, word)
        if as_value is not None and decision.verdict.standing is Standing.FAILS:
            return as_value
        return (replace(decision.verdict, span=claim.span),), decision.after
    found, before = [], [setting]
    for pair in pairs(options[0]):
        if isinstance(options[0], Relation):
            pair = stationary.of_chain(pair, options[0], setting.context.world)
        if pair.sign == "→":
            decision = limits.tends(pair, None, setting, source)
        else:
            decision = _judged_anew(pair, setting, source, word)
        found.append(replace(decision.verdict, span=pair.span))
        setting = moved_on(setting, decision.after)
        before.append(setting)
    if len(found) > 1 and all(v.standing is Standing.FOLLOWS for v in found):
        return _ends_joined(options[0], tuple(found), setting, source)
    led = led_on_by(options[0], found, lambda k, whole: judge(matter(whole, before[k], source)))
    return led or (tuple(found), _worked_out(options[0], found, setting, source))


def _wrongly_spelt_out(claim: Claim, setting: Setting, source: Source) -> Decision | None:
    """`I = ∫ x² dm = ∫_0^L x λ dx`: the break of what is said there of the integral without limits."""
    for pair in pairs(claim) if isinstance(claim, Relation) else ():
        if isinstance(pair.left, Integral) and without_limits(pair.left) and not without_limits(pair.right):
            found = totals.over_the_body(matter(pair, setting, source))
            if found is not None and found.verdict.standing is Standing.FAILS:
                return replace(found, verdict=replace(found.verdict, span=pair.span))
    return None


def _over_a_way(claim: Relation, setting: Setting, source: Source) -> Outcome | None:
    """`J = ∫ F dt = 2 F0 τ/π`: what the integral without limits comes to over a whole way, right or wrong."""
    *before, integral, last = claim.sides
    if len(before) != 1 or not isinstance(before[0], Name) or not isinstance(integral, Integral):
        return None
    decision = ways.over_a_way(matter(Pair(integral, last, "=", claim.span, head=before[0]), setting, source))
    if decision is None:
        return None
    named = Relation((before[0], last), ("=",), claim.carries_on, span=claim.span)
    verdicts, after = decide_claim(named, setting, source)
    if decision.verdict.standing is Standing.FAILS:
        own = matter(next(pairs(named)), setting, source).premises(implied=False)
        after = replace(setting, broken=(*setting.broken, *own))
    elif any(v.standing is not Standing.TAKEN for v in verdicts):
        return verdicts, after
    return (*verdicts[:-1], *(v for v in verdicts[-1:] if v.standing is Standing.TAKEN), replace(
        decision.verdict, span=claim.span)), after


def _judged_anew(pair: Pair, setting: Setting, source: Source, word: str) -> Decision:
    """A course given to a name that has so far only been given one as a trial is judged without that first: what is
    wrong either way is wrong for the motion, and nothing to be taken."""
    freed = trials.left_behind(pair, setting)
    anew = judge(matter(pair, freed, source, word)) if freed is not None else None
    if anew is not None and anew.verdict.standing is Standing.FOLLOWS:
        return anew
    decision = judge(matter(pair, setting, source, word))
    lenient = _LENIENT.get(anew.verdict.standing, ()) if anew is not None else ()
    if anew is not None and decision.verdict.standing in lenient:
        return anew
    return decision


def _worked_out(claim: Claim, verdicts: Sequence[Verdict], setting: Setting, source: Source) -> Setting:
    """`x = ∫ v dt = F + D` brings x in: as what the integral comes to, for by itself it has no value."""
    if not isinstance(claim, Relation) or len(verdicts) < 2 or set(claim.signs) != {"="}:
        return setting
    taken, *rest = verdicts
    first, last = claim.sides[0], claim.sides[-1]
    told = [v for v in rest if v.code == "taken.start"]  # `∫ r² dm = ∫_0^L r² (M/L) dr`, which tells what dm is
    if taken.code not in ("taken.definition", "taken.start") or any(
            (v.standing is not Standing.FOLLOWS and v not in told) or _is_of_a_case(v) for v in rest):
        return setting
    if not without_limits(claim.sides[1]) or without_limits(last):
        return _with_ends_joined(first, last, setting, source)
    open_ended = setting.context.world.primitives
    kept = tuple(
        p for p in setting.context.premises
        if p.source != source.number or p.implied or not any(v in open_ended for v in variables(p.term)))
    world = setting.context.world
    term = lower(last, world)
    if isinstance(first, Name) and isinstance(term, Term) and world.moving and world.changes(term):
        world = replace(world, moving=world.moving | {first.ident})
    context = replace(setting.context.knowing(world), premises=kept)
    m = matter(Pair(first, last, "=", claim.span), setting.within(context), source)
    known = as_function(m, with_definition(m.context.adding(*m.premises(implied=False, kind="definition")), m))
    return m.setting.within(moving.settled(known, m.setting.states))


def _ends_joined(claim: Claim, verdicts: tuple[Verdict, ...], setting: Setting, source: Source) -> Outcome:
    """Of `x = … = …` that holds throughout, also that the first side is the last: later lines look for it. Past an
    integral without limits that is a claim of its own: `x = ∫ v dt = ½ a t² + C` has a constant, or misses one."""
    if not isinstance(claim, Relation) or set(claim.signs) != {"="} or any(map(_is_of_a_case, verdicts)):
        return verdicts, setting
    first, last = claim.sides[0], claim.sides[-1]
    if without_limits(claim) and not (without_limits(first) or without_limits(last)):
        decision = judge(matter(Pair(first, last, "=", claim.span), setting, source))
        if decision.verdict.standing is Standing.TAKEN:
            return verdicts, moved_on(setting, decision.after)  # `I = ∫ x² dm = m L²/3` says what I is
        span = verdicts[-1].span
        return (*verdicts[:-1], replace(decision.verdict, span=span)), moved_on(setting, decision.after)
    return verdicts, _with_ends_joined(first, last, setting, source)


def _is_of_a_case(v: Verdict) -> bool:
    """`F = P/v = 3 kN` below `at v = 20 m/s: D = 240 N`: what is so there is no value for the page."""
    return "case" in dict(v.facts)


def _with_ends_joined(first: Expr, last: Expr, setting: Setting, source: Source) -> Setting:
    ends = tuple(lower(e, setting.context.world) for e in (first, last))
    if not isinstance(ends[0], Term) or not isinstance(ends[1], Term):
        return setting
    joined = Premise(source.label, sub(ends[0], ends[1]), "=", True, True, source.number)
    return setting.within(setting.context.adding(joined))
