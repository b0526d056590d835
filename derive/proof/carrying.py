"""After a break: what follows from the writer's own line together with what is consistent with it.

The broken line is taken as the writer's own. Premises are put back, the most recent first, as long as some
state satisfies them all; a line that follows in what results is carried, whatever the true context says. How
else the writer may have looked at the page (a wrong identity, a sign that no state can have) is in `viewing`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from derive.proof.context import Context, Premise
from derive.proof.points import Cloud, isolated
from derive.proof.setting import Decision, Matter, Setting
from derive.proof.states import freedom
from derive.proof.tape import Array
from derive.proof.term import Term, Var, sub, variables
from derive.records import Standing, Verdict

# Contexts of a page have under twenty premises; past this many only the most recent are tried.
_TRIED = 24
# A condition is believed only where little besides the broken line is assumed: two lines that do not fit each
# other leave odd corners in which anything may hold "if".
_BEST = (Standing.FOLLOWS, Standing.APPROXIMATES)
_GOOD = (*_BEST, Standing.FOLLOWS_IF)

Rule = Callable[[Matter], Decision | None]


def carried(m: Matter, rules: Sequence[Rule]) -> Decision | None:
    """The pair follows, by one of the rules, from a line of the writer's own that does not hold."""
    from derive.proof.viewing import views

    own = m.setting.broken
    if not own:
        return None
    inside = replace(m, setting=replace(m.setting, broken=(), goal=(), proofs=False))
    for view in views(m.setting):
        decision = _decided_in(view.seen(inside), rules, _GOOD if view.narrow else _BEST)
        if decision is not None:
            source = own[-1].source
            verdict = Verdict(
                Standing.CARRIED, points=decision.verdict.points, code="carried.from",
                facts=(("line", str(source)),), carried_from=source)
            return Decision(verdict, replace(m.setting, broken=(*own, *m.premises(implied=False))))
    return None


def writers_own(m: Matter) -> tuple[Premise, ...]:
    """What the writer of a line that fails goes on with: the line, and last what its chain began with as equal to its
    end (`v² = … = 2 (g h + F s/m)`, over several lines or on one)."""
    own = m.premises(implied=False)
    if m.pair.sign != "=" or len(m.lowered.parts) != 1:
        return own
    left, right = m.lowered.parts[0]
    head = left
    for p in reversed(m.context.premises):
        if p.sides is not None and p.sign == "=" and p.sides[1] is head and head.op not in ("var", "num"):
            head = p.sides[0]
    if head is left or head is right:
        return own
    return (*own, replace(own[0], term=sub(head, right), sides=(head, right), pair=None))


def _decided_in(inside: Matter, rules: Sequence[Rule], enough: Sequence[Standing]) -> Decision | None:
    if not inside.setting.states.any(inside.context).size:
        return None
    for rule in rules:
        decision = rule(inside)
        if decision is not None and decision.verdict.standing in enough:
            return decision
    return None


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
    """Vanishing in a good part of the states, runaway, or the same in every state."""
    if not a.size:
        return False
    size = np.sort(np.abs(a))
    middle, low = float(size[a.size // 2]), float(size[a.size // 4])
    return low < 1e-6 or middle > 1e8 or float(np.ptp(np.real(a))) < 1e-6 * middle
