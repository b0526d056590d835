"""How a proposed course starts, beside what the lines above say of that."""

from __future__ import annotations

from dataclasses import replace

from derive.records import Standing, Verdict
from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.states.showing import shown_state
from derive.states.states import freedom
from derive.steps.changing.proposals import Proposal
from derive.terms.calculus import derivative
from derive.terms.term import ONE, ZERO, Term, Var, substitute, var, variables
from derive.terms.tidying import tidied


def starting_values(p: Proposal, m: Matter, with_course: Context) -> tuple[int, Premise | None]:
    """How many known starting values the course has identically, and one that it can never have."""
    known = 0
    base = replace(with_course, premises=tuple(
        q for q in with_course.premises if q not in p.aside and not is_starting_value(q, p.v.name)))
    for q in m.context.premises:
        if q.implied or not is_starting_value(q, p.v.name):
            continue
        t = tidied(with_course.resolved(q.term))
        cloud = m.setting.states.of(base, (t,))
        found = weigh(t, ZERO, "=", cloud)
        if found.all_hold:
            known += 1
        elif found.all_fail and not set(variables(t)) & set(p.free) and _at_known_time(q, m):
            return known, q
    return known, None


def told_by_others(p: Proposal, m: Matter) -> tuple[int, tuple[Term, Term] | None]:
    """How many starting values of a course follow from those of what it is made of (`p = a cos ω t`, where p = x + y
    and the lines above say how x and y start), and one that is another there: as it is told, and as the course has it.
    """
    wrt = m.context.world.variable_of(p.v.name)
    running, most = Var(wrt), 0
    for key, time in m.context.instants:
        course, told = p.course, 0
        for order in range(p.order if time is not None and key.startswith(f"{wrt}=") else 0):
            there = m.context.placed(var(Var(p.v.name, order, wrt if order else "")), key)
            given = substitute(course, {var(running): time})  # type: ignore[dict-item]
            cloud = m.setting.states.of(m.context, (there, given))
            found = weigh(there, given, "=", cloud)
            told += bool(cloud.size) and found.all_hold
            # Not where all that starts happens to be nothing, nor where nothing tells it.
            if cloud.size and 2 * found.fails.sum() > cloud.size and _is_told(there, m):
                return most, (there, given)
            course = derivative(course, lambda u: ONE if u == running else ZERO)
        most = max(most, told)
    return most, None


def starts_otherwise(p: Proposal, m: Matter, told: Term, given: Term) -> Decision:
    """The course starts otherwise than the lines above say."""
    state = shown_state(m.setting, told, given, "=")
    verdict = Verdict(Standing.FAILS, strength="contradicts", code="fails.start", state=state,
                      facts=(("name", p.v.name),))
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *m.premises(implied=False))))


def at_start(q: Premise, with_course: Context) -> tuple[Term, Term]:
    """The two sides of a starting value: what is given, and what the course gives."""
    unknown = next(v for v in variables(q.term) if v.at)
    return var(unknown), with_course.resolved(var(unknown))


def is_starting_value(q: Premise, name: str) -> bool:
    return any(v.at and v.name == name for v in variables(q.term))


def _is_told(there: Term, m: Matter) -> bool:
    """Do the constants of the page settle a value at an instant?"""
    here = {v for p in m.context.premises for v in variables(p.term)} - set(variables(there))
    constants = sorted(
        (v for v in here if v.role == "value" and not v.order and not v.at and not m.context.world.is_changing(v)),
        key=lambda v: v.name)
    free, with_it = (
        freedom(m.context, names, (), m.setting.states) for names in (constants, [*constants, *variables(there)]))
    return 0 <= with_it == free


def _at_known_time(q: Premise, m: Matter) -> bool:
    """Is the instant a plain number (`t = 0`)? A named one (`v(t_1) = 0`) may be what the course fixes."""
    times = dict(m.context.instants)
    return all(
        (time := times.get(v.at)) is not None and not variables(time) for v in variables(q.term) if v.at)
