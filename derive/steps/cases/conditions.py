"""Lost and extra cases: a line that holds at some states and fails at others, and the condition that tells.

"Follows if" is said only where one simple quantity separates the states exactly: it vanishes at all failing
states and at none of the others, or it has one sign there and the other here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from derive.notation.printed.printing import as_text
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.elimination import cancels
from derive.states.evidence import Evidence, weigh
from derive.states.projection import Cloud
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.states.yielding import loosened
from derive.steps.cases.lost_cases import Condition, assumed, decided
from derive.steps.changing.trials import not_at_rest
from derive.steps.customs.customary import with_sizes
from derive.steps.customs.divisions import within_integral
from derive.terms.calculus import partial
from derive.terms.declared import closed_ends
from derive.terms.functions import Array
from derive.terms.tape import taped
from derive.terms.term import ONE, ZERO, Term, Var, add, neg, postorder, sub, substitute, var, variables
from derive.terms.world import TIME

_ZERO, _NONZERO = 1e-7, 1e-4
_FEW, _MANY = 24, 160
# States wanted on either side of a sign before it is believed to tell them apart: with 400 quantities looked
# at, eight and eight leave one chance in a hundred of a coincidence.
_BRANCH = 8
_OVER_OR_UNDER = ("<", ">", "≤", "≥")


def kept_apart(m: Matter) -> Decision | None:
    """`since w ≠ 0`, `u ≠ v`, where what stands before leaves both: the case the writer goes on with."""
    if m.pair.sign != "≠" or m.lowered.primitives:
        return None
    if not m.setting.states.any(m.context, m.premises(implied=False)).size:
        return None
    facts = (("condition", as_text(m.pair.relation())),)
    verdict = Verdict(Standing.TAKEN, code="taken.apart", facts=facts)
    return Decision(verdict, m.setting.within(m.context.adding(*m.premises(implied=False, kind="condition"))))


def follows_if(m: Matter) -> Decision | None:
    """The pair holds except where some quantity vanishes or has the other sign."""
    if m.lowered.primitives:
        return None
    c = m.context
    parts = [(c.resolved(a), c.resolved(b)) for a, b in m.lowered.parts]
    terms = [t for part in parts for t in part]
    first = m.setting.states.of(c, terms)
    if not _mixed([weigh(a, b, m.pair.sign, first) for a, b in parts]):
        return None
    cloud = m.setting.states.of(c, terms, count=_MANY)  # branches must both be well represented
    found = [weigh(a, b, m.pair.sign, cloud) for a, b in parts]
    holds = np.logical_and.reduce([e.holds for e in found])
    bad = np.logical_or.reduce([e.fails for e in found])
    if holds.sum() < 4 or bad.sum() < 2:
        return None
    orders = m.pair.sign not in ("=", "≈")
    several = among_positive(m, parts) if orders else []
    if (orders and not several and _fails_among_positive(m, parts)) or (not orders and (
            _other_roots(m) or _of_nothing_only(m))):
        return None
    condition = separating(cloud, holds, bad, terms, m) if not several else None
    if condition is not None and condition.sign == "≠":
        condition = replace(condition, term=not_at_rest(condition.term, m.context))
    if condition is not None and any(v.role == "differential" for v in variables(condition.term)):
        return None  # where nothing changes, anything may be said of changes
    if condition is not None:
        return _turned_round(condition, m) or decided(m, condition, cloud)
    several = several or separating_together(cloud, holds, bad, terms, m) or (
        [] if orders else among_positive(m, parts))
    return decided(m, several[0], cloud, several[1:]) if several else None


def _of_nothing_only(m: Matter) -> bool:
    """`k = k1/3` below `k1 = k2`: is it so only where masses, lengths or stiffnesses are nothing?"""
    inside = with_sizes(m)
    if inside is None:
        return False
    parts = [(inside.context.resolved(a), inside.context.resolved(b)) for a, b in m.lowered.parts]
    cloud = m.setting.states.of(inside.context, [t for part in parts for t in part])
    return bool(cloud.size) and any(weigh(a, b, m.pair.sign, cloud).all_fail for a, b in parts)


def _turned_round(condition: Condition, m: Matter) -> Decision | None:
    """The break of an order that was turned: `tan θ ≥ μ` after `f ≤ μ N` would follow for N < 0, and in a working
    without declarations nobody thinks of such an N."""
    if m.setting.strict or m.pair.sign not in _OVER_OR_UNDER or condition.sign != "<":
        return None
    term, inside = condition.term, with_sizes(m)
    lone = term.op == "var" or (term.op == "fun" and term.value in ("sin", "cos", "tan"))
    if not lone and (inside is None or not weigh(
            term, ZERO, ">", m.setting.states.of(inside.context, [term])).all_hold):
        return None
    thought_of = m.context.adding(assumed(replace(condition, sign=">")))
    state = shown_state(m.setting.within(thought_of), *m.lowered.parts[0], m.pair.sign)
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="unsupported", code="fails.state", state=state)
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def _other_roots(m: Matter) -> bool:
    """`(t - 5)(t - 1) = 0` after t² - 4 t - 5 = 0: another equation of its only unknown is no case of the first, though
    they share a root. `t = 5` takes one of the roots."""
    (residual, *more) = map(m.context.resolved, m.residuals)
    nodes = postorder(residual)
    powers = [t.args[1].value for t in nodes if t.op == "pow"]
    whole = all(isinstance(p, Fraction) and p.denominator == 1 and p > 0 for p in powers)
    products = any(sum(a.op == "add" for a in t.args) > 1 for t in nodes if t.op == "mul")
    plain = all(t.op in ("num", "var", "add", "mul", "pow") for t in nodes)
    return not more and plain and whole and (products or bool(powers)) and len(variables(residual)) == 1


# Quantities taken to be positive together are tried one by one; a line has fewer.
_SIGNED = 8


def among_positive(m: Matter, parts: list[tuple[Term, Term]]) -> list[Condition]:
    """`v² ≥ g r` by `N ≥ 0`: right for positive masses and lengths, where nobody has declared what is positive."""
    unsigned = _unsigned(m, parts)

    def all_hold(positive: list[Var], count: int = _FEW) -> bool:
        found = _among(positive, m, parts, count)
        return bool(found) and all(e.all_hold for e in found)

    if not unsigned or not all_hold(unsigned):
        return []
    for v in reversed(unsigned):
        fewer = [u for u in unsigned if u != v]
        if fewer and all_hold(fewer):
            unsigned = fewer
    return [Condition(var(v), ">") for v in unsigned] if all_hold(unsigned, _MANY) else []


def turned_about(m: Matter) -> Decision | None:
    """`tan θ ≥ μ` by `sin θ ≤ μ cos θ`: a bound that is right only where sizes are negative, and nobody has said that
    they are, is no case of what stands above but the wrong way round."""
    if m.lowered.primitives or m.pair.sign not in ("<", ">", "≤", "≥") or m.setting.broken:
        return None
    parts = [(m.context.resolved(a), m.context.resolved(b)) for a, b in m.lowered.parts]
    if not _fails_among_positive(m, parts):
        return None
    positive = m.context.adding(*(Premise("condition", var(v), ">", False) for v in _unsigned(m, parts)))
    state = shown_state(m.setting.within(positive), *parts[0], m.pair.sign)
    verdict = Verdict(Standing.FAILS, strength="unsupported", state=state, code="fails.state")
    after = replace(m.setting, broken=m.premises(implied=False))
    return None if state is None else Decision(verdict, after)


def _fails_among_positive(m: Matter, parts: list[tuple[Term, Term]]) -> bool:
    unsigned = _unsigned(m, parts)
    found = _among(unsigned, m, parts) if unsigned else []
    return bool(found) and all(e.all_fail for e in found)


def _unsigned(m: Matter, parts: list[tuple[Term, Term]]) -> list[Var]:
    """What may have either sign although nobody has said so, in the line and before it."""
    if m.setting.strict and m.pair.sign != "=":
        return []
    c = m.context
    premises = [c.resolved(p.term) for p in c.premises]
    nothing = [p.term for p in c.premises if p.sign == "=" and p.term.op == "var"]  # μ in the case μ = 0
    bounded_here = [t for part in parts for t in part] if m.pair.sign not in ("=", "≈") else []  # N in `N ≥ 0`
    return [
        v for v in variables(*(t for part in parts for t in part), *premises)
        if v.role == "value" and not v.order and not v.at and v.name != TIME
        and var(v) not in (*bounded_here, *nothing) and not c.world.is_changing(v) and not c.prior(v).bounded
        and not c.prior(v).complex][:_SIGNED]


def _among(positive: list[Var], m: Matter, parts: list[tuple[Term, Term]], count: int = _FEW) -> list[Evidence]:
    """What the states say in which all these are positive; nothing where there are too few."""
    assumed = [Premise("condition", var(v), ">", False) for v in positive]
    cloud = m.setting.states.of(m.context, [t for part in parts for t in part], assumed, count=count)
    return [weigh(a, b, m.pair.sign, cloud) for a, b in parts] if cloud.size >= _BRANCH else []


def separating_together(
    cloud: Cloud, holds: NDArray[np.bool_], bad: NDArray[np.bool_], terms: list[Term], m: Matter
) -> list[Condition]:
    """Unknowns none of which may vanish, and one more quantity that tells what is left: `m ≠ 0 and v > 0`."""
    held_by: list[Condition] = []
    for v, a in cloud.columns.items():
        if v.role != "value" or v.order or v.at:
            continue
        gone = np.abs(a) < _ZERO
        if (gone & bad).sum() > 1 and (np.abs(a[holds]) > _NONZERO).all():
            bad = bad & ~gone
            held_by.append(Condition(var(v), "≠"))
        if len(held_by) == 2 or not bad.any():
            break
    if not held_by or not bad.any():
        return held_by if len(held_by) > 1 else []
    last = separating(cloud, holds, bad, terms, m)
    return [*held_by, last] if last is not None else []


def lost_at_an_edge(m: Matter) -> Decision | None:
    """The pair holds inside a declared range and fails at an end that belongs to it: θ = 0 where 0 ≤ θ < π/2."""
    c = m.context
    ends = [(v, end) for v, end in _edges(m) if not c.prior(v).complex] if m.pair.sign in "=<>≠" else []
    if not ends or m.lowered.primitives:
        return None
    parts = [(c.resolved(a), c.resolved(b)) for a, b in m.lowered.parts]
    terms = [t for part in parts for t in part]
    inside = m.setting.states.of(c, terms)
    if not all(weigh(a, b, m.pair.sign, inside).all_hold for a, b in parts):
        return None
    for v, end in ends:
        gap = sub(var(v), end)
        edge = _at_edge(c, v, end)
        cloud = m.setting.states.of(edge, terms, count=12, rounds=2)
        bad = np.logical_or.reduce([weigh(a, b, m.pair.sign, cloud).fails for a, b in parts]) & _admitted(cloud, c)
        if bad.sum() > 1 and {var(v), end} == set(m.lowered.parts[0]):  # `θ ≠ 0`: a case set aside, not a claim
            after = m.context.adding(*m.premises(implied=False))
            return Decision(Verdict(Standing.TAKEN, code="taken.case"), m.setting.within(after))
        if bad.sum() > 1:
            return decided(m, Condition(gap, "≠"), inside, at=edge)
    return None


def _at_edge(c: Context, v: Var, end: Term) -> Context:
    """The context at an end of a name's range. The end is put in, not only added: states inside the range lie where
    the line holds, and those at its end must not be begun from them."""
    change, loose = {var(v): end}, loosened(c, {v.name})
    world = replace(loose.world, functions={n: substitute(f, change) for n, f in c.world.functions.items()})
    premises = tuple(replace(p, term=substitute(p.term, change), sides=None) for p in loose.premises)
    there = Premise("the end of a range", sub(var(v), end), "=", False)
    return replace(loose, world=world, premises=(*premises, there))


def _edges(m: Matter) -> Iterator[tuple[Var, Term]]:
    """Names the line or its premises speak of whose declared range holds one of its ends, with that end."""
    spoken_of = {v.name for v in m.unknowns} | {
        v.name for p in m.context.premises if p.kind != "range" for v in variables(p.term) if not v.order and not v.at}
    for name, symbol in m.context.world.symbols.items():
        world = m.context.world
        runs = bool(world.moving or world.functions) if name == TIME else world.is_changing(Var(name))
        if name in spoken_of and not runs:
            yield from ((Var(name), end) for end in closed_ends(symbol))


def _admitted(cloud: Cloud, context: Context) -> NDArray[np.bool_]:
    """The states that meet the context's strict bounds, which an end of a range may not."""
    fine = np.ones(cloud.size, dtype=bool)
    for p in context.premises:
        if p.sign in "≠<>" and cloud.columns.keys() >= set(variables(p.term)):
            fine &= ~weigh(p.term, ZERO, p.sign, cloud).fails
    return fine


def _mixed(found: list[Evidence]) -> bool:
    holds = np.logical_and.reduce([e.holds for e in found])
    return bool(holds.any() and any(e.fails.any() for e in found))


def separating(
    cloud: Cloud, holds: NDArray[np.bool_], bad: NDArray[np.bool_], terms: list[Term], m: Matter
) -> Condition | None:
    """The simplest quantity that tells the states where the line holds from those where it fails."""
    told = cloud.columns.keys()  # nothing is known there of what no equation ties to the line
    candidates = [
        c for c in dict.fromkeys(_candidates(terms, m)) if told >= set(variables(c)) and not within_integral(c)][:400]
    values = taped(*candidates).run(cloud.columns)
    signed: Condition | None = None
    for term, value in zip(candidates, values, strict=True):
        value = np.broadcast_to(np.asarray(value), cloud.size)
        if not np.isfinite(value[holds | bad]).all():
            continue
        sign = _telling(value[holds], value[bad])
        if not sign or (sign != "≠" and signed is not None) or _restates(term, m):
            continue
        if sign == "≠":
            return Condition(term, "≠") if np.isrealobj(value) or _holds_apart_from(term, m) else None
        signed = Condition(term, sign)
    return None if signed is None or _special(cloud, holds, bad, m) else signed


def _holds_apart_from(term: Term, m: Matter) -> bool:
    """Does the pair hold where a quantity is one? Few complex states are met in which it is not nothing."""
    parts = [(m.context.resolved(a), m.context.resolved(b)) for a, b in m.lowered.parts]
    there = m.context.adding(Premise("condition", sub(term, ONE), "=", False))
    cloud = m.setting.states.of(there, [t for part in parts for t in part])
    return bool(cloud.size) and all(weigh(a, b, m.pair.sign, cloud).all_hold for a, b in parts)


def _special(cloud: Cloud, holds: NDArray[np.bool_], bad: NDArray[np.bool_], m: Matter) -> bool:
    """Does an equation hold only where some unknown vanishes that elsewhere does not?

    That is one lost root and not one sign of many: `u - v = w` after a collision, where nothing collides.
    """
    return m.pair.sign == "=" and any(
        v.role == "value" and (np.abs(a[holds]) < _ZERO).all() and (np.abs(a[bad]) > _NONZERO).all()
        for v, a in cloud.columns.items())


def _telling(good: Array, off: Array) -> str:
    """How a quantity differs from zero where the line holds and is not so where it fails, or ''."""
    if (np.abs(off) < _ZERO).all() and (np.abs(good) > _NONZERO).all():
        return "≠"
    if good.size >= _BRANCH and off.size >= _BRANCH and np.isrealobj(good):
        if (good > _ZERO).all() and (off < -_ZERO).all():
            return ">"
        if (good < -_ZERO).all() and (off > _ZERO).all():
            return "<"
    return ""


def _restates(term: Term, m: Matter) -> bool:
    """Does the condition only say the line again, or the contrary of it?

    An inequality is said again by whatever vanishes just where its two sides meet (`a > 0` by m1 > m2). An
    equation is spoken of by the difference of its own sides.
    """
    residuals = [m.context.resolved(r) for r in m.residuals]
    if m.pair.sign in ("=", "≈"):
        own = [f for r in residuals for f in (r, *(r.args if r.op == "mul" else ()))]
        return any(term is f or neg(term) is f or cancels(add(term, f)) or cancels(sub(term, f)) for f in own)
    there = m.setting.states.of(m.context, residuals, (Premise("condition", term, "=", False),), count=12, rounds=2)
    return bool(there.size) and all(weigh(r, ZERO, "=", there).all_hold for r in residuals)


def _candidates(terms: list[Term], m: Matter) -> Iterator[Term]:
    """What is divided by, unknowns, functions of the line, then differences and sums of two unknowns."""
    own = variables(*terms)
    premises = [m.context.resolved(p.term) for p in m.context.premises]
    near = tuple(
        v for v in dict.fromkeys((*own, *variables(*premises)))
        if v.role == "value" and (v in own or v.name not in m.context.world.definitions))[:18]
    yield from (t.args[0] for t in postorder(*terms) if t.op == "pow" and _divides(t))
    # Where v stays nothing its rate does too, and v is what was divided by.
    yield from (var(v) for v in sorted(near, key=lambda v: v.order))
    for t in postorder(*terms):
        if t.op == "fun" and t.args:
            yield t
            yield from t.args
        elif t.op == "add":
            yield t
    sides = [m.context.resolved(side) for p in m.context.premises if p.sides for side in p.sides]
    yield from (f for side in sides if side.op == "mul" for f in side.args if f.op == "fun" or _of_names(f))
    yield from sides
    yield from _slopes(m)
    for i, a in enumerate(near):
        for b in near[i + 1 :]:
            if a.order == b.order and _comparable(a, b, m):
                yield sub(var(a), var(b))
                yield add(var(a), var(b))


def _of_names(t: Term) -> bool:
    """`m_1 - m_2`, which may have been divided by."""
    return t.op == "add" and all(p.op == "var" or neg(p).op == "var" for p in t.args)


def _slopes(m: Matter) -> Iterator[Term]:
    """`g t - u` where `t = …` picks a root of `½ g t² - u t = h`, cos 2θ where `θ = 15°` does of `sin 2θ = ½`: what is
    equal at two roots beside each other rises at one of them and falls at the other."""
    for side in m.lowered.parts[0] if m.pair.sign == "=" else ():
        if side.op != "var" or not isinstance(side.value, Var):
            continue
        for p in m.context.premises:
            slope = partial(p.term, side.value) if p.sign == "=" else ZERO
            if side.value in variables(slope):
                yield slope


def _comparable(a: Var, b: Var, m: Matter) -> bool:
    """Can two unknowns be added? Not a speed and a coefficient of friction, as far as their dimensions are known."""
    symbols = m.context.world.symbols
    known = [symbols[v.name].dimension for v in (a, b) if v.name in symbols and symbols[v.name].dimension is not None]
    return len(known) < 2 or known[0] == known[1]


def _divides(t: Term) -> bool:
    exponent = t.args[1].value
    return isinstance(exponent, Fraction) and exponent < 0
