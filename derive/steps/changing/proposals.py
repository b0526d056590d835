"""A pair read as a proposed course of what an equation of motion tells of: `y = A cos ωt + B sin ωt`."""

from __future__ import annotations

from dataclasses import dataclass

from derive.notation.tree import Name
from derive.states.context import Premise, tied_names
from derive.states.setting import Matter
from derive.steps.changing.equations import equations_of, past_open_constants, with_rates_written_out
from derive.steps.changing.given_courses import explicit
from derive.terms.term import Term, Var, variables

# What x_h and x_c have behind their name: the part of a solution that nothing drives.
FREE_PART = frozenset(("h", "c", "hom"))


@dataclass(frozen=True, slots=True)
class Proposal:
    """A name's proposed course: `name = course` with the constants that nothing before ties down.

    aside: the equations of motion with all they were drawn from, which the course is to satisfy by itself.
    """

    v: Var
    course: Term
    free: tuple[Var, ...]
    order: int
    equations: tuple[Premise, ...]
    aside: tuple[Premise, ...] = ()


def proposal(m: Matter, written_out: bool = False) -> Proposal | None:
    """The pair read as a solution of the equations of motion of its left side, or of its right one, if it can be.

    written_out: with what stands for its rates (`v = dx/dt`) put into the equations.
    """
    if m.pair.sign != "=" or len(m.lowered.parts) != 1:
        return None
    left, right = m.lowered.parts[0]
    if isinstance(m.pair.right, Name) and not isinstance(m.pair.left, Name):
        left, right = right, left
    elif not isinstance(m.pair.left, Name):
        return None
    if left.op != "var" or not isinstance(left.value, Var):
        return None
    course = explicit(left.value, right, m.context)
    if course is None:
        return None
    name = left.value.name
    equations, aside, order = (with_rates_written_out(name, m.context) if written_out else None) or equations_of(
        name, m.context)
    if not order:
        return None
    equations = past_open_constants(equations, course, m.context)
    tied = tied_names(m.context)
    variable = m.context.world.variable_of(name)
    tied -= m.context.world.constants
    free = tuple(v for v in variables(course) if v.name not in tied and v.name != variable)
    return Proposal(left.value, course, free, order, equations, aside)
