"""`T ∝ √L`: the ratio of the two sides does not change with anything that stands in the right one.

What is worked out while a name of the right side is varied, and what is held, is chosen as for a limit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from derive.records import Standing, Verdict
from derive.states.context import Premise, tied_names
from derive.states.dependence import HELD, weights
from derive.states.projection import Cloud, Projector, System
from derive.states.setting import Decision, Matter
from derive.states.yielding import without_values_of
from derive.steps.customs.customary import with_sizes
from derive.steps.limiting.holding import worked_out_first
from derive.terms.functions import Array
from derive.terms.tape import taped
from derive.terms.term import Term, Var, mul, sub, var, variables
from derive.terms.world import TIME

# Per unit of ln of the varied name: below the first the ratio stays, above the second it does not.
_STAYS, _CHANGES = 1e-6, 1e-4
_COUNT = 24
_TIED = 1e-9


def proportional(m: Matter) -> Decision | None:
    """Decide a pair with the sign ∝, or take it where nothing yet ties its left side."""
    if m.pair.sign != "∝":
        return None
    inside = with_sizes(m) or m  # where a mass is nothing, a balance of forces says nothing
    answers = [_answer(inside, left, right) for left, right in m.lowered.parts]
    if all(a is True for a in answers):
        return Decision(Verdict(Standing.FOLLOWS, support="tested", points=_COUNT, code="follows.plain",
                                premises=m.cites), m.setting)
    if any(a is False for a in answers):
        return Decision(Verdict(Standing.FAILS, strength="unsupported", code="fails.proportion"), m.setting)
    open_still = Decision(Verdict(Standing.UNDECIDED, code="undecided.proportion"), m.setting)
    return _started(m) or _of_told_values(inside, m) or open_still


def _of_told_values(inside: Matter, m: Matter) -> Decision | None:
    """`P ~ v³` on a quick page that has told what P and v are: how they go together is found without these values, or
    it is brought in as a law."""
    known = tied_names(m.context)
    if m.setting.strict or not all(v.name in known and not v.order for v in m.unknowns):
        return None
    free = without_values_of(inside.context, {v.name for v in m.unknowns})
    view = replace(inside, setting=inside.setting.within(free))
    if all(_answer(view, left, right) is True for left, right in m.lowered.parts):
        return Decision(Verdict(Standing.FOLLOWS, support="tested", points=_COUNT, code="follows.plain"), m.setting)
    return Decision(Verdict(Standing.TAKEN, code="taken.law"), m.setting)


def equations(m: Matter, kind: str) -> tuple[Premise, ...]:
    """What a proportion says, with a factor of its own that nothing else ties down."""
    factor = var(Var(f"∝{m.number}", role="constant"))
    return tuple(
        Premise(m.label, sub(left, mul(factor, right)), "=", True, False, m.number, kind)
        for left, right in m.lowered.parts)


def _started(m: Matter) -> Decision | None:
    """`F ∝ v²` of something nothing speaks of: taken."""
    loose = {v.name for left, _ in m.lowered.parts for v in variables(left)} - tied_names(m.context) - {TIME}
    if not loose:
        return None
    name = ", ".join(sorted(loose))
    verdict = Verdict(Standing.TAKEN, code="taken.start", facts=(("name", name),), introduces=tuple(sorted(loose)))
    return Decision(verdict, m.setting.within(m.context.adding(*equations(m, "start"))))


def _answer(m: Matter, left: Term, right: Term) -> bool | None:
    """Does the ratio stay (True) or change (False) as a name of the right side is varied?"""
    left, right = m.context.resolved(left), m.context.resolved(right)
    system = m.context.system((left, right))
    cloud = m.setting.states.of(m.context, (left, right), count=_COUNT)
    if not cloud.size:
        return None
    dependent = _worked_out(m, left, right, system, cloud)
    varied = [v for v in variables(right) if v not in dependent]
    if not varied or not _reached(left, varied, dependent):
        return None
    slopes = _slopes(left, right, dependent, varied, system, cloud)
    known = slopes[np.isfinite(slopes)]
    if (known > _CHANGES).any():
        return False
    return True if known.size * 4 >= max(slopes.size, 16) and (known < _STAYS).all() else None


def _reached(left: Term, varied: Sequence[Var], dependent: Sequence[Var]) -> bool:
    """Does anything tie the left side: its own names are worked out, or are those that are varied?"""
    return any(v in dependent or v in varied for v in variables(left))


def _worked_out(m: Matter, left: Term, right: Term, system: System, cloud: Cloud) -> tuple[Var, ...]:
    if not system.equations:
        return ()
    projector = Projector(system, m.context.prior)
    first: dict[Var, Array] = {v: a.reshape(-1)[:1] for v, a in cloud.columns.items()}
    order = worked_out_first(left, right, (), system, projector.free, m.context)
    return tuple(v for v, w in weights(projector, first, order).items() if w > HELD)


def _slopes(
    left: Term, right: Term, dependent: Sequence[Var], varied: Sequence[Var], system: System, cloud: Cloud
) -> NDArray[np.float64]:
    """|d ln(left/right) / d ln v| for every varied name at every state, along the solution set."""
    unknowns = [*dependent, *varied]
    values, gradients = taped(left, right, *system.equations).jacobian(dict(cloud.columns), unknowns)
    rows = [np.broadcast_to(g, (len(unknowns), cloud.size)) for g in gradients]
    out = np.full((len(varied), cloud.size), np.nan)
    with np.errstate(all="ignore"):
        sides = [row / np.broadcast_to(v, cloud.size) for row, v in zip(rows[:2], values[:2], strict=True)]
        ratio = sides[0] - sides[1]
        for k in range(cloud.size):
            along = _along(np.array([row[:, k] for row in rows[2:]]), len(dependent))
            for j, v in enumerate(varied):
                step = along[:, j] if along is not None else None
                if step is not None:
                    out[j, k] = abs((ratio[: len(dependent), k] @ step + ratio[len(dependent) + j, k])
                                    * cloud.columns[v][k])
    return out.ravel()


def _along(rows: NDArray[np.float64], dependent: int) -> NDArray[np.float64] | None:
    """How the dependent unknowns move with each varied one, from the slopes of the equations."""
    if not dependent:
        return np.zeros((0, rows.shape[1] if rows.size else 1))
    if not np.isfinite(rows).all():
        return None
    size = np.linalg.norm(rows, axis=1, keepdims=True)
    rows = rows / np.where(size > 0, size, 1)
    if np.linalg.matrix_rank(rows[:, :dependent], _TIED) < dependent:  # where a mass is nothing, less is said
        return None
    return np.asarray(np.linalg.lstsq(rows[:, :dependent], -rows[:, dependent:], rcond=None)[0], dtype=float)
