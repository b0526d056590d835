"""Whose speed a v is, where symbols are listed: beside one x in metres a v in m/s is dx/dt, unless a given says more,
and an a in m/s² beside it is dv/dt.

Only of x and s, which are measured the way that something goes: a v that falls beside a height y is none of its rates.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from derive.notation.tree import Claim, Expr, Name, Relation, walk
from derive.quantities.unit_table import dimension
from derive.records import Dimension
from derive.states.context import Context, Premise, tied_names
from derive.states.evidence import weigh
from derive.states.states import States
from derive.terms.allowance import TooLarge
from derive.terms.lowering import Meaningless, lower
from derive.terms.placing import instant_key, taken_at
from derive.terms.term import ZERO, Term, Var, sub, var, variables
from derive.terms.world import TIME, World


@dataclass(frozen=True, slots=True)
class _Kind:
    places: frozenset[str]
    of_a_place: Dimension
    speed: str
    of_a_speed: Dimension
    said: str


_PLACES = (
    _Kind(frozenset("xs"), dimension(m=1), "v", dimension(m=1, s=-1), "v being the velocity"),
    _Kind(frozenset("θφ"), dimension(), "ω", dimension(s=-1), "ω being the angular velocity"),
)
_SPEEDS = (
    _Kind(frozenset("v"), dimension(m=1, s=-1), "a", dimension(m=1, s=-2), "a being the acceleration"),
    _Kind(frozenset("ω"), dimension(s=-1), "α", dimension(s=-2), "α being the angular acceleration"),
)
_SAID = frozenset(kind.said for kind in _PLACES)


def with_speeds_declared(context: Context) -> Context:
    """The context in which a place that is declared of t, and of which no given but its start speaks, moves at the
    speed that is declared beside it."""
    for kind, place in _open_places(context):
        if place in context.world.moving:
            context = _at_its_speed(context, kind, place)
    return context


def with_place_by_time(context: Context, claim: Claim) -> Context:
    """The same where a line gives a place that nobody has said to move: `x = ∫_0^t v dt`, `x = (m u/b)(1 - e^(-bt/m))`
    of a mere `x : m`."""
    given = {n.sides[0].ident for n in walk(claim) if isinstance(n, Relation) and isinstance(n.sides[0], Name)
             and n.signs[0] == "=" and _changes(n, context.world)}
    for kind, place in _open_places(context) if given else ():
        if place in given - context.world.moving and _speed(place, kind, context.world):
            moving = context.knowing(replace(context.world, moving=context.world.moving | {place}))
            context = _at_its_speed(moving, kind, place)
    return context


def with_its_start(context: Context, claim: Claim, states: States) -> Context:
    """`x = (m u/b)(1 - e^(-b t/m))` of such a place, nothing at t = 0: it is measured from where it starts, if nobody
    says where that is. (With a constant left out it would start elsewhere.)"""
    world = context.world
    at_first = instant_key(Var(TIME), ZERO)
    for n in (n for n in walk(claim) if isinstance(n, Relation)):
        place = n.sides[0].ident if isinstance(n.sides[0], Name) else ""
        if not any(p.label in _SAID and Var(place, 1, TIME) in variables(p.term) for p in context.premises) or any(
                v.name == place and v.at for p in context.premises for v in variables(p.term)):
            continue
        term = _lowered(n.sides[1], world)
        start = taken_at(world, term, Var(TIME), ZERO) if term is not None and world.changes(term) else None
        if start is not None and weigh(start, ZERO, "=", states.of(context, (start,))).all_hold:
            said = f"{place} being measured from its start"
            nothing = Premise(said, var(Var(place, at=at_first)), "=", False, kind="custom")
            return context.at_instant(at_first, ZERO).adding(nothing)
    return context


def _open_places(context: Context) -> Iterator[tuple[_Kind, str]]:
    """The one place of each kind that is declared, where no premise says how it changes."""
    world = context.world
    for kind in (*_PLACES, *_SPEEDS):
        known = [s for s in world.symbols.values() if s.declared and s.name in kind.places]
        if len(known) != 1 or known[0].dimension != kind.of_a_place or not _speed(known[0].name, kind, world):
            continue
        told = {v.name for p in context.premises for v in variables(p.term) if v.order and not v.at}
        if known[0].name not in told and (known[0].name not in tied_names(context) or known[0].of == TIME):
            yield kind, known[0].name


def _speed(place: str, kind: _Kind, world: World) -> bool:
    """Is its speed declared of t, and of nothing but t?"""
    speed = world.symbols.get(kind.speed)
    return speed is not None and speed.dimension == kind.of_a_speed and speed.name in world.moving and not (
        {speed.name, place} & world.fields.keys() or place in world.fields.values())


def _changes(relation: Relation, world: World) -> bool:
    term = _lowered(relation.sides[1], world)
    return term is not None and world.changes(term)


def _lowered(side: Expr, world: World) -> Term | None:
    try:
        term = lower(side, world)
    except (Meaningless, TooLarge):
        return None
    return term if isinstance(term, Term) else None


def _at_its_speed(context: Context, kind: _Kind, place: str) -> Context:
    rate = sub(var(Var(kind.speed)), var(Var(place, 1, TIME)))
    return context.adding(Premise(kind.said, rate, kind="custom"))
