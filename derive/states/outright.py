"""What an equation gives outright: a field or a slope by its variable, a constant at all times; what names hide."""

from __future__ import annotations

from typing import TYPE_CHECKING

from derive.terms.isolation import isolated
from derive.terms.term import Term, Var, substitute, var, variables
from derive.terms.world import TIME, World

if TYPE_CHECKING:
    from derive.states.context import Context


def shorthand_out(t: Term, world: World, courses: bool = False) -> Term:
    """A relation with names that are no functions themselves written out, so that what they hide is seen.

    courses: also with those that are functions and that a line gives by others (`T = T0 e^(μ φ)`).
    """
    for _ in range(6):
        change = {
            var(v): world.definitions[v.name] for v in variables(t)
            if v.name in world.definitions and (courses or not world.is_changing(v)) and not v.order and not v.at
        }
        if not change:
            return t
        t = substitute(t, change)
    return t


def explicit_field(t: Term, variable: str, world: World) -> bool:
    """Does an equation give one field by its variable and constants alone?"""
    here = variables(t)
    fields = {v.name for v in here if world.fields.get(v.name) == variable}
    others = [v for v in here if v.name not in fields and v.name != variable]
    return len(fields) == 1 and not any(v.order or v.at or v.role != "value" or world.is_changing(v) for v in others)


def explicit_slope(t: Term, world: World) -> bool:
    """Does an equation give one slope by its variable and constants alone (`dR/dα = 2 v² cos 2α/g`)?"""
    if t.op != "add" or len(t.args) != 2:
        return False
    return any(
        v.order and v.wrt != TIME and not v.at
        and not any(u.order or u.at or (u.name != v.wrt and world.is_changing(u)) for u in variables(rest))
        for v, rest in isolated(t))


def slopes_are_told(t: Term, world: World) -> bool:
    """Are all slopes in an equation those of fields that are given by their place alone: of `F = -dU/dx` below
    `U = a/x² - b/x`?"""
    slopes = [v for v in variables(t) if v.order and v.wrt != TIME]
    given = [(v, world.definitions.get(v.name)) for v in slopes]
    return bool(slopes) and all(
        v.order == 1 and course is not None and Var(v.wrt) in variables(course)
        and not any(u.order or u.at or (u.name != v.wrt and world.is_changing(u)) for u in variables(course))
        for v, course in given)


def explicit_in(t: Term, world: World) -> Var | None:
    """The variable (t, or that of an adopted field) to which alone an equation ties constants, if so."""
    changing = {v for v in variables(t) if world.is_changing(v)}
    run = {TIME, *(world.fields[n] for n in world.functions if n in world.fields)}
    if len(changing) == 1:
        (v,) = changing
        if v.name in run and not v.order and v.role == "value":
            return v
    return None


def with_names_written_out(terms: list[Term], world: World) -> list[Term]:
    """Relations as typed, and with names for things written out: `E1 - W = E2` says how h and v go together."""
    return [*terms, *map(world.seen_through, terms)]


def course_by_time(name: str, context: Context) -> Term | None:
    """What a line gives outright by the time."""
    known = context.world.functions.get(name)
    given = (t for p in context.premises if p.sign == "=" for v, t in isolated(p.term) if v == Var(name))
    return next((t for t in (known, *given) if t is not None and Var(TIME) in variables(t)), None)
