"""`t = 0.99 s` below `y = 15: 15 = 20 t - 4.9 t²`: the moment that was asked for, worked out in numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from derive.notation.tree import Name, Relation
from derive.records import Standing, Verdict
from derive.states.context import Context, Premise, given_by_time
from derive.states.evidence import Evidence, weigh
from derive.states.setting import Case, Decision, Matter
from derive.states.sizes import all_positive
from derive.states.states import freedom
from derive.steps.customs import customary
from derive.steps.letters import valued
from derive.steps.letters.defining import defining
from derive.steps.numbers import numeric
from derive.terms.declared import plain_value
from derive.terms.lowering import lower
from derive.terms.numbers import bare_number, last_digit_of_result
from derive.terms.term import ZERO, Term, Var, div, mul, num, sub, substitute, var, variables
from derive.terms.world import TIME
from derive.verdicts.pairs.open_cases import compared_apart, inside_open_case, knowing, next_below
from derive.verdicts.pairs.refuting import fails
from derive.verdicts.pairs.said_there import at_instant
from derive.verdicts.pairs.weighing import evidence

# `y = 15` is so on the way up and on the way down.
_MOMENTS = 4
# How far a whole number in one figure may be off, by its own size: half of 2 s would excuse too much.
_SHARE_OF_A_WHOLE = 0.05


def time_at_open_instant(m: Matter) -> Decision | None:
    """`t = 0.99 s` is one of the moments at which it is so, to its figures, or none of them; `t1 = 0.99 s` likewise.

    Nothing is said of a second such line: it may be about another moment.
    """
    case = m.setting.cases[-1] if m.setting.cases else None
    if case is None:
        return _time_of_a_zero(m)
    if one := one_of_the_moments(m, case) if case.key or next_below(m, case) else None:
        return one
    if case.premises and not m.words:
        return _time_of_the_case(m, case)
    if not case.key or case.line not in (0, m.number) or m.pair.sign not in ("=", "≈"):
        return None
    named = valued.as_value_there(m)
    about = replace(named[0], pair=replace(m.pair, left=Name(TIME, span=m.pair.left.span))) if named else m
    there = at_instant(about, case.key)
    if not _is_first_time(there, case):
        return None
    moments = _moments(there, case)
    if moments is None or there.lowered.parts[0][1].op != "num":
        return _time_in_letters(there, case) if named is None else None
    rounded = numeric.with_allowance(there, m.context)
    found = rounded[0] if rounded is not None else evidence(there)[0][0]
    if not found.holds.any():
        return numeric.wrong_number(there) or fails(there)
    verdict = Verdict(
        Standing.APPROXIMATES if rounded is not None else Standing.FOLLOWS, support="tested", points=found.holds.size,
        code="approximates.number" if rounded is not None else "follows.at", facts=(("case", case.words),))
    if named is not None:
        verdict = replace(verdict, introduces=(named[1].name,))
        return Decision(verdict, m.setting.within(defining(m, named[1], m.context)))
    between = _between(moments, found, Var(TIME, at=case.key), m)
    told = there.premises(implied=False, always=False)
    return Decision(verdict, replace(
        m.setting.within(m.context.adding(*between)), rounded=(*m.setting.rounded, *told)))


def _time_of_a_zero(m: Matter) -> Decision | None:
    """`t = π/(2ω)` below `y = 0`, on a page where `y = A cos ωt` and no case is open."""
    timely = {var(v) for v in given_by_time(m.context)} if m.lowered.parts[0][0] == var(Var(TIME)) else set()
    zero = next((p for p in reversed(m.context.premises) if p.kind == "value" and p.term in timely), None)
    if zero is None:
        return None
    without = replace(m.context, premises=tuple(p for p in m.context.premises if p is not zero))
    case = Case(f"{zero.term.value.name} = 0", premises=(zero,))
    found = one_of_the_moments(replace(m, setting=m.setting.within(without)), case)
    told = m.premises(implied=False, always=False)
    return None if found is None else replace(found, after=m.setting.within(m.context.adding(*told)))


def one_of_the_moments(m: Matter, case: Case) -> Decision | None:
    """`v = 0: t = π/ω` below `v = A ω sin ωt`: it is so then, and at other times as well."""
    context, gap = m.context, _gap(m, case)
    if gap is None:
        return None
    _, right = _timed(m)
    there = [substitute(t, {var(Var(TIME)): right}) for t in gap]
    cloud = m.setting.states.of(context, there)
    whole = cloud.columns.keys() >= set(variables(*there))  # and not found without some rate
    if not cloud.size or not whole:
        return None
    if not weigh(there[0], there[1], "=", cloud).all_hold:
        return None
    verdict = Verdict(
        Standing.FOLLOWS, support="tested", points=cloud.size, code="follows.in_case", facts=(("case", case.words),))
    if not case.key:
        return Decision(verdict, knowing(m, case))
    told = at_instant(m, case.key).premises(implied=False, always=False)
    # Another of them takes the place of one that was looked at before.
    then = var(Var(TIME, at=case.key))
    kept = tuple(p for p in context.premises if p.sides is None or p.sides[0] != then)
    return Decision(verdict, m.setting.within(replace(context, premises=kept).adding(*told)))


def _gap(m: Matter, case: Case) -> Sequence[Term] | None:
    """The sides of what a case says, as they go with the time of which a value is told; None where none is."""
    sides = _when(case, m.context)
    if not sides or len(m.lowered.parts) != 1:
        return None
    (time, right), context = _timed(m), m.context
    if time != var(Var(TIME)) or m.pair.sign not in ("=", "≈") or any(
            context.world.is_changing(v) for v in variables(right)):
        return None
    gap = [context.world.seen_through(context.resolved(t)) for t in sides if isinstance(t, Term)]
    return gap if len(gap) == 2 and Var(TIME) in variables(*gap) else None


def _timed(m: Matter) -> tuple[Term, Term]:
    """The sides of a pair; of `ω t = π` with an ω that does not change, those of `t = π/ω`."""
    left, right = m.lowered.parts[0]
    others = [f for f in left.args if f != var(Var(TIME))] if left.op == "mul" else []
    still = not any(v.name == TIME or m.context.world.is_changing(v) for v in variables(*others))
    if len(others) != len(left.args) - 1 or left.op != "mul" or not still:
        return left, right
    return var(Var(TIME)), div(right, mul(*others))


def rounded_moment(m: Matter, case: Case) -> Decision | None:
    """`v = 0: t = 0.79 s`: one side is above the other at one end of what 0.79 is rounded from, and below at the
    other."""
    gap, number, right = _gap(m, case), bare_number(m.pair.right), plain_value(m.pair.right)
    if gap is None or number is None or not number.value or right is None:
        return None
    half = min(0.5 * 10.0 ** last_digit_of_result(number), _SHARE_OF_A_WHOLE * abs(float(number.value)))
    half *= abs(right / float(number.value))
    ends = [num(Fraction(right + sign * half).limit_denominator(10**12)) for sign in (-1, 1)]
    there = [substitute(sub(gap[0], gap[1]), {var(Var(TIME)): end}) for end in ends]
    cloud = m.setting.states.of(m.context, there)
    first, last = (weigh(t, ZERO, "=", cloud).left for t in there)
    if not cloud.size or np.iscomplexobj(first) or np.iscomplexobj(last) or not (first * last < 0).all():
        return None
    verdict = Verdict(
        Standing.APPROXIMATES, support="tested", points=cloud.size, code="approximates.number",
        facts=(("case", case.words),))
    return Decision(verdict, knowing(m, case) if not case.key else m.setting)


def _when(case: Case, context: Context) -> Sequence[object]:
    """The sides of the one equation that says when a case is."""
    if case.where is None:  # `cos ωt = 0` on a line of its own
        told = [p for p in case.premises if not p.implied]
        return (told[0].term, ZERO) if len(told) == 1 and told[0].sign == "=" else ()
    where = case.where
    plain = isinstance(where, Relation) and where.signs == ("=",)
    return [lower(side, context.world) for side in where.sides] if isinstance(where, Relation) and plain else ()


def _time_of_the_case(m: Matter, case: Case) -> Decision | None:
    """`t = 10/c` below `v = u/10: e^(-c t) = 1/10`, where that is so at ln 10/c alone. (That it is so, other rules
    find.)"""
    if m.lowered.parts[0][0] != var(Var(TIME)) or len(m.lowered.parts) != 1 or not next_below(m, case):
        return None
    inside = inside_open_case(m, beside=True)
    return _fails_where_settled(next(compared_apart(inside, case), inside), m) if inside is not None else None


def _fails_where_settled(there: Matter, m: Matter) -> Decision | None:
    """The break of a time given in letters, where these settle it and it is another."""
    time, right = there.lowered.parts[0]
    own = [v for v in variables(right) if v.role == "value"]
    if not own or any(v.at or v.order or there.context.world.is_changing(v) for v in own) or not set(own) <= set(
            variables(*(p.term for p in there.context.premises))):
        return None
    free = freedom(there.context, [*own, *variables(time)], (), there.setting.states)
    if not 0 <= free == freedom(there.context, own, (), there.setting.states):
        return None
    (found,), _ = evidence(there)
    broken = fails(there) if found.all_fail else None
    return None if broken is None else replace(
        broken, after=replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False, always=False))))


def _is_first_time(there: Matter, case: Case) -> bool:
    """Is the line about when a case comes to be, and the first that is?"""
    time = var(Var(TIME, at=case.key))
    said = (*there.context.premises, *there.setting.rounded)
    return len(there.lowered.parts) == 1 and there.lowered.parts[0][0] == time and not any(
        p.sides is not None and p.sides[0] == time for p in said)


def _time_in_letters(there: Matter, case: Case) -> Decision | None:
    """`t = 2 ln 2/k` below `half: v = u/2`, where that is so at ln 2/k alone."""
    time, right = (t for t in there.lowered.parts[0])
    own = [v for v in variables(right) if v.role == "value"]
    if not own or any(v.at or v.order or there.context.world.is_changing(v) for v in own):
        return None
    # Where nothing moves it is so at any time: with every size more than nothing.
    context = all_positive(there.context, variables(*(p.term for p in there.context.premises))) or there.context
    inside = replace(there, setting=there.setting.within(context))
    (found,), _ = evidence(inside)
    free = freedom(context, [*own, *variables(time)], (), there.setting.states)
    if not 0 <= free == freedom(context, own, (), there.setting.states):
        return None
    if found.holds.any() and not found.all_hold:  # of two roots the one that is still to come
        passed = Premise("t > 0", time, ">", always=False, kind="custom")
        inside = replace(there, setting=there.setting.within(context.adding(passed)))
        (found,), _ = evidence(inside)
        told = there.premises(implied=False, always=False)
        return _at(inside, case, found, there.context.adding(*told)) if found.all_hold else None
    if found.all_hold and context is not there.context:
        return _at(inside, case, found, there.context)
    return fails(inside) if found.all_fail else None


def _at(inside: Matter, case: Case, found: Evidence, after: Context) -> Decision:
    """A moment that is right by a custom."""
    verdict = Verdict(
        Standing.FOLLOWS, support="tested", points=found.holds.size, code="follows.at", facts=(("case", case.words),))
    return customary.said(Decision(verdict, inside.setting.within(after)), inside)


def _moments(there: Matter, case: Case) -> NDArray[np.float64] | None:
    """The few times at which a case comes to be."""
    time = Var(TIME, at=case.key)
    cloud = there.setting.states.of(there.context, (var(time), there.lowered.parts[0][1]))
    if not cloud.size:
        return None
    found: NDArray[np.float64] = np.unique(np.round(np.asarray(cloud.columns[time], dtype=np.float64), 9))
    return found if 1 <= found.size <= _MOMENTS else None


def _between(moments: NDArray[np.float64], found: Evidence, time: Var, m: Matter) -> Sequence[Premise]:
    """Bounds that leave of several moments the one that was found."""
    its = float(np.median(np.asarray(found.left)[found.holds]))
    middles = [Fraction(float(x)).limit_denominator(10**6) for x in (moments[:-1] + moments[1:]) / 2]
    bounds = [(">", x) for x in middles if x < its][-1:] + [("<", x) for x in middles if x > its][:1]
    return [
        Premise(m.label, sub(var(time), num(x)), sign, always=False, source=m.number, kind="value")
        for sign, x in bounds]
