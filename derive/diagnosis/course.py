"""Does a course (`y = A cos ωt + …`) put into the equations of motion fit them? Asked of values, without solving.

The engine finds out properly, states and all; here many courses are tried one after the other in the place of one
that was typed, and nearly all are thrown out by a single evaluation.
"""

from __future__ import annotations

from collections.abc import Iterator

from derive.states.context import Context
from derive.states.evidence import weigh
from derive.states.projection import Cloud
from derive.steps.changing import motion
from derive.steps.changing.given_courses import explicit
from derive.terms.functions import Array
from derive.terms.prior import draw
from derive.terms.term import ZERO, Term, Var, substitute, var, variables
from derive.terms.world import TIME, World

HIGHEST = 4  # derivatives of an equation of motion


def fits_equations(left: Term, right: Term, context: Context, cloud: Cloud) -> bool | None:
    """Does `left = right`, where that is a course, fit every equation about it? None where it is no course.

    The states of the cloud give the constants their values; names that are new, and the time, may be anything.
    """
    course = course_of(left, right, context)
    if course is None or not cloud.size:
        return None
    assert isinstance(left.value, Var)
    variable = context.world.variable_of(left.value.name)
    if variable != TIME:
        return None
    equations = [
        context.resolved(p.term) for p in context.premises
        if p.sign == "=" and p.always and not p.implied and p.kind != "instant"
    ]
    highest = max((v.order for v in variables(*equations) if v.name == left.value.name and not v.at), default=0)
    put_in = dict(_derivatives(left.value, course, min(highest, HIGHEST), context.world))
    about = [substitute(e, put_in) for e in equations if any(t in put_in for t in map(var, variables(e)))]
    about = [e for e in about if not any(context.world.is_changing(v) and v.name != TIME for v in variables(e))]
    if not about:
        return None
    columns = _completed(cloud, about, context)
    known = Cloud(columns, cloud.size)
    return not any(weigh(e, ZERO, "=", known).fails.any() for e in about)


def starts_wrong(left: Term, right: Term, context: Context, cloud: Cloud) -> bool:
    """Is a course, or its slope, something else at the start than what is known of it there?

    What it comes to later may be what a name stands for (`b = x(T/4)`), and no state says that before it is found.
    """
    course = course_of(left, right, context)
    if course is None:
        return False
    assert isinstance(left.value, Var)
    for name, along in _derivatives(left.value, course, left.value.order + 1, context.world):
        for key in (key for key, time in context.instants if time is ZERO):
            known, found = (context.resolved(context.placed(t, key)) for t in (name, along))
            told = known != found and all(v in cloud.columns for v in variables(known, found))
            if told and weigh(known, found, "=", cloud).fails.any():
                return True
    return False


def course_of(left: Term, right: Term, context: Context) -> Term | None:
    """The course of a name or of a rate of it (`x' = u e^(-b t)`) that a pair of sides gives."""
    v = left.value if left.op == "var" else None
    return explicit(v._replace(order=0, wrt=""), right, context) if isinstance(v, Var) else None


def _derivatives(v: Var, course: Term, highest: int, world: World) -> Iterator[tuple[Term, Term]]:
    """A name, or the rate of it that a course is given for, with its further rates, each with what the course gives."""
    for order in range(v.order, highest + 1):
        if order > v.order:
            course = motion.slope(course, world)
        yield var(Var(v.name, order, TIME if order else "")), course


def _completed(cloud: Cloud, terms: list[Term], context: Context) -> dict[Var, Array]:
    rng = context.generator()
    columns = dict(cloud.columns)
    for v in variables(*terms):
        if v not in columns:
            columns[v] = draw(context.prior(v), cloud.size, rng)
    return columns
