"""Derivatives in a world: by time along the motion, by the variable of a field, by a coordinate."""

from __future__ import annotations

from derive.terms.calculus import derivative
from derive.terms.term import ONE, ZERO, Term, Var, div, substitute, var, variables
from derive.terms.world import TIME, World


def in_coordinates(world: World, body: Term, v: Var) -> Term:
    """A function of the motion as one of v: every shorthand but v itself written out, and its rates with it, so that
    in ∂L/∂θ' the x' of `x = l sin θ` counts."""
    for _ in range(8):
        change = {}
        for u in variables(body):
            rest = world.definitions.get(u.name)
            if rest is None or u.name == v.name or u.at or u.role != "value" or u.wrt not in ("", TIME):
                continue
            for _ in range(u.order):
                rest = derivative(rest, world.along_time)
            change[var(u)] = rest
        if not change:
            return body
        body = substitute(body, change)
    return body


def partial_by(world: World, body: Term, v: Var) -> Term:
    """∂body/∂v of a function of the motion: other coordinates and all rates are held, and a field of v (the U of
    `U(r)`) changes along with it."""
    def of(u: Var) -> Term:
        if u == v:
            return ONE
        along = not v.order and world.fields.get(u.name) == v.name and u.role == "value" and not u.at
        return var(Var(u.name, u.order + 1, v.name)) if along else ZERO

    return derivative(in_coordinates(world, body, v), of)


def through_definitions(world: World, body: Term) -> Term:
    """A shorthand is written out before it is differentiated, unless it moves in its own right."""
    change = {
        var(v): world.definitions[v.name] for v in variables(body)
        if v.name in world.definitions and v.name not in world.moving and not v.order and not v.at
    }
    staying = _staying(world, body)
    change = {v: rest for v, rest in change.items() if v.value.name not in staying}
    return world.seen_through(substitute(body, change), staying) if change else body


def written_out(world: World, body: Term) -> Term:
    """What a name is short for, but for what stays in it."""
    return world.seen_through(body, _staying(world, body))


def _staying(world: World, body: Term) -> frozenset[str]:
    """The L of `L²/(2 m r²)`: declared without its time it stays, although it is made of what moves."""
    alone = body.value.name if body.op == "var" else ""
    return frozenset(
        n for n, rest in world.definitions.items()
        if n != alone and world.is_declared(n) and not world.is_changing(Var(n)) and world.changes(rest))


def slope_by(world: World, body: Term, v: Var) -> Term:
    """d body / dv for a variable that is not time."""
    def of(u: Var) -> Term:
        if u == v:
            return ONE
        if world.fields.get(u.name) == v.name and u.role == "value" and not u.at:
            return var(Var(u.name, u.order + 1, v.name))
        if u in world.primitives and world.primitives[u][1] == v:
            return world.primitives[u][0]
        if v.name in world.moving and (u.name in world.moving or u.name == TIME) and not u.at and u.role == "value":
            return div(world.along_time(u), world.along_time(v))
        if {u.name, v.name} <= world.varying and u.role == "value" and not u.order:
            return div(world.total(u), world.total(v))
        return ZERO

    return derivative(body, of)
