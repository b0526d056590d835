"""What fits together: the largest recent part of a context that some state satisfies with a line that must stand, and
the premises at odds where no state satisfies all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from derive.states.context import Context, Premise
from derive.states.projection import Cloud
from derive.states.setting import Setting
from derive.states.states import States, freedom
from derive.terms.functions import Array
from derive.terms.isolation import isolated
from derive.terms.term import Term, Var, var, variables

# Contexts of a page have under twenty premises; past this many only the most recent are tried.
_TRIED = 24
_NOTHING, _SOMETHING = 1e-5, 1e-3


def consistent(
    context: Context, must: Sequence[Premise], setting: Setting, oldest: bool = False, courses: bool = False
) -> Context:
    """The largest recent part of a context that some state satisfies together with `must`.

    oldest: what was given is put back before what was drawn from it, in the order of the page.
    courses: adopted solutions stay unless `must` has another; otherwise also those stay out that it speaks of.
    """
    world = context.world
    key = (context.premises, tuple(must), tuple(world.functions.items()), world.formal, oldest, courses)
    found = setting.states.views.get(key)
    if found is None:
        found = setting.states.views[key] = _consistent(context, must, setting, oldest, courses)
    return replace(found, world=replace(context.world, functions=found.world.functions))


def comes_to_nothing(there: Context, parts: Sequence[Term], own: Sequence[Premise], setting: Setting) -> bool:
    """Do the writer's own lines fit the others only where something is nothing that need not be? `tan φ = v0/(ω x0)`
    beside a course that says `tan φ = -v0/(ω x0)` leaves no v0, and where that is so anything follows."""
    said = {p.term for p in own}
    # `d = v0²/a - v0²/a = 0` is what a slip comes to where d is given by others.
    given = {p.sides[0] for p in (*own, *there.premises) if p.sides is not None and p.sign == "="}
    cloud = setting.states.of(there, parts)
    gone = [v for v in variables(*said) if not v.order and var(v) not in said | given and v in cloud.columns and np.all(
        np.abs(cloud.columns[v]) < _NOTHING)]
    if not gone or not cloud.size:
        return False
    here = setting.states.of(setting.context, [var(v) for v in gone])
    return any(v in here.columns and np.any(np.abs(here.columns[v]) > _SOMETHING) for v in gone)


def at_odds(context: Context, states: States) -> tuple[Premise, ...]:
    """Premises that no state satisfies together, line by line as few as will do; none where that cannot be told."""
    lines = list(dict.fromkeys(p.source for p in context.premises if p.source))
    if len(lines) > _TRIED:
        return ()

    def among(kept: Sequence[int]) -> Context:
        return replace(context, premises=tuple(p for p in context.premises if p.source in kept or not p.source))

    kept = lines
    for line in lines:
        fewer = [x for x in kept if x != line]
        if not states.of(among(fewer)).size:
            kept = fewer
    return tuple({p.source: p for p in context.premises if p.source in kept}.values())


def _consistent(
    context: Context, must: Sequence[Premise], setting: Setting, oldest: bool, courses: bool
) -> Context:
    functions = _keepable(context, must, courses)
    base = replace(context, world=replace(context.world, functions=functions), premises=tuple(must))
    if not setting.states.any(base).size:
        base = replace(base, premises=(must[-1],))
        if len(must) == 1 or not setting.states.any(base).size:
            return base
    premises = sorted(context.premises, key=lambda p: p.implied) if oldest else reversed(context.premises)
    pool = tuple(replace(p, implied=False) for p in premises)[:_TRIED]
    kept = _kept(pool, (), base, setting)
    return replace(base, premises=(*reversed(kept), *base.premises))


def _kept(
    pool: tuple[Premise, ...], kept: tuple[Premise, ...], base: Context, setting: Setting
) -> tuple[Premise, ...]:
    """`kept` with what fits of a pool: all of it, or by halves, the more recent half first."""
    if not pool:
        return kept
    before = replace(base, premises=(*reversed(kept), *base.premises))
    candidate = replace(base, premises=(*reversed((*kept, *pool)), *base.premises))
    cloud = setting.states.any(candidate)
    if cloud.size >= 4 and not _collapsed(cloud, setting, before, pool):
        return (*kept, *pool)
    if len(pool) == 1:
        return kept
    half = len(pool) // 2
    return _kept(pool[half:], _kept(pool[:half], kept, base, setting), base, setting)


def _keepable(context: Context, must: Sequence[Premise], courses: bool) -> dict[str, Term]:
    """Adopted solutions, but for the names the writer's own line says something of: `y'' = λ y` is then used
    beside `y = C e^(λt)`, not put into it. With `courses`, only those it gives another course are left out."""
    if courses:
        named = {v.name for p in must for v, _ in isolated(p.term) if not v.order and not v.at}
    else:
        named = {v.name for p in must for v in variables(p.term)}
    return {n: f for n, f in context.world.functions.items() if n not in named}


def _collapsed(cloud: Cloud, setting: Setting, before: Context, pool: Sequence[Premise]) -> bool:
    """Did the last premises fit only by pinning or blowing up a quantity that was free before?

    `a = g sin θ - f` fits `m a = m g sin θ - f` if m happens to be 1: that is not consistency. What the premises
    first bring in and give outright (`d = x(t_1)`), or say something at (`dR/dα = 0 at α = δ`), may come out as it
    will.
    """
    earlier = setting.states.any(before)
    true = setting.states.of(setting.context)
    given = _given(pool, before) - set(earlier.columns) | _places(pool, before)
    if before.world.formal or any(v.role == "constant" for p in before.premises for v in variables(p.term)):
        # Without signs much may vanish; but the broken line stands for one of the page, so as much must stay free.
        given |= _given(before.premises, before)
        if _narrower(replace(before, premises=(*pool, *before.premises)), setting, given):
            return True
    for v, a in cloud.columns.items():
        if v.role != "value" or v.order or v in given or not np.isrealobj(a):
            continue
        if _odd(a) and not any(v in c.columns and _odd(c.columns[v]) for c in (earlier, true)):
            return True
    return False


def _narrower(candidate: Context, setting: Setting, given: set[Var]) -> bool:
    """Is less left free, among constants that no line gives outright, than on the true page?"""
    true = setting.context
    terms = [c.resolved(p.term) for c in (true, candidate) for p in c.premises]
    unknowns = [
        v for v in variables(*terms)
        if v.role != "differential" and not v.at and not true.world.is_changing(v) and v not in given
    ]
    return freedom(candidate, unknowns, (), setting.states) < freedom(true, unknowns, (), setting.states)


def _given(premises: Sequence[Premise], context: Context) -> set[Var]:
    """What some premise gives outright."""
    return {v for p in premises if p.sign == "=" for v, _ in isolated(context.resolved(p.term))}


def _places(premises: Sequence[Premise], context: Context) -> set[Var]:
    """What names the instants and places that some premises are said of."""
    spoken_of = {v.at for p in premises if p.kind == "instant" for v in variables(p.term)}
    return {v for key, place in context.instants if key in spoken_of and place is not None for v in variables(place)}


def _odd(a: Array) -> bool:
    """Vanishing in a good part of the states, runaway, or the same in most: in the others something else vanishes."""
    if not a.size:
        return False
    size = np.sort(np.abs(a))
    middle, low = float(size[a.size // 2]), float(size[a.size // 4])
    same = np.abs(np.real(a) - np.median(np.real(a))) < 1e-6 * middle
    return low < 1e-6 or middle > 1e8 or bool(same.mean() >= 0.5)
