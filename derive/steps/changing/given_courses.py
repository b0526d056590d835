"""`v = v0 - g t`: a course that a line gives outright, by its variable and constants alone."""

from __future__ import annotations

from dataclasses import replace

from derive.states.context import Context
from derive.states.setting import Matter
from derive.terms.term import Term, Var, postorder, variables


def as_function(m: Matter, context: Context) -> Context:
    """Adopt `v = v0 - g t` as the explicit course of v, so that later lines can put instants into it."""
    for left, right in m.lowered.parts:
        if left.op == "var" and isinstance(left.value, Var):
            found = explicit(left.value, right, context)
            if found is not None:
                world = replace(context.world, functions={**context.world.functions, left.value.name: found})
                return context.knowing(world)
    return context


def explicit(v: Var, right: Term, context: Context) -> Term | None:
    """`right`, if it gives a name by its variable (t, or that of a field) and constants alone."""
    world = context.world
    variable = world.variable_of(v.name)
    if v.order or v.at or not variable or v.name in world.functions:
        return None
    right = context.resolved(right)
    here = variables(right)
    if not any(u.name == variable and not u.order for u in here) or any(s.op == "int" for s in postorder(right)):
        return None  # an integral says how the course is found, not yet what it is
    if any(u.order or u.at or u.role != "value" or (world.is_changing(u) and u.name != variable) for u in here):
        return None
    return right
