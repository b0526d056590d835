"""Alternatives, `x = ±a`, `u = 0 or u = v`: every state must satisfy at least one of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import islice, product

import numpy as np
from numpy.typing import NDArray

from derive.notation.tree import Claim
from derive.proof.support import proof_of, with_proof
from derive.records import Standing, State, Verdict
from derive.states.consistency import consistent
from derive.states.context import Context, Premise, tied_names
from derive.states.evidence import weigh
from derive.states.said import Source, matter
from derive.states.setting import Decision, Matter, Setting
from derive.states.showing import shown_state
from derive.steps.cases.conditions import follows_if
from derive.steps.customs import customary
from derive.steps.numbers import numeric
from derive.terms.claims import LoweredPair, lower_pair, pairs
from derive.terms.term import ZERO, Term, mul, sub
from derive.terms.world import TIME
from derive.verdicts.pairs.open_cases import inside_open_case
from derive.verdicts.pairs.said_there import at_instant

# Alternatives of several parts can fail in many ways; a handful shows one that does.
_MOST_WAYS = 16
_SOME = 4

Mask = NDArray[np.bool_]
Options = list[list[LoweredPair]]  # the pairs of each alternative


def either(options: tuple[Claim, ...], setting: Setting, source: Source, word: str) -> Decision:
    """`x = ±a`, `u = 0 or u = v`: every state must satisfy at least one alternative."""
    context = setting.context
    contexts = [context] + ([setting.regime.context] if setting.regime else [])
    lowered = [[lower_pair(p, context.world) for p in pairs(o)] for o in options]
    for c in contexts:
        holds, fails, size = any_of(lowered, c, setting)
        if size and holds.sum() >= max(4, size // 4) and not fails.any():
            return _either_follows(lowered, c, setting, source, size, c is not context)
    new = matter(next(pairs(options[0])), setting, source, word)
    loose = {v.name for v in new.unknowns} - tied_names(context) - {TIME}
    if loose:
        premise = Premise(source.label, product_of(lowered), "=", True, False, source.number)
        verdict = Verdict(Standing.TAKEN, code="taken.start", facts=(("name", ", ".join(sorted(loose))),))
        return Decision(verdict, setting.within(context.adding(premise)))
    matters = [matter(next(pairs(option)), setting, source) for option in options]
    return (
        _either_rounded(lowered, matters, setting, source) or _either_in_case(lowered, new, source)
        or _either_then(lowered, matters, setting, source) or _either_by_custom(lowered, new, source)
        or _either_rounded_by_custom(lowered, matters, new, source) or _either_if(lowered, new)
        or _either_fails(lowered, setting, source))


def _either_in_case(lowered: Options, m: Matter, source: Source) -> Decision | None:
    """`F = 0 ⇒ x = 0 or x = k/b`: one of them holds wherever the case does that is being spoken of."""
    inside = inside_open_case(m, beside=True) if m.setting.cases else None
    if inside is None:
        return None
    there = inside.setting
    holds, _, size = any_of(lowered, there.context, there)
    if not size or not holds.all():
        return None
    decision = _either_follows(lowered, there.context, there, source, size, approximate=False)
    facts = (("case", m.setting.cases[-1].words),)
    return Decision(replace(decision.verdict, code="follows.in_case", facts=facts), m.setting)


def _either_then(lowered: Options, matters: Sequence[Matter], setting: Setting, source: Source) -> Decision | None:
    """`t = 0.99 s or t = 3.09 s` below `y = 15: 4.9 t² - 20 t + 15 = 0`: one of them is right for the moment that is
    being spoken of."""
    case = setting.cases[-1] if setting.cases else None
    if case is None or not case.key or case.line not in (0, source.number):
        return None
    there = [at_instant(m, case.key) for m in matters]
    if all(a.lowered.parts == b.lowered.parts for a, b in zip(there, matters, strict=True)):
        return None
    placed = [[m.lowered, *option[1:]] for m, option in zip(there, lowered, strict=True)]
    holds, _, size = any_of(placed, setting.context, setting)
    if size and holds.all():
        decision = _either_follows(placed, setting.context, setting, source, size, approximate=False)
        return replace(decision, verdict=replace(
            decision.verdict, code="follows.at", facts=(("case", case.words),)))
    found = _either_rounded(placed, there, setting, source)
    return found and replace(found, verdict=replace(found.verdict, facts=(("case", case.words),)))


def _either_by_custom(lowered: Options, m: Matter, source: Source) -> Decision | None:
    """`sin θ (ω² R cos θ - g) = 0 → θ = 0 or cos θ = g/(ω² R)`: one of them holds of the angles that are meant."""
    there = inside_open_case(m, beside=True) if m.setting.cases else None
    for view in filter(None, (m, there)):
        for inside in customary.views(view):
            holds, _, size = any_of(lowered, inside.context, m.setting)
            if size >= _SOME and holds.all():
                decision = _either_follows(lowered, inside.context, m.setting, source, size, approximate=False)
                said = customary.said(decision, inside)
                if view is there:
                    facts = (("case", m.setting.cases[-1].words),)
                    return Decision(replace(said.verdict, code="follows.in_case", facts=facts), m.setting)
                outside = _either_follows(lowered, m.context, m.setting, source, size, approximate=False)
                return replace(said, after=outside.after)
    return None


def _either_rounded(
    lowered: Options, matters: Sequence[Matter], setting: Setting, source: Source
) -> Decision | None:
    """`t = 0.99 s or t = 3.09 s`: at every state one of the alternatives is right to its figures."""
    if any(len(option) != 1 for option in lowered):
        return None
    found = [numeric.with_allowance(m, setting.context) for m in matters]
    if not all(found):
        return None
    evidence = [f[0] for f in found if f is not None]
    size = evidence[0].holds.size
    if not size or any(e.holds.size != size for e in evidence) or not np.logical_or.reduce(
            [e.holds for e in evidence]).all():
        return None
    verdict = Verdict(Standing.APPROXIMATES, points=size, support="tested", code="approximates.number",
                      premises=source.cites)
    own = Premise(source.label, product_of(lowered), "=", True, False, source.number)
    return Decision(verdict, replace(setting, rounded=(*setting.rounded, own)))


def _either_rounded_by_custom(
    lowered: Options, matters: Sequence[Matter], m: Matter, source: Source
) -> Decision | None:
    """`2α = 47.4° or 132.6°` below `sin 2α = 0.736`, or `for R = 30 m: sin 2α = 0.736`, of the angles that are
    meant."""
    inside = inside_open_case(m, beside=True) if m.setting.cases else None
    for view in (inside, *customary.views(inside)) if inside is not None else ():
        found = _either_rounded(lowered, matters, view.setting, source)
        if found is not None:
            facts = (("case", m.setting.cases[-1].words),)
            return Decision(replace(found.verdict, facts=facts), m.setting)
    for view in customary.views(m):
        found = _either_rounded(lowered, matters, view.setting, source)
        if found is not None:
            return customary.said(replace(found, after=replace(m.setting, rounded=found.after.rounded)), view)
    return None


def _either_if(lowered: Options, m: Matter) -> Decision | None:
    """The alternatives hold except where some quantity vanishes (`V = 0 or u + v = V`, unless M = 0).

    Not where one of them never holds: a wrong alternative is not the right one under a condition.
    """
    if any(len(option) != 1 or len(option[0].parts) != 1 or option[0].sign != "=" for option in lowered):
        return None
    if not all(any_of([option], m.context, m.setting)[0].any() for option in lowered):
        return None
    return follows_if(replace(m, lowered=LoweredPair(((product_of(lowered), ZERO),), "=")))


def any_of(lowered: Options, context: Context, setting: Setting) -> tuple[Mask, Mask, int]:
    """Where some alternative holds, where every one fails, and at how many states this was looked at."""
    parts = [
        [(context.resolved(a), context.resolved(b), low.sign) for low in option for a, b in low.parts]
        for option in lowered
    ]
    cloud = setting.states.of(context, [t for option in parts for a, b, _ in option for t in (a, b)], count=80)
    holds, fails = np.zeros(cloud.size, dtype=bool), np.ones(cloud.size, dtype=bool)
    for option in parts:
        found = [weigh(a, b, sign, cloud) for a, b, sign in option]
        holds |= np.logical_and.reduce([e.holds for e in found])
        fails &= np.logical_or.reduce([e.fails for e in found])
    return holds, fails, cloud.size


def product_of(lowered: Options) -> Term:
    """Zero exactly where one of the alternatives holds (each by its first pair)."""
    return mul(*(sub(*option[0].parts[0]) for option in lowered))


def _either_follows(
    lowered: Options, context: Context, setting: Setting, source: Source, size: int, approximate: bool
) -> Decision:
    whole = product_of(lowered)
    single = all(len(option) == 1 for option in lowered)
    standing = Standing.APPROXIMATES if approximate else Standing.FOLLOWS
    verdict = Verdict(standing, points=size, code="approximates.order" if approximate else "follows.plain")
    certificates = proof_of(context, [(whole, ZERO)], "=") if single and setting.proofs else None
    verdict = with_proof(verdict, certificates, source.cites)
    after = context.adding(Premise(source.label, whole, "=", True, True, source.number)) if single else context
    if approximate and setting.regime is not None:
        return Decision(verdict, replace(setting, regime=replace(setting.regime, context=after)))
    return Decision(verdict, setting.within(after))


def _either_fails(lowered: Options, setting: Setting, source: Source) -> Decision:
    whole = product_of(lowered)
    own = Premise(source.label, whole, "=", True, False, source.number)
    if setting.broken:
        view = consistent(setting.context, setting.broken[-1:], setting)
        holds, fails, size = any_of(lowered, view, setting)
        if size and holds.any() and not fails.any():
            from_line = setting.broken[-1].source
            verdict = Verdict(Standing.CARRIED, code="carried.from", facts=(("line", str(from_line)),),
                              carried_from=from_line)
            return Decision(verdict, replace(setting, broken=(*setting.broken, own)))
    inside = setting.in_open_case(source.number) if setting.cases else None
    state = (_failing_state(lowered, inside) if inside is not None else None) or _failing_state(lowered, setting)
    verdict = Verdict(Standing.FAILS if state else Standing.UNDECIDED, strength="unsupported", state=state,
                      code="fails.alternatives" if state else "undecided.budget")
    return Decision(verdict, replace(setting, broken=(*setting.broken, own)))


def _failing_state(lowered: Options, setting: Setting) -> State | None:
    """A state in which no alternative holds: some part of each fails there."""
    options = [[part for low in option for part in low.parts] for option in lowered]
    ways = islice(product(*options), _MOST_WAYS)
    states = (shown_state(setting, *first, "=", others=others) for first, *others in ways)
    return next((state for state in states if state is not None), None)
