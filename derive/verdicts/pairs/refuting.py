"""The break of a line, and the state that shows it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from derive.notation.tree import Claim, Name, Relation
from derive.records import Standing, Verdict
from derive.states import probing
from derive.states.context import Context, Premise, given_by_time
from derive.states.outright import course_by_time
from derive.states.setting import Case, Decision, Matter
from derive.states.showing import shown_state
from derive.states.sizes import all_positive, positive
from derive.states.states import freedom
from derive.states.yielding import is_value, unvalued
from derive.steps.breaks import carrying
from derive.steps.changing.kinematics import linked
from derive.steps.numbers import gravity, numeric
from derive.terms.lowering import lower
from derive.terms.numbers import bare_number, spread
from derive.terms.tape import taped
from derive.terms.term import Term, Var, sub, substitute, var, variables
from derive.terms.world import TIME
from derive.verdicts.pairs.open_cases import inside_open_case, is_solved, next_below
from derive.verdicts.pairs.said_there import at_instant
from derive.verdicts.pairs.weighing import evidence

_SAME = 1e-9
_ORDINALS = ("first", "second", "third")


def refuted_in_open_case(m: Matter) -> Decision | None:
    """A line that holds nowhere in the case spoken of, where that ties its names: it starts nothing."""
    if not m.setting.cases or m.pair.sign != "=":
        return None
    inside = inside_open_case(m, beside=is_solved(m))
    only_beside = inside is None and not m.fresh and not m.words
    inside = inside_open_case(m, beside=True) if only_beside else inside
    if inside is None:
        return None
    found, cloud = evidence(inside)
    if not cloud.size or not any(e.all_fail for e in found):
        return None
    own = [v for v in m.unknowns if v.role == "value"]
    if only_beside and not (_says_the_case(m) or _tied_just_so(own, inside) or _gives_an_angle(own, inside)):
        return None
    states = m.setting.states
    free = freedom(inside.context, own, (), states)
    if free == freedom(m.context, own, (), states) or _is_of_a_free_name(m, inside, own, free):
        return None
    return fails(m)


def _is_of_a_free_name(m: Matter, inside: Matter, own: Sequence[Var], free: int) -> bool:
    """`v = a t` below `h = ½ a t²: t = 1.0 s`, of a v that nothing has said anything of: a start as good as any."""
    name = m.pair.left.ident if isinstance(m.pair.left, Name) else ""
    v, others = Var(name), [u for u in own if u.name != name]
    return m.setting.strict and v in own and len(others) == len(own) - 1 and (
        freedom(inside.context, others, (), inside.setting.states) == free - 1)


def is_settled_otherwise(m: Matter) -> bool:
    """`½ m2 u2²/(½ m1 v1²) = 4/4` below `m1 = 3 m2: u2 = 3 v1/2`: has one side the one value 3/4 in the case that the
    lines just above speak of, and is the other a number?"""
    case = m.setting.cases[-1] if m.setting.cases else None
    above = case is not None and any(p.source == m.number - 1 for p in case.premises)
    inside = inside_open_case(m, beside=True) if above and len(m.lowered.parts) == 1 else None
    if inside is None or variables(inside.lowered.parts[0][1]):
        return False
    (found,), cloud = evidence(inside)
    fixed = cloud.size and not np.iscomplexobj(found.left) and spread(np.broadcast_to(found.left, cloud.size)) < _SAME
    return bool(fixed) and found.all_fail


def refuted_there(m: Matter) -> Decision | None:
    """`H = u²/g` below `at the top: v = 0`, with y put for H: it holds nowhere in the case, or at no such moment."""
    case = m.setting.cases[-1] if m.setting.cases else None
    there = at_instant(m, case.key) if case is not None and case.key else inside_open_case(m, beside=True)
    if there is None:
        return None
    whole = all_positive(there.context, there.unknowns)  # from no height all would be so
    there = replace(there, setting=there.setting.within(whole)) if whole is not None else there
    found, cloud = evidence(there)
    return fails(there) if cloud.size and any(e.all_fail for e in found) else None


_RELATED = 3  # names that are no coincidence


def _tied_just_so(own: Sequence[Var], inside: Matter) -> bool:
    """`l² = G M m r` below `circular: r'' = 0`: does the case tie these names, and would with any of them less? Then it
    says another relation between just these."""
    def free(names: Sequence[Var]) -> int:
        return freedom(inside.context, names, (), inside.setting.states)

    return len(own) >= _RELATED and not any(v.at for v in own) and free(own) == len(own) - 1 and all(
        free([u for u in own if u != v]) == len(own) - 1 for v in own)


def _gives_an_angle(own: Sequence[Var], inside: Matter) -> bool:
    """`cos φ = 2/√(1 + μ²)` below `dP/dφ = 0: tan φ = μ`: does the case give the angle by just these?"""
    left = inside.lowered.parts[0][0]
    angle = left.args[0].value if left.op == "fun" and left.value in ("sin", "cos", "tan") else None
    others = [v for v in own if v != angle]
    return isinstance(angle, Var) and bool(others) and all(
        freedom(inside.context, names, (), inside.setting.states) == len(others) for names in (own, others))


def _says_the_case(m: Matter) -> bool:
    """`½ a t² - v1 t - d = 0` next below `x1 = x2: v1 t = d - ½ a t²`: a relation between all that the case ties, by
    what the lines above say, and no other."""
    case = m.setting.cases[-1] if m.setting.cases else None
    if case is None or not next_below(m, case):
        return False
    context = m.context
    said = [context.resolved(p.term) for p in case.premises if p.sign == "="]
    given = {v: course_by_time(v.name, context) for t in said for v in variables(t)}
    courses = {var(v): course for v, course in given.items() if course is not None}
    tied = {v for t in said for v in variables(substitute(t, courses))}
    own = {v for r in m.residuals for v in variables(context.resolved(r))}
    return tied == own and len(own) >= _RELATED


def off_in_open_case(m: Matter) -> Decision | None:
    """`θ = 41.8°` next below `leaves when N = 0: cos θ = 2/3`, where no value told has a part in it, or `vy = uy - g t
    = 20.7` below `y = 0: t = 2.72`: a number that is off, and no new value."""
    case = m.setting.cases[-1] if m.setting.cases else None
    if case is None or not (case.line or _is_asked_there(m, case)) or not next_below(m, case) or (
            m.pair.sign not in ("=", "≈") or bare_number(m.pair.right) is None
            or (m.words and not gravity.is_drawn_at_a_head(m))):
        return None
    inside = inside_open_case(m, beside=True)
    if inside is None or not _is_settled(m, inside, case):
        return None
    broken = numeric.wrong_number(inside) or fails(inside)
    own = m.premises(implied=False, always=False)
    return broken and replace(broken, after=replace(m.setting, broken=(*m.setting.broken, *own)))


def off_at_its_own_head(m: Matter) -> Decision | None:
    """`if μ = 0.35: s = 14.1 m`, the s that goes with the 0.7 of the page: at a head that tells another value, what is
    right without it is none for the line."""
    case = m.setting.cases[-1] if m.setting.cases else None
    if case is None or not case.premises or case.premises[-1].source != m.number or case.line not in (0, m.number) or (
            case.key or m.pair.sign not in ("=", "≈") or m.fresh or bare_number(m.pair.right) is None):
        return None
    if m.setting.states.any(m.context, case.premises).size:
        return None  # nothing else was told before
    inside = inside_open_case(m)
    if inside is None or numeric.right_to_its_figures(inside):
        return None
    changed = {*m.unknowns, *(v for p in case.premises for v in variables(p.term))}
    kept = tuple(p for p in m.setting.rounded if changed.isdisjoint(variables(p.term)))  # but for the old s
    broken = numeric.wrong_number(inside)
    if broken is None or broken.verdict.standing is not Standing.FAILS or numeric.from_rounded_values(
            replace(inside, setting=replace(inside.setting, rounded=kept))):
        return None
    own = m.premises(implied=False, always=False)
    return replace(broken, after=replace(m.setting, broken=(*m.setting.broken, *own)))


# What says no other moment (common practice, no source).
_THERE = frozenset(("distance", "height", "depth", "there", "then", "travelled", "by", "the", "total", "and"))


def off_its_course_next(m: Matter) -> Decision | None:
    """`distance: x = u²/a` next below `stops: v = 0 at ts = u/a`, which says the moment."""
    case = m.setting.cases[-1] if m.setting.cases else None
    said = m.words.lower().replace(",", " ").replace(":", " ").split()
    if case is None or not set(said) <= _THERE or not variables(m.lowered.parts[0][1]) or not (
            next_below(m, case) or (case.key and case.line in (0, m.number) and not case.left)):
        return None
    return off_its_course(m, case.where) or _off_where_it_is(m)


def _off_where_it_is(m: Matter) -> Decision | None:
    """`x = u²/a` next below `v = 0 gives t = u/a`: of an x that goes by time, what is made of constants is its value
    there."""
    course = course_by_time(m.pair.left.ident, m.context) if isinstance(m.pair.left, Name) else None
    value = m.lowered.parts[0][1]
    if course is None or m.pair.sign != "=" or m.fresh or m.at or value.op == "var" or not {
            *variables(value)} <= _in_courses(m.context) - {Var(TIME)}:
        return None  # `x = d` says where it is to be
    case = m.setting.cases[-1]
    inside = at_instant(m, case.key) if case.key else inside_open_case(m, beside=True)
    found, cloud = evidence(inside) if inside is not None else ((), None)
    if inside is None or cloud is None or not cloud.size or not any(e.all_fail for e in found):
        return None
    broken = fails(inside)
    own = m.premises(implied=False, always=False)
    return broken and replace(broken, after=replace(m.setting, broken=(*m.setting.broken, *own)))


def off_its_course(m: Matter, where: Claim | None) -> Decision | None:
    """`v = 0 at t = 2 u/a` below `v = u - a t`: what is given by the time is not free at a moment told in letters,
    unless nothing is left of the course or of the moment. (`x = 0 at t = π/(2ω)` of two constants says that one is
    nothing.)"""
    named, context = m.pair.left, m.context
    if not isinstance(where, Relation) or where.signs != ("=",) or where.sides[0] != Name(TIME) or (
            m.pair.sign != "=" or not isinstance(named, Name) or m.fresh):
        return None
    time, value = lower(where.sides[1], context.world), m.lowered.parts[0][1]
    course = course_by_time(named.ident, context)
    if course is None or not isinstance(time, Term) or not variables(time):
        return None
    there = substitute(course, {var(Var(TIME)): time})
    if not {*variables(time), *variables(value)} <= _in_courses(context):
        return None
    factors = course.args if course.op == "mul" else (course,)
    kept = {v.name for t in (time, *(f for f in factors if f.op == "var")) for v in variables(t)}
    whole = positive(context, kept)
    told = (Premise(m.label, sub(there, value), "="), Premise(m.label, time, "≠"))
    if whole is None or not m.setting.states.any(whole).size or m.setting.states.any(whole, told).size:
        return None
    inside = replace(m, lowered=replace(m.lowered, parts=((there, value),)), setting=replace(
        m.setting.within(whole), cases=()))
    broken = fails(inside)
    own = m.premises(implied=False, always=False)
    return broken and replace(broken, after=replace(m.setting, broken=(*m.setting.broken, *own)))


def _in_courses(context: Context) -> set[Var]:
    """What all courses are made of: g of y's in the time at which x is a range."""
    courses = (course_by_time(v.name, context) for v in given_by_time(context))
    return {v for course in courses if course is not None for v in variables(course)}


def _is_asked_there(m: Matter, case: Case) -> bool:
    """Is a name without a value on the page, or in a case that stays open, given the first one below it: `t = 4 s`
    below `lands: y = 0`? Or what the case itself is said of: `e^(-t/τ) = 0.1` below `0.9 = 1 - e^(-t/τ)`?"""
    name = m.pair.left if m.pair.head is None else m.pair.head
    if not isinstance(name, Name):
        return m.pair.head is None and _is_of_the_case(m, case)
    v, opened = Var(name.ident), case.premises[0].source if case.premises else 0
    later = (p for p in case.premises if p.source != opened)
    return not any(v in variables(p.term) for p in (*later, *m.setting.rounded)) and not any(
        is_value(p) and v in variables(p.term) for p in m.context.premises)


def _is_of_the_case(m: Matter, case: Case) -> bool:
    """Are all names of a line, or the one that it gives a number, among those that the case ties to each other?"""
    tied = {v for p in case.premises for v in variables(p.term)} if len(case.premises) == 1 else set()
    return len(tied) > 1 and {*variables(m.lowered.parts[0][0])} <= tied


def _is_settled(m: Matter, inside: Matter, case: Case) -> bool:
    """Does a case say what a number is written for? Another value might be told for a name alone."""
    of_it = _is_of_the_case(m, case)
    if isinstance(m.pair.left, Name):
        drawn = any(p.kind == "value" and p.source == m.number for p in m.context.premises)  # from a value at its head
        known = unvalued(inside.context if case.line else case.loosening(m.context))
        context = inside.context if drawn or of_it else known if case.line else known.adding(*case.premises)
        return not freedom(context, [Var(m.pair.left.ident)], (), m.setting.states)
    own = [v for v in m.unknowns if v.role == "value"]
    if m.pair.head is None and of_it and not case.line:
        return _has_one_value(inside)
    open_before = m.pair.head is not None and not m.fresh and freedom(m.context, own, (), m.setting.states) > 0
    return open_before and not freedom(inside.context, own, (), m.setting.states)


def _has_one_value(inside: Matter) -> bool:
    left = inside.lowered.parts[0][0]
    cloud = inside.setting.states.of(inside.context, (left,))
    return cloud.size > 1 and spread(taped(left).run(cloud.columns)[0]) < _SAME


def fails(m: Matter) -> Decision | None:
    """Some state of the context does not satisfy the pair: that state is shown."""
    before, context = m.setting, linked(m.context, m.setting)
    if context is not None and m.setting.states.any(context).size:
        m = replace(m, setting=before.within(context))  # states of one motion from instant to instant
    inside = inside_open_case(m)
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
    code, facts = "fails.contradicts" if strength == "contradicts" else "fails.state", ()
    if len(found) > 1:
        code, facts = "fails.component", (("which", _ORDINALS[bad] if bad < len(_ORDINALS) else ""),)  # type: ignore[assignment]
    verdict = Verdict(
        Standing.FAILS, strength=strength, state=state, points=cloud.size, code=code, facts=facts)  # type: ignore[arg-type]
    return Decision(verdict, replace(before, broken=(*before.broken, *carrying.writers_own(m))))


def _fails_on_purpose(m: Matter) -> Decision | None:
    """An inequality that fails only at states that were sought for it."""
    narrowed = broken_on_purpose(m)
    if narrowed is None:
        return None
    shown = (shown_state(m.setting.within(narrowed), a, b, m.pair.sign) for a, b in m.lowered.parts)
    state = next((s for s in shown if s is not None), None)
    if state is None:
        return None
    verdict = Verdict(Standing.FAILS, strength="unsupported", state=state, points=1, code="fails.state")
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def broken_on_purpose(m: Matter) -> Context | None:
    """States at given bounds, or pushed over the line's own, that satisfy the context and not an inequality."""
    if m.pair.sign not in probing.SIGNS:
        return None
    return probing.counterexample(m.lowered.parts, m.pair.sign, m.context, m.setting.states)


def undecided(m: Matter) -> Decision:
    """What neither follows nor is shown not to."""
    return Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), m.setting)
