"""Exact derivatives of the roots of a tape, from each root down: every step is passed once.

Reverse accumulation (Linnainmaa 1970), which costs as much for twenty unknowns as for one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np

from derive.terms.functions import FUNCTIONS, Array, power_of
from derive.terms.term import Term, Var, num

if TYPE_CHECKING:
    from derive.terms.tape import Inside, Tape

Gradient = dict[Var, Array]

# The weight of a root, and of what it is a sum of: known by being this very number, and not multiplied by.
_WHOLE = 1.0


@dataclass(frozen=True, slots=True)
class _Pass:
    """A step on the way down: which of its arguments lead to a wanted variable (`led` are these themselves), and (of
    an integral) which wanted variables its body holds."""

    place: int
    term: Term
    args: tuple[int, ...]
    leading: tuple[bool, ...]
    led: tuple[int, ...]
    within: tuple[Var, ...] = ()


class Gradients:
    """The derivatives of one tape; the ways down to the variables are found once."""

    def __init__(self, tape: Tape) -> None:
        self.tape = tape
        self._held = _held(tape)
        self._ways: dict[tuple[int, frozenset[Var]], tuple[_Pass, ...]] = {}

    def of(
        self, root: int, values: Sequence[Array], by: frozenset[Var], env: dict[Var, Array], inside: dict[int, Inside]
    ) -> Gradient:
        """The derivatives of one step by those of `by` that it holds, each in whatever shape spreads to the states."""
        way = self._ways.get((root, by))
        if way is None:
            way = self._ways[root, by] = self._way(root, by)
        found: Gradient = {}
        weights: dict[int, Any] = {root: _WHOLE}
        for step in way:
            weight, op = weights.pop(step.place), step.term.op
            if op == "var":
                found[step.term.value] = weight
                continue
            if op == "add":
                parts: Iterable[tuple[int, Any]] = [(j, weight) for j in step.led]
            elif op == "mul":
                parts = _of_product(step, weight, values)
            elif op == "pow":
                parts = _of_power(step, weight, values)
            elif op == "int":
                parts = self._of_integral(step, weight, values, env, inside)
            else:
                x = step.args[0]
                parts = [(x, _times(weight, FUNCTIONS[step.term.value][1](values[x], values[step.place])))]
            for j, part in parts:
                before = weights.get(j)
                weights[j] = part if before is None else before + part
        return found

    def _way(self, root: int, by: frozenset[Var]) -> tuple[_Pass, ...]:
        """The steps from a root down to the variables, each before its arguments."""
        passes: dict[int, _Pass] = {}
        pending = [root] if self._held[root] & by else []
        while pending:
            i = pending.pop()
            if i in passes:
                continue
            t, args = self.tape.steps[i], self.tape.args[i]
            leading = tuple(bool(self._held[j] & by) for j in args)
            within: tuple[Var, ...] = ()
            if t.op == "int":
                within = tuple(v for v in self._held[args[0]] if v in by and v != t.value)
                leading = (False, *leading[1:])
            led = tuple(j for j, leads in zip(args, leading, strict=True) if leads)
            passes[i] = _Pass(i, t, args, leading, led, within)
            pending.extend(led)
            pending.extend(self.tape.places[v] for v in within)
        return tuple(passes[i] for i in sorted(passes, reverse=True))

    def _of_integral(
        self, step: _Pass, weight: Any, values: Sequence[Array], env: dict[Var, Array], inside: dict[int, Inside]
    ) -> Iterator[tuple[int, Any]]:
        body, (_, lower, upper) = self.tape.bodies[step.place], step.args
        for end, leads, sign in ((lower, step.leading[1], -1.0), (upper, step.leading[2], 1.0)):
            if leads:
                yield end, weight * (sign * body.run({**env, step.term.value: values[end]})[0])
        if step.within:
            here = inside[step.place]
            (slopes,) = body.slopes_of(here.values, frozenset(step.within), here.env, here.inside)
            for v, slope in slopes.items():
                yield self.tape.places[v], weight * np.sum(slope * here.weights, axis=0)


def _times(weight: Any, slope: Any) -> Any:
    return slope if weight is _WHOLE else weight * slope


def _of_product(step: _Pass, weight: Any, values: Sequence[Array]) -> list[tuple[int, Any]]:
    """Each factor with the product of the others: those before it from the left, those after from the right."""
    args = step.args
    if len(args) == 2:  # most are
        one, other = args
        both = ((one, other, step.leading[0]), (other, one, step.leading[1]))
        return [(j, _times(weight, values[k])) for j, k, leads in both if leads]
    before = [weight]
    for j in args[:-1]:
        before.append(_times(before[-1], values[j]))
    found: list[tuple[int, Any]] = []
    after: Any = None
    for k in range(len(args) - 1, -1, -1):
        j = args[k]
        if step.leading[k]:
            found.append((j, before[k] if after is None else _times(before[k], after)))
        after = values[j] if after is None else after * values[j]
    return found


def _of_power(step: _Pass, weight: Any, values: Sequence[Array]) -> Iterator[tuple[int, Any]]:
    (base, e), y, exponent = step.args, values[step.place], step.term.args[1]
    if step.leading[0]:
        if exponent.op == "num":
            factor, lowered, one_less = _lowered(exponent)
            yield base, _times(weight, factor * power_of(lowered, values[base], one_less))
        else:
            yield base, _times(weight, values[e] * y / values[base])
    if step.leading[1]:
        yield e, _times(weight, y * np.log(values[base]))


@lru_cache(maxsize=256)
def _lowered(exponent: Term) -> tuple[float, Term, float]:
    """An exponent as a number, and one less as a term and as a number."""
    q: Fraction = exponent.value
    return float(q), num(q - 1), float(q - 1)


def _held(tape: Tape) -> list[frozenset[Var]]:
    """The free variables of every step."""
    held: list[frozenset[Var]] = []
    for t, args in zip(tape.steps, tape.args, strict=True):
        if t.op == "var":
            below = frozenset((t.value,))
        elif len(args) == 1:
            below = held[args[0]]
        else:
            below = frozenset().union(*(held[j] for j in args))
        held.append(below - {t.value} if t.op == "int" else below)
    return held
