"""Whether two sides come together while a variable runs to its end: followed in many figures, state by state."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import mpmath
import numpy as np

from derive.states.context import Context
from derive.states.precise import DIGITS, Beyond, Chart, Values, values
from derive.states.projection import Cloud, System
from derive.steps.limiting.running import Run, place_of, sides_of
from derive.terms.lowering import INFINITY
from derive.terms.term import Term, mul, variables

# How far out the sides are compared, as powers of ten. Each squares the one before, so that even what
# approaches its limit as slowly as 1/ln x shows it: the gap halves. Where Newton's method must follow the
# states on the way, less far and by single decades.
_FAR = (3, 6, 12, 24)
_NEAR = (1, 2, 4, 6)
_STATES, _CORE_STATES = 5, 3
# A gap that shrinks less than this from one place to the next does not vanish; above the other it stays.
_SHRINKS, _STAYS = mpmath.mpf("0.8"), mpmath.mpf("0.95")
_NOTHING = mpmath.mpf(10) ** -50
# What a limit that holds in every state was looked at in.
POINTS = _STATES * len(_FAR)


def come_together(
    left: Term, right: Term, sign: str, run: Run, charted_states: tuple[Chart, System, Cloud], context: Context
) -> bool | None:
    """True where the sides come together in every state, False where in most they do not."""
    chart, _, cloud = charted_states
    found: list[bool | None] = []
    for k in range(min(cloud.size, _CORE_STATES if chart.core else _STATES)):
        with mpmath.workdps(DIGITS):
            state = {v: mpmath.mpf(float(a[k])) for v, a in cloud.columns.items() if np.isrealobj(a)}
            found.extend(_answer_in(state, left, right, sign, run, chart, sides_of(run, context)))
    known = [f for f in found if f is not None]
    if len(known) * 2 <= len(found) or len(known) < 2:
        return None
    return True if all(known) else False if not any(known) else None


def _answer_in(
    state: Values, left: Term, right: Term, sign: str, run: Run, chart: Chart, sides: Sequence[int]
) -> list[bool | None]:
    """Do the sides come together in one state, from the likelier side of an end that can be reached? Beyond all bounds
    (`ω → ω0: A → ∞`) from either. Nothing where no side can be."""
    answers: list[bool | None] = []
    for side in sides:
        try:
            answers.append(_verdict_of(_sides_along(left, right, run, chart, state, side), right, sign))
        except Beyond:
            continue
        if answers[-1] is not False or not is_infinite(right):
            break
    return answers[-1:]


def _sides_along(
    left: Term, right: Term, run: Run, chart: Chart, state: Values, side: int
) -> list[tuple[Any, Any, Any]]:
    """Both sides at each distance, and the least of what the right one is made of. With a core, the states are followed
    decade by decade."""
    held = {v: a for v, a in state.items() if v not in chart.dependent}
    right_terms = [right, *_written_apart(right, run)] if not is_infinite(right) else []
    out = []
    places = _NEAR if chart.core else _FAR
    trail: list[Values] = [state]
    for exponent in range(places[-1] + 1) if chart.core else places:
        env = chart.at({**held, run.variable: place_of(run, held, exponent, side)}, _ahead(trail, chart))
        trail = [*trail[-1:], env]
        if exponent in places:
            found = values([left, *right_terms], env)
            out.append((found[0], found[1] if right_terms else None, min(map(abs, found[1:])) if right_terms else None))
    return out


def _written_apart(right: Term, run: Run) -> Sequence[Term]:
    """The terms of `(τ/c)(t - I/c)` for large t: whoever writes the second one means it."""
    sums = [f for f in (right.args if right.op == "mul" else (right,)) if f.op == "add"]
    if len(sums) != 1 or run.variable not in variables(right):
        return ()
    others = [f for f in right.args if f is not sums[0]] if right.op == "mul" else []
    return [mul(t, *others) for t in sums[0].args]


def _ahead(trail: Sequence[Values], chart: Chart) -> Values:
    """Where the next state is likely to be: each unknown goes on by the factor it last changed by."""
    if len(trail) < 2:
        return trail[-1]
    before, now = trail[-2], trail[-1]
    guess = dict(now)
    for v in chart.solved:
        if before[v] * now[v] > 0 and abs(now[v] / before[v]) < 100:
            guess[v] = now[v] * now[v] / before[v]
    return guess


def is_infinite(t: Term) -> bool:
    return t is INFINITY or (t.op == "mul" and INFINITY in t.args)


def _verdict_of(sides: Sequence[tuple[Any, Any, Any]], right: Term, sign: str) -> bool | None:
    """Do the sides come together (or keep their order) far out?"""
    if sign in "<>≤≥":
        ordered = [(lv < rv if sign in "<≤" else lv > rv) or (sign in "≤≥" and lv == rv) for lv, rv, _ in sides[-2:]]
        return ordered[0] if ordered[0] == ordered[1] else None
    if is_infinite(right):
        positive = right is INFINITY
        if any((lv > 0) is not positive or lv == 0 for lv, _, _ in sides[-2:]):
            return False
        gaps = [1 / abs(lv) for lv, _, _ in sides]
    else:
        gaps = [abs(lv - rv) / (least or abs(rv) or 1) for lv, rv, least in sides]
    shares = [b / a if a > _NOTHING else mpmath.mpf(0) for a, b in pairwise(gaps)]
    if gaps[-1] <= _NOTHING or all(s < _SHRINKS for s in shares[-2:]):
        return True
    return False if shares[-1] > _STAYS else None
