"""Terms made numeric: values, magnitudes and exact derivatives at many states at once.

A tape is the list of distinct subterms of some roots, arguments first. It is run over arrays with one
column a state (and, inside an integral, one row a node of the quadrature). Nothing here knows what a
state must satisfy; that is `derive.states.points`.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from derive.terms.allowance import TooLarge, look
from derive.terms.functions import CONSTANTS, FUNCTIONS, Array, nodes_between, power_of, summed
from derive.terms.gradients import Gradient, Gradients
from derive.terms.term import Term, Var, postorder

# A number this small beside its parts is what rounding left of them: divided by, it gives anything.
_LOST = 1e-13
_POLE = 1e12
_MAX_STEPS = 4000


@dataclass(slots=True)
class Inside:
    """An integral's body on its nodes: what it was run on, the value of every step, the weight of every node."""

    env: dict[Var, Array]
    values: list[Array]
    weights: Array
    inside: dict[int, Inside]


class Tape:
    """The distinct subterms of `roots` in running order."""

    def __init__(self, roots: Sequence[Term]) -> None:
        self.roots = tuple(roots)
        self.steps = postorder(*self.roots)
        if len(self.steps) > _MAX_STEPS:
            raise TooLarge
        self.index = {id(t): i for i, t in enumerate(self.steps)}
        self.args = [tuple(self.index[id(a)] for a in t.args) for t in self.steps]
        self.out = [self.index[id(r)] for r in self.roots]
        self.places = {t.value: i for i, t in enumerate(self.steps) if t.op == "var"}
        self.bodies = {i: Tape([t.args[0]]) for i, t in enumerate(self.steps) if t.op == "int"}
        # The body of an integral is run on its own nodes, never on the plain tape.
        inside = _only_inside_integrals(self) if self.bodies else ()
        self.order = [i for i in range(len(self.steps)) if i not in inside]
        self._fixed: list[Array | None] | None = None
        self._moving: list[int] = []
        self._gradients: Gradients | None = None

    def run(self, env: dict[Var, Array]) -> list[Array]:
        """Values of the roots: each an array broadcast over the states of `env`."""
        with np.errstate(all="ignore"):
            values = self.values(env)
        return [values[i] for i in self.out]

    def values(self, env: dict[Var, Array], inside: dict[int, Inside] | None = None) -> list[Array]:
        """The value of every step; what integrals were summed from is left in `inside`, where it is wanted."""
        look()
        values = self._constants()
        for i in self._moving:
            t, args = self.steps[i], self.args[i]
            op = t.op
            value: Array
            if op == "var":
                value = env[t.value]
            elif op == "mul":
                value = values[args[0]] * values[args[1]]
                for j in args[2:]:
                    value = value * values[j]
            elif op == "add":
                value = values[args[0]] + values[args[1]]
                for j in args[2:]:
                    value = value + values[j]
            elif op == "int":
                value = self._integral(i, values, env, inside)
            elif op == "pow":
                value = power_of(t.args[1], values[args[0]], values[args[1]])
            else:
                value = FUNCTIONS[t.value][0](values[args[0]])
            values[i] = value
        return values

    def _constants(self) -> list[Array]:
        """The steps that hold no variable, worked out once; the others are still missing."""
        if self._fixed is None:
            fixed: list[Array | None] = [None] * len(self.steps)
            for i in self.order:
                t, args = self.steps[i], [fixed[j] for j in self.args[i]]
                if t.op in ("var", "int") or any(a is None for a in args):
                    self._moving.append(i)
                else:
                    fixed[i] = _constant(t, args)  # type: ignore[arg-type]
            self._fixed = fixed
        return list(self._fixed)  # type: ignore[arg-type]

    def _integral(
        self, i: int, values: list[Array], env: dict[Var, Array], inside: dict[int, Inside] | None
    ) -> Array:
        (_, lower, upper), body = self.args[i], self.bodies[i]
        inner = {v: np.asarray(env[v])[None] for v in body.places if v in env}
        # Within another integral a limit in plain numbers has to lie across the nodes of that one, not along them.
        depth = max((a.ndim - 1 for a in inner.values()), default=0)
        x, weights = nodes_between(_across(values[lower], depth), _across(values[upper], depth))
        inner[self.steps[i].value] = x
        further: dict[int, Inside] | None = None if inside is None else {}
        found = body.values(inner, further)
        if inside is not None:
            inside[i] = Inside(inner, found, weights, further or {})
        return summed(found[body.out[0]] * weights)

    def magnitudes(self, env: dict[Var, Array]) -> list[Array]:
        """For each root the size its parts have before they cancel: what 'nearly zero' is measured by."""
        with np.errstate(all="ignore"):
            return self.sizes_of(self.values(env))

    def sizes_of(self, values: list[Array]) -> list[Array]:
        """The same where the value of every step is known already."""
        size: list[Array] = [None] * len(self.steps)  # type: ignore[list-item]
        for i in self.order:
            t, args = self.steps[i], [size[j] for j in self.args[i]]
            if t.op == "add":
                size[i] = sum(args[1:], args[0])
            elif t.op == "mul":
                size[i] = _of_a_product([values[j] for j in self.args[i]], args)
            else:
                size[i] = np.abs(values[i]) + self._sensitivity(i, values, args)
        return [size[i] for i in self.out]

    def _sensitivity(self, i: int, values: list[Array], sizes: list[Array]) -> Array | float:
        """How much of its arguments' size a function or power passes on: ln(1 + tiny) is not known to a digit."""
        t = self.steps[i]
        if t.op == "pow":
            base, e = (values[j] for j in self.args[i])
            grown = np.abs(e * values[i] / base) * sizes[0]
            lost: Any = (np.real(e) < 0) & (np.abs(base) < _LOST * sizes[0])
            return np.where(lost, np.nan, np.where(np.isfinite(grown), grown, 0.0))
        if t.op != "fun" or not t.args:
            return 0.0
        x, name = values[self.args[i][0]], str(t.value)
        slope = np.abs(FUNCTIONS[name][1](x, values[i])) * sizes[0]
        if name in ("ln", "log10"):
            lost = np.abs(x) < _LOST * sizes[0]
        else:
            lost = np.abs(values[i]) > _POLE if name in ("tan", "cot", "sec", "csc") else False
        return np.where(lost, np.nan, np.where(np.isfinite(slope), slope, 0.0))

    def gradients(
        self, env: dict[Var, Array], by: Collection[Var]
    ) -> tuple[list[Array], list[Gradient]]:
        """Values of the roots, and of each its derivative by those of `by` that it holds, as far as it spreads."""
        inside: dict[int, Inside] = {}
        with np.errstate(all="ignore"):
            values = self.values(env, inside)
            found = self.slopes_of(values, frozenset(by), env, inside)
        return [values[i] for i in self.out], found

    def slopes_of(
        self, values: list[Array], by: frozenset[Var], env: dict[Var, Array], inside: dict[int, Inside]
    ) -> list[Gradient]:
        """The same where the values are known already."""
        if self._gradients is None:
            self._gradients = Gradients(self)
        return [self._gradients.of(i, values, by, env, inside) for i in self.out]

    def jacobian(self, env: dict[Var, Array], by: Sequence[Var]) -> tuple[list[Array], list[Array]]:
        """Values of the roots, and their derivatives by the variables `by`: arrays (len(by), states)."""
        values, gradients = self.gradients(env, by)
        states = np.broadcast_shapes(*(np.shape(a) for a in env.values())) if env else ()
        out = []
        for gradient in gradients:
            rows = np.zeros((len(by), *states), dtype=np.result_type(float, *gradient.values()))
            for k, v in enumerate(by):
                if v in gradient:
                    rows[k] = gradient[v]
            out.append(rows)
        return values, out


@lru_cache(maxsize=1024)  # two of three are asked for again: of the sides of a line by rule after rule
def taped(*roots: Term) -> Tape:
    """The tape of some terms."""
    return Tape(roots)


def _of_a_product(values: list[Array], sizes: list[Array]) -> Array:
    """The size of the parts of a product, to the first order of what each factor loses: what many factors lose adds up,
    and does not multiply."""
    whole, size = np.abs(values[0]), sizes[0]
    for value, own in zip(values[1:], sizes[1:], strict=True):
        plain = np.abs(value)
        size = size * plain + whole * (own - plain)
        whole = whole * plain
    return size


def _across(a: Array, depth: int) -> Array:
    return np.reshape(a, (1,) * (depth - np.ndim(a)) + np.shape(a)) if np.ndim(a) < depth else a


def _only_inside_integrals(tape: Tape) -> set[int]:
    reached: set[int] = set()
    pending = [tape.index[id(r)] for r in tape.roots]
    while pending:
        i = pending.pop()
        if i not in reached:
            reached.add(i)
            pending.extend(tape.args[i][1:] if tape.steps[i].op == "int" else tape.args[i])
    return set(range(len(tape.steps))) - reached


def _constant(t: Term, args: list[Array]) -> Array:
    if t.op == "num":
        return np.asarray(_as_float(t))
    if t.op == "add":
        return sum(args[1:], args[0])
    if t.op == "mul":
        return math.prod(args[1:], start=args[0])
    if t.op == "pow":
        return power_of(t.args[1], args[0], args[1])
    return FUNCTIONS[t.value][0](args[0]) if t.args else np.asarray(CONSTANTS[t.value])


def _as_float(t: Term) -> float:
    try:
        return float(t.value)
    except OverflowError:
        return math.inf
