"""What is held while something is varied: `dP/du = ρ A v (v - 2 u)` below `dm/dt = ρ A v`, by which v may go with time.

Where a line gives P by a u of which nothing says that it moves, u is what someone chooses, and all else in P is as it
is: the derivative is the partial one.
"""

from __future__ import annotations

from dataclasses import replace

from derive.notation.tree import Derivative, Name, Statement, rebuilt, walk
from derive.states.setting import Setting
from derive.terms.term import Var, variables
from derive.terms.world import TIME, World


def with_others_held(statement: Statement, setting: Setting) -> Statement:
    """The statement with the partial derivatives that are meant."""
    if setting.strict or statement.claim is None:
        return statement
    world = setting.context.world
    change: dict[int, object] = {
        id(n): replace(n, partial=True) for n in walk(statement.claim)
        if isinstance(n, Derivative) and not n.partial and _is_chosen(n, world)}
    return replace(statement, claim=rebuilt(statement.claim, change)) if change else statement  # type: ignore[arg-type]


def _is_chosen(slope: Derivative, world: World) -> bool:
    """Is it by a name that does not move, of one that moves only with others in what gives it?"""
    body, by = slope.body, slope.wrt
    if not isinstance(body, Name) or not isinstance(by, Name) or body.ident not in world.definitions:
        return False
    own = Var(by.ident)
    if by.ident == TIME or world.is_changing(own) or body.ident in world.fields or by.ident in world.definitions:
        return False
    given = variables(world.seen_through(world.definitions[body.ident]))
    if Var(TIME) in given:
        return False  # dx/dα below `x = v0 cos α t` is of where it lands, whenever that is
    moves = body.ident in world.moving or any(map(world.is_changing, given))
    return moves and own in given and not any(v.name == own.name and v.order for v in given)
