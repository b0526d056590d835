"""Names declared without `(t)` or `(θ)` that must change all the same, because what they stand for does.

`L : J` with `L = ½ m x'² - ½ k x²` is as much a function of the motion as x is; held constant it would forbid
most motions. `E = ½ m x'² + ½ k x²` may be constant, and is left so, as long as that forbids no state of the
motion: whether it does is asked of the states. Names that nothing gives outright are `moving.settled`'s business.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from derive.states.context import Context, Premise
from derive.states.projection import Cloud
from derive.states.sizes import CONSTANT_SIZES, KEPT
from derive.states.states import States, freedom
from derive.terms.term import Var, var, variables
from derive.terms.world import TIME, World

# More names than this given by the motion are a page of definitions; asking each in turn would be slow.
_ASKED = 8
_AT_REST = 1e-7
_NOTHING = 1e-7


def with_restless(context: Context, states: States) -> Context:
    """The context in which every name given by moving quantities moves, if holding it constant would not do."""
    context = _with_restless_fields(context, states)
    names = _given_by_motion(context.world)[:_ASKED]
    if not names:
        return context
    all_move = _moving(context, names)
    unknowns = state_of_motion(context, names)
    most = freedom(all_move, unknowns, (), states)
    if most < 0:
        return context
    others = {n: _moving(context, [o for o in names if o != n]) for n in names}
    restless = [n for n in names if freedom(others[n], unknowns, (), states) < most]
    return _moving(context, restless) if restless else context


def _with_restless_fields(context: Context, states: States) -> Context:
    """`F = μ m g/D` with D a function of θ, `E = K + U` with E one of r: what they are made of, or make up, is one as
    well, if held constant it would let them be nothing else."""
    for place in sorted(set(context.world.fields.values()) - context.world.moving):
        fields = [n for n, by in context.world.fields.items() if by == place]
        if not _at_rest(fields, place, context, states):
            continue
        along = _going_along(place, context)
        # What a line gives outright before what only stands beside it: `F = F0 (1 - v/u)` does not make u one of v.
        for some in ([n for n in along if n in context.world.definitions], along):
            freed = context.knowing(replace(
                context.world, fields={**dict.fromkeys(some, place), **context.world.fields}))
            if some and not _at_rest(fields, place, freed, states):
                context = freed
                break
    return context


def _at_rest(fields: Sequence[str], place: str, context: Context, states: States) -> bool:
    """Is there no state, or none in which some field changes with the place?"""
    slopes = [Var(n, 1, place) for n in fields]
    cloud = states.of(context, [var(v) for v in slopes])
    return any(bool((np.abs(cloud.columns[v]) < _AT_REST).all()) for v in slopes if v in cloud.columns)


def _going_along(place: str, context: Context) -> list[str]:
    """The names that equations tie to a place or to a function of it, but for those that are sizes by their letter."""
    world = context.world
    tied = {place, *(n for n, by in world.fields.items() if by == place)}
    equations = [{v.name for v in variables(p.term) if v.role == "value"} for p in context.premises if p.sign == "="]
    for _ in range(_ASKED):
        more = {n for names in equations if names & tied for n in names if n.partition("_")[0] not in CONSTANT_SIZES}
        if more <= tied:
            break
        tied |= more
    return sorted(n for n in tied - {place, TIME} if not world.is_changing(Var(n)) and n not in world.functions)


def _given_by_motion(world: World) -> list[str]:
    """Names that a premise gives outright in terms of what moves, and that are held constant so far."""
    still = [n for n in world.definitions if not (
        n in KEPT or n in world.moving or n in world.fields or n in world.varying or n in world.functions)]
    return [n for n in still if _moves(world, n)]


def _moves(world: World, name: str) -> bool:
    return any(
        not v.at and v.role == "value" and (v.name in world.moving or v.wrt == TIME or v.name == TIME)
        for v in variables(world.seen_through(world.definitions[name])))


def _moving(context: Context, names: list[str]) -> Context:
    return context.knowing(replace(context.world, moving=context.world.moving | frozenset(names)))


def forbids_motions(context: Context, premises: Sequence[Premise], constants: Sequence[str], states: States) -> bool:
    """Does a relation, whatever the values of its new constants, rule out states of the motion that the context
    admits? Then no constants make it hold at all times. How the motion starts is left open: with that, only one
    motion is left, and constants that fit it would seem to rule out all others."""
    spoken_of_instants = [p for p in context.premises if any(v.at for v in variables(p.term))]
    context = replace(
        context, instants=(), premises=tuple(p for p in context.premises if p not in spoken_of_instants))
    unknowns = state_of_motion(context, constants)
    before = freedom(context, unknowns, (), states)
    if before < 0 or freedom(context, unknowns, premises, states) >= before:
        return False
    own = [v for v in unknowns if v.name not in context.world.definitions]  # that an energy stays is a law
    if _lets_something_vanish(own, context, premises, states):
        return True
    # Below `a = dv/dt` alone an equation of motion rules out motions, as is its business.
    world = context.world
    further = [Var(n, 2, world.variable_of(n)) for n in _moving_with(context, premises) if world.variable_of(n)]
    return freedom(context, [*unknowns, *further], (), states) == before


def _lets_something_vanish(
    unknowns: Sequence[Var], context: Context, premises: Sequence[Premise], states: States
) -> bool:
    """Do the relations hold only where some constant or rate is nothing, one or another, that need not be? `v = u ln m`
    below `m v' = -u m'` is right where nothing is thrown out, and where what is thrown out has no speed."""
    after, before = (states.of(context, [*map(var, unknowns)], extra) for extra in (premises, ()))
    return after.size > 0 and _least(unknowns, after) < _NOTHING < _least(unknowns, before)


def _least(unknowns: Sequence[Var], cloud: Cloud) -> float:
    """The smallest of the unknowns, at the state where that is largest."""
    sizes = [np.broadcast_to(np.abs(cloud.columns[v]), cloud.size) for v in unknowns if v in cloud.columns]
    return float(np.max(np.min(sizes, axis=0))) if sizes and cloud.size else 0.0


def _moving_with(context: Context, premises: Sequence[Premise]) -> list[str]:
    """The changing quantities that relations speak of, and those tied to them by what the context says."""
    def changing(p: Premise) -> set[str]:
        return {v.name for v in variables(context.resolved(p.term)) if context.world.is_changing(v)} - {TIME}

    found = set().union(*map(changing, premises))
    for _ in context.premises:
        more = set().union(*(here for p in context.premises if (here := changing(p)) & found)) - found
        if not more:
            break
        found |= more
    return sorted(found)


def state_of_motion(context: Context, without: Sequence[str]) -> list[Var]:
    """Where the changing quantities are and how fast they change, and every constant beside them: a first integral
    leaves all of these free."""
    world = context.world
    own = sorted({
        v.name for p in context.premises for v in variables(p.term)
        if v.role in ("value", "differential") and not v.at and v.name not in without})
    out = [Var(n) for n in own]
    out += [Var(n, 1, world.variable_of(n)) for n in own if world.variable_of(n)]
    out += [Var(n, role="differential") for n in own if n in world.varying and not world.variable_of(n)]
    return out
