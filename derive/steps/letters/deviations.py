"""`r = r0 + x` of what moves: x is how far it is from where it rests, and the lines below go on with it."""

from __future__ import annotations

from derive.states.setting import Matter
from derive.terms.term import Term, Var, sub, variables


def deviation(m: Matter) -> tuple[Var, Term] | None:
    """The new name of a deviation from a constant, and what it is; None where the line brings in none."""
    if m.pair.sign != "=" or len(m.lowered.parts) != 1 or len(m.fresh) != 1:
        return None
    (left, right), world = m.lowered.parts[0], m.context.world
    moves = isinstance(left.value, Var) and left.op == "var" and world.is_changing(left.value)
    if not moves or right.op != "add" or len(right.args) != 2:
        return None
    for mine, other in (right.args, right.args[::-1]):
        v, beside = mine.value, variables(other)
        if isinstance(v, Var) and v.name in m.fresh and beside and not any(map(world.is_changing, beside)):
            return v, sub(left, other)
    return None
