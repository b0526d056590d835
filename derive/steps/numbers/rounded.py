"""Lines that agree with numbers above to the figures these were written in: `a = F/m` below `F = 7 N`, `m = 3 kg` and
`a = 2.3 m/s²`, or `v² = 15² + 2*9.81*6` below `v = √(11.5² + 14.5²) = 18.5 m/s`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from derive.notation.tree import names_in
from derive.records import Standing, Verdict
from derive.states.consistency import consistent
from derive.states.context import Context, Premise
from derive.states.evidence import weigh
from derive.states.setting import Decision, Matter
from derive.terms.numbers import bare_number, spread
from derive.terms.tape import taped
from derive.terms.term import Term, Var, variables

# A last digit may be rounded either way when the value sits between two: allow a twentieth beyond half.
_LENIENCE = 1.05
# A value given in one figure may be as exact as one in two: 5 g is not taken for anything from 4.5 to 5.5.
_LARGEST_SHARE = 0.025
_FIGURES = 12


def agrees_with_rounded_givens(m: Matter) -> Decision | None:
    """Values that were given as decimals, and agree with the line to the figures they were given in."""
    return _agrees_in(m, m.context, m.context.premises)


def agrees_with_rounded_results(m: Matter) -> Decision | None:
    """Numbers put together in another way, `v² = 15² + 2*9.81*6`, against a result above that was rounded."""
    reckoned = [s for s in (m.pair.left, m.pair.right) if not names_in(s) and bare_number(s) is None]
    if len(reckoned) != 1 or not m.setting.rounded:
        return None
    results = tuple(reversed(m.setting.rounded))
    return _agrees_in(m, consistent(m.context, results, m.setting), (*m.context.premises, *results))


def _agrees_in(m: Matter, context: Context, premises: Iterable[Premise]) -> Decision | None:
    if m.pair.sign not in ("=", "≈") or len(m.lowered.parts) != 1 or m.lowered.primitives or m.fresh:
        return None
    left, right = (context.resolved(t) for t in m.lowered.parts[0])
    told = dict(_numbers_told(premises))
    here = variables(left, right)
    if not told.keys() >= set(here):
        return None  # `V = m1 u/m2` near to a V that relations give is another formula
    halves = _halves(told)
    by = [v for v in here if v in halves]
    slack = _slack(m, context, (left, right), by, halves) if by else None
    cloud = m.setting.states.of(context, (left, right))
    if slack is None or not weigh(left, right, "=", cloud, slack).all_hold:
        return None
    verdict = Verdict(Standing.APPROXIMATES, points=cloud.size, support="tested", code="approximates.rounded")
    return Decision(verdict, m.setting)


def _slack(
    m: Matter, context: Context, sides: tuple[Term, Term], by: list[Var], halves: dict[Var, float]
) -> NDArray[np.float64] | None:
    """How far the sides may be apart by the figures that `by` have lost; None where the sides are no single numbers."""
    cloud = m.setting.states.of(context, sides)
    if not cloud.size or any(v not in cloud.columns for v in by):
        return None
    values, slopes = taped(*sides).jacobian(cloud.columns, by)
    if any(np.iscomplexobj(a) or spread(np.broadcast_to(a, cloud.size)) > 1e-9 for a in values):
        return None
    half = np.array([halves[v] for v in by])[:, None]
    gap = np.broadcast_to(np.abs(slopes[0] - slopes[1]), (len(by), cloud.size))
    total: NDArray[np.float64] = _LENIENCE * np.sum(gap * half, axis=0)
    return total


def _halves(told: dict[Var, Fraction]) -> dict[Var, float]:
    """Half of the last figure of every decimal."""
    out: dict[Var, float] = {}
    for name, value in told.items():
        figures = next((k for k in range(_FIGURES + 1) if not (value * 10**k).denominator - 1), 0)
        if figures:
            out[name] = min(0.5 * 10.0**-figures, _LARGEST_SHARE * abs(float(value)))
    return out


def _numbers_told(premises: Iterable[Premise]) -> Iterator[tuple[Var, Fraction]]:
    """What gives a name its number outright."""
    for p in premises:
        if p.sides is not None and p.sign == "=" and not p.implied and p.sides[0].op == "var" and (
                p.sides[1].op == "num"):
            yield p.sides[0].value, p.sides[1].value
        elif p.sides is None and p.sign == "=" and p.term.op == "add":  # the end of a chain, of its head
            names, numbers = ([a for a in p.term.args if a.op == op] for op in ("var", "num"))
            if len(names) == len(numbers) == 1 and len(p.term.args) == 2:
                yield names[0].value, -numbers[0].value
