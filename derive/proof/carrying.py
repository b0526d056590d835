"""After a break: what follows from the writer's own line together with what is consistent with it.

The broken line is taken as the writer's own. Premises are put back, the most recent first, as long as some
state satisfies them all; a line that holds in what results is carried, whatever the true context says.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from derive.proof.context import Context, Premise
from derive.proof.evidence import weigh
from derive.proof.points import Cloud
from derive.proof.setting import Decision, Matter, Setting
from derive.proof.tape import Array
from derive.proof.term import Term, variables
from derive.records import Standing, Verdict

# Contexts of a page have under twenty premises; past this many only the most recent are tried.
_TRIED = 24


def carried(m: Matter) -> Decision | None:
    """The pair follows from a line of the writer's own that does not hold."""
    own = m.setting.broken
    if not own or m.lowered.primitives:
        return None
    for context in _writers_contexts(m.setting):
        decision = _carried_in(m, context)
        if decision is not None:
            return decision
    return None


def _writers_contexts(setting: Setting) -> list[Context]:
    """The writer's view from the latest broken line, then from every broken line together."""
    own = setting.broken
    latest = tuple(p for p in own if p.source == own[-1].source)
    views = [consistent(setting.context, latest, setting)]
    if len(own) > len(latest):
        views.append(consistent(setting.context, tuple(reversed(own)), setting))
    return views


def _carried_in(m: Matter, context: Context) -> Decision | None:
    from derive.proof import motion

    parts = [(context.resolved(a), context.resolved(b)) for a, b in m.lowered.parts]
    cloud = m.setting.states.of(context, [t for part in parts for t in part])
    if not cloud.size:
        return None
    if not all(weigh(a, b, m.pair.sign, cloud).all_hold for a, b in parts):
        inside = replace(m, setting=replace(m.setting, context=context, broken=(), proofs=False, goal=()))
        by_motion = motion.general_solution(inside) or motion.integrated(inside)
        if by_motion is None or by_motion.verdict.standing is not Standing.FOLLOWS:
            return None
    source = m.setting.broken[-1].source
    verdict = Verdict(
        Standing.CARRIED, points=cloud.size, code="carried.from", facts=(("line", str(source)),), carried_from=source)
    own = tuple(replace(p, implied=False) for p in m.premises(implied=False))
    return Decision(verdict, replace(m.setting, broken=(*m.setting.broken, *own)))


def consistent(context: Context, must: Sequence[Premise], setting: Setting, oldest: bool = False) -> Context:
    """The largest recent part of a context that some state satisfies together with `must`.

    oldest: what was given is put back before what was drawn from it, in the order of the page.
    """
    key = (context.premises, tuple(must), tuple(context.world.functions.items()), oldest)
    found = setting.states.views.get(key)
    if found is None:
        found = setting.states.views[key] = _consistent(context, must, setting, oldest)
    return replace(found, world=replace(context.world, functions=found.world.functions))


def _consistent(context: Context, must: Sequence[Premise], setting: Setting, oldest: bool) -> Context:
    functions = _keepable(context, must, setting)
    base = replace(context, world=replace(context.world, functions=functions), premises=tuple(must))
    if not setting.states.any(base).size:
        base = replace(base, premises=(must[-1],))
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
    if cloud.size >= 4 and not _collapsed(cloud, setting, before):
        return (*kept, *pool)
    if len(pool) == 1:
        return kept
    half = len(pool) // 2
    return _kept(pool[half:], _kept(pool[:half], kept, base, setting), base, setting)


def _keepable(context: Context, must: Sequence[Premise], setting: Setting) -> dict[str, Term]:
    """Adopted solutions stay unless the writer's own line has another for the same name."""
    named = {v.name for p in must for v in variables(p.term)}
    return {n: f for n, f in context.world.functions.items() if n not in named} or dict(context.world.functions)


def _collapsed(cloud: Cloud, setting: Setting, before: Context) -> bool:
    """Did the last premise fit only by pinning or blowing up a quantity that was free before?

    `a = g sin θ - f` fits `m a = m g sin θ - f` if m happens to be 1: that is not consistency.
    """
    earlier = setting.states.any(before)
    true = setting.states.of(setting.context)
    for v, a in cloud.columns.items():
        if v.role != "value" or v.order or not np.isrealobj(a):
            continue
        if _odd(a) and not any(v in c.columns and _odd(c.columns[v]) for c in (earlier, true)):
            return True
    return False


def _odd(a: Array) -> bool:
    """Vanishing, runaway or the same in every state."""
    if not a.size:
        return False
    middle = float(np.median(np.abs(a)))
    return middle < 1e-6 or middle > 1e8 or float(np.ptp(np.real(a))) < 1e-6 * middle
