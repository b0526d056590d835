"""`as m → ∞: a → g`: a limit followed numerically along states in which the variable runs to its end."""

from __future__ import annotations

import numpy as np

from derive.notation.tree import Claim, Relation
from derive.proof.claims import Pair, lower_pair, pairs
from derive.proof.context import Context, Premise
from derive.proof.evidence import weigh
from derive.proof.lowering import INFINITY, lower
from derive.proof.points import Cloud
from derive.proof.setting import Decision, Setting
from derive.proof.tape import Tape
from derive.proof.term import Term, Var, add, mul, num, sub, var
from derive.records import Standing, Verdict

_STEPS = (1e2, 1e4, 1e6)


def tends(pair: Pair, where: Claim | None, setting: Setting, label: str) -> Decision:
    """Decide `left → right` (or `left = right` said of a limit) as the variable of `where` runs."""
    run = _run(where, setting.context)
    if run is None:
        return Decision(Verdict(Standing.TAKEN, code="taken.case"), setting)
    context = setting.regime.context if setting.regime else setting.context
    lowered = lower_pair(pair, context.world)
    left, right = (context.resolved(t) for t in lowered.parts[0])
    gaps, last = [], None
    start: Cloud | None = None
    for step in _STEPS:
        held = Premise("limit", sub(var(run[0]), _place(run, step)), "=", False)
        cloud = setting.states.of(context, (left, right), (held,), 24)
        if not cloud.size:
            return Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), setting)
        gaps.append(_gap(left, right, cloud))
        last, start = cloud, cloud
    del start
    assert last is not None
    if gaps[-1] < 1e-3 and gaps[-1] <= 0.2 * gaps[0] + 1e-9:
        return Decision(Verdict(Standing.FOLLOWS, support="tested", points=24, code="follows.limit"), setting)
    if gaps[-1] > 1e-2:
        found = weigh(left, right, "=", last)
        if found.fails.any():
            return Decision(
                Verdict(Standing.FAILS, strength="unsupported", code="fails.limit", facts=(("gap", f"{gaps[-1]:.2g}"),)),
                setting)
    return Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), setting)


def _run(where: Claim | None, context: Context) -> tuple[Var, Term | None, int] | None:
    """The variable that runs, the end it runs to (None: infinity), and the side it comes from."""
    if not isinstance(where, Relation) or where.signs[0] not in ("→", "=", "≪", "≫"):
        return None
    pair = next(pairs(where))
    variable, end = lower(pair.left, context.world), lower(pair.right, context.world)
    if not isinstance(variable, Term) or not isinstance(end, Term) or variable.op != "var":
        return None
    v = variable.value
    assert isinstance(v, Var)
    if end is INFINITY or pair.sign == "≫":
        return v, None, 1
    negative = end.op == "mul" and INFINITY in end.args
    if negative:
        return v, None, -1
    prior = context.prior(v)
    value = float(np.real(Tape([end]).run({})[0])) if end.op == "num" else None
    side = -1 if value is not None and np.isfinite(prior.upper) and value >= prior.upper else 1
    return v, end, side


def _place(run: tuple[Var, Term | None, int], step: float) -> Term:
    _, end, side = run
    if end is None:
        return num(int(side * step))
    from fractions import Fraction

    return add(end, mul(num(Fraction(side, int(step)))))


def _gap(left: Term, right: Term, cloud: Cloud) -> float:
    lv, rv = Tape([left, right]).run(cloud.columns)
    with np.errstate(all="ignore"):
        if right is INFINITY:
            gap = 1 / np.abs(np.broadcast_to(lv, cloud.size))
        else:
            size = np.maximum(np.abs(rv), np.where(np.abs(rv) == 0, 1.0, 0.0))
            gap = np.abs(lv - rv) / size
    return float(np.nanmedian(gap))
