"""What the states of a context say of a pair of sides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from derive.states.context import Context, Premise
from derive.states.evidence import Evidence, weigh
from derive.states.projection import Cloud
from derive.states.setting import Matter
from derive.terms.calculus import partial
from derive.terms.tape import taped
from derive.terms.term import ZERO, Term, Var, mul, substitute, variables


def evidence(m: Matter, context: Context | None = None, extra: Sequence[Premise] = ()) -> tuple[list[Evidence], Cloud]:
    """What the states of a context say of every part of a pair."""
    context = context or m.context
    parts = [(context.resolved(a), context.resolved(b)) for a, b in m.lowered.parts]
    cloud = m.setting.states.of(context, [t for part in parts for t in part], extra)
    found = [weigh(a, b, m.pair.sign, cloud) for a, b in parts]
    if m.pair.sign == "=" and not all(e.all_hold for e in found) and all(_nearly(e) for e in found):
        met = _where_roots_meet(m, context, extra, cloud)
        again = m.setting.states.of(context, [t for part in parts for t in part], (*extra, *met)) if met else cloud
        if met and again.size:
            return [weigh(a, b, m.pair.sign, again) for a, b in parts], again
    if m.pair.sign == "=" and len(parts) == 1 and _is_met_as_nothing(parts[0], context, extra, cloud):
        return [replace(e, holds=e.holds | e.fails, fails=e.fails & False) for e in found], cloud
    return found, cloud


_LOST = 1e-11  # the share of an equation that rounding leaves open


def _is_met_as_nothing(
    sides: tuple[Term, Term], context: Context, extra: Sequence[Premise], cloud: Cloud
) -> bool:
    """`v = 0` where v² is nothing to all figures in every state, so that v itself is to half of them."""
    v = sides[0].value if sides[1] is ZERO and sides[0].op == "var" else None
    if not isinstance(v, Var) or not cloud.size:
        return False
    for p in (*context.premises, *extra):
        term = context.resolved(p.term) if p.sign == "=" else ZERO
        slope = partial(term, v) if v in variables(term) else ZERO
        if variables(slope) and substitute(slope, {sides[0]: ZERO}) is ZERO and cloud.columns.keys() >= {
                *variables(term)} and _is_lost(mul(slope, sides[0]), term, cloud):
            return True
    return False


def _is_lost(part: Term, whole: Term, cloud: Cloud) -> bool:
    """Does a part of a sum come to nothing beside the rest of it, in every state?"""
    env = dict(cloud.columns)
    with np.errstate(all="ignore"):
        size = np.broadcast_to(np.abs(taped(whole).magnitudes(env)[0]), cloud.size)
        return bool((np.abs(taped(part).run(env)[0]) <= _LOST * size).all())


_NEARLY = 1e-5  # where two roots of an equation meet, states are met to half the figures


def _nearly(e: Evidence) -> bool:
    """Are the sides equal to half the figures in every state?"""
    with np.errstate(all="ignore"):
        off = np.abs(e.left - e.right)
        return bool(off.size) and bool((off <= _NEARLY * np.maximum(np.abs(e.left) + np.abs(e.right), 1e-300)).all())


def _where_roots_meet(m: Matter, context: Context, extra: Sequence[Premise], cloud: Cloud) -> tuple[Premise, ...]:
    """That two roots meet, where every state says so: `2 I λ + c = 0` in the case c² = 4 I k of `I λ² + c λ + k = 0`.
    With it such states are met to all figures."""
    out = []
    for p in (*context.premises, *extra):
        term = context.resolved(p.term)
        for v in variables(term) if p.sign == "=" else ():
            slope = partial(term, v) if v in m.unknowns else ZERO
            if variables(slope) and cloud.columns.keys() >= set(variables(slope)) and _nearly_nothing(slope, cloud):
                out.append(Premise(p.label, slope, "=", always=False))
    return tuple(out)


def _nearly_nothing(t: Term, cloud: Cloud) -> bool:
    env = dict(cloud.columns)
    tape = taped(t)
    with np.errstate(all="ignore"):
        return bool((np.abs(tape.run(env)[0]) <= _NEARLY * np.abs(tape.magnitudes(env)[0])).all())
