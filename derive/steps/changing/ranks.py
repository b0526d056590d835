"""How many constants of a proposed course are really independent."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from derive.states.context import Context
from derive.states.setting import Matter
from derive.steps.changing.proposals import Proposal
from derive.terms.calculus import derivative
from derive.terms.tape import taped
from derive.terms.term import ONE, ZERO, Var


def independent(p: Proposal, m: Matter, with_course: Context) -> int:
    """The rank of (y, y', …) by the free constants at a typical state: how many are really independent."""
    if not p.free:
        return 0
    moment = m.context.world.variable_of(p.v.name)
    rows = [p.course]
    for _ in range(p.order - 1):
        rows.append(derivative(rows[-1], lambda u: ONE if u == Var(moment) else ZERO))
    others = replace(with_course, premises=tuple(q for q in with_course.premises if q not in p.aside))
    cloud = m.setting.states.of(others, rows)
    if not cloud.size:
        return 0
    env = {v: a[:4] for v, a in cloud.columns.items()}
    _, slopes = taped(*rows).jacobian(env, p.free)
    ranks = []
    for k in range(min(4, cloud.size)):
        jac = np.array([np.broadcast_to(s, (len(p.free), len(next(iter(env.values())))))[:, k] for s in slopes])
        if np.isfinite(jac).all():
            ranks.append(int(np.linalg.matrix_rank(jac, tol=1e-9 * max(1.0, float(np.abs(jac).max())))))
    return max(ranks, default=0)
