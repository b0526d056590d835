"""`h → 2h: F → 4F`: what becomes of a quantity when another is replaced.

What is held beside it is chosen as for a limit.
"""

from __future__ import annotations

from collections.abc import Iterator

import mpmath
import numpy as np

from derive.notation.printed.printing import as_text
from derive.notation.tree import Claim, Relation
from derive.records import Standing, Verdict
from derive.states.context import Context
from derive.states.precise import DIGITS, Beyond, Chart, values
from derive.states.projection import Cloud
from derive.states.setting import Decision, Setting
from derive.steps.limiting.holding import charts
from derive.steps.limiting.running import Run
from derive.terms.claims import Pair, lower_pair, pairs
from derive.terms.lowering import Meaningless, lower
from derive.terms.term import ZERO, Term, Var, variables

_STATES = 6
# On the way from the old value to the new one, so that a root that is followed stays the same one.
_STEPS = 4
_CLOSE = mpmath.mpf(10) ** -12


def scaled(pair: Pair, where: Claim | None, setting: Setting) -> Decision | None:
    """Decide `left → right`, or `left = right` for the new left, where one name is replaced by a term of itself."""
    replaced = replacement(where, setting.context)
    if replaced is None or pair.sign not in ("→", "=") or where is None:
        return None
    facts = (("case", as_text(where)), ("claim", as_text(pair.relation())))
    for left, right in lower_pair(pair, setting.context.world).parts:
        left, right = setting.context.resolved(left), setting.context.resolved(right)
        answers = list(_answers(left, right, *replaced, setting))
        if not answers or (None in answers and True not in answers):
            return Decision(Verdict(Standing.UNDECIDED, code="undecided.budget"), setting)
        if True not in answers:
            return Decision(Verdict(Standing.FAILS, strength="unsupported", code="fails.scaled", facts=facts), setting)
    verdict = Verdict(Standing.FOLLOWS, support="tested", points=_STATES, code="follows.in_case", facts=facts[:1])
    return Decision(verdict, setting)


def replacement(where: Claim | None, context: Context) -> tuple[Var, Term] | None:
    """The name and the term of it that is put in its place: `h → 2h`, `v → v/3`."""
    if not isinstance(where, Relation) or where.signs != ("→",):
        return None
    pair = next(pairs(where))
    try:
        old, new = lower(pair.left, context.world), lower(pair.right, context.world)
    except Meaningless:
        return None
    if not isinstance(old, Term) or not isinstance(new, Term) or not isinstance(old.value, Var):
        return None
    return (old.value, new) if old.value in variables(new) else None


def _answers(left: Term, right: Term, v: Var, new: Term, setting: Setting) -> Iterator[bool | None]:
    """For each way to hold what stands beside: does the new left side come to the right one as it was before?"""
    kept = ZERO if set(variables(left)) & set(variables(right)) else right
    for chart, _, cloud in charts(left, kept, Run(v, None), setting.context, setting):
        if not {*variables(left, right, new)} <= cloud.columns.keys() | chart.dependent:
            yield None
            continue
        found = [_same(left, right, v, new, chart, cloud, k) for k in range(min(cloud.size, _STATES))]
        known = [f for f in found if f is not None]
        yield all(known) if len(known) > 1 and (all(known) or not any(known)) else None


def _same(left: Term, right: Term, v: Var, new: Term, chart: Chart, cloud: Cloud, k: int) -> bool | None:
    with mpmath.workdps(DIGITS):
        before = {u: mpmath.mpf(float(a[k])) for u, a in cloud.columns.items() if np.isrealobj(a)}
        try:
            held = {u: a for u, a in before.items() if u not in chart.dependent}
            before = env = chart.at(held, before)
            there = values([new], before)[0]
            for step in range(1, _STEPS + 1):
                env = chart.at({**held, v: before[v] + (there - before[v]) * step / _STEPS}, env)
            old, now = values([right], before)[0], values([left], env)[0]
        except (Beyond, KeyError):
            return None
    return bool(abs(old - now) <= _CLOSE * (abs(old) + abs(now)))
