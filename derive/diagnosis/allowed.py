"""Values that a mechanic would allow the names of a result: of the usual sign, and such as the page leaves them.

What the page says between a result's own names is kept to, and every bound that can be followed back to them. That the
result exists is not asked: whether it always does is what is to be seen.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from derive.states.context import Context, Premise
from derive.states.elimination import linear
from derive.terms.declared import prior_of
from derive.terms.functions import Array
from derive.terms.prior import Prior, draw
from derive.terms.tape import Tape, taped
from derive.terms.term import Term, Var, postorder, sub, var, variables

# Enough that a bound which one value in eight keeps to leaves some to look at.
_DRAWN = 240
_TURNED = ("sin", "cos", "tan")


class Allowed:
    """What a page leaves the names of one result, with the bounds of what stands later on it."""

    def __init__(self, context: Context, result: str, term: Term, later: Context | None = None) -> None:
        names = tuple(v.name for v in variables(term))
        said = [(p, t) for p, t in _said_of_names(context) if p.sign == "="]
        equations = [t for _, t in said]
        self._context, self._names, self._angles = context, names, _angles_in(term)
        # What follows from other lines may be an identity, which ties nothing.
        self._ties = _ties([t for p, t in said if not p.implied], names, result)
        self._found = _found([sub(var(Var(result)), term), *equations], set(names))
        reached = {*names, *(name for name, _ in self._found)}
        self._bounds = [
            (p.sign, taped(t)) for p, t in _said_of_names(later or context)
            if p.sign in "<>≤≥" and p.kind not in ("range", "custom") and _names(t) <= reached]

    def samples(self, count: int, seed: int) -> tuple[Mapping[str, float], ...]:
        """Admissible values of the names, each drawn by itself where no line says what it is."""
        rng = np.random.default_rng(seed)
        drawn = {name: draw(self._prior(name), _DRAWN, rng) for name in self._names}
        fine = np.ones(_DRAWN, dtype=bool)
        for name, tape in self._ties:
            drawn[name] = _root(tape, drawn, _DRAWN)
            fine &= self._prior(name).admits(drawn[name])
        fine &= self._kept(drawn, _DRAWN)
        which = np.flatnonzero(fine)[:count]
        return tuple({n: float(np.real(drawn[n][i])) for n in self._names} for i in which)

    def admits(self, values: Mapping[str, float]) -> bool:
        """Do values keep to the bounds of the page?"""
        return bool(self._kept({n: np.array([x]) for n, x in values.items()}, 1)[0])

    def _prior(self, name: str) -> Prior:
        """A name without a sign of its own is a size; one whose sine is taken, an angle of a triangle."""
        prior = prior_of(Var(name), self._context.world)
        if prior.bounded or prior.complex:
            return prior
        if prior.typical is not None and prior.typical < 0:
            return replace(prior, upper=0.0)
        return replace(prior, lower=0.0, upper=math.pi / 2 if name in self._angles else math.inf)

    def _kept(self, values: Mapping[str, Array], count: int) -> NDArray[np.bool_]:
        known = dict(values)
        kept = np.ones(count, dtype=bool)
        if not self._bounds:
            return kept
        for name, tape in self._found:
            known[name] = _root(tape, known, count)
        for sign, tape in self._bounds:
            side = _run(tape, known, count)[0]
            kept &= ~(side < 0 if sign in ">≥" else side > 0)  # what has no value there is no bound
        return kept


def _angles_in(term: Term) -> frozenset[str]:
    """The names whose sine, cosine or tangent is taken, not of a sum that may be a phase."""
    return frozenset(
        v.name for t in postorder(term) if t.op == "fun" and t.value in _TURNED and t.args[0].op != "add"
        for v in variables(t.args[0]))


def _said_of_names(context: Context) -> list[tuple[Premise, Term]]:
    """The premises that speak of names alone, of no derivative and no instant."""
    terms = [(p, context.resolved(p.term)) for p in context.premises]
    return [(p, t) for p, t in terms if all(not v.order and not v.at and v.role == "value" for v in variables(t))]


def _names(t: Term) -> set[str]:
    return {v.name for v in variables(t)}


Tie = tuple[str, Tape]


def _ties(equations: Sequence[Term], names: Sequence[str], result: str) -> list[Tie]:
    """What the names of a result are where the page says so by numbers or by each other, in an order to find them."""
    ties: list[Tie] = []
    settled: set[str] = set()
    for t in sorted(equations, key=lambda t: len(variables(t))):
        own = _names(t)
        if result in own or not own <= set(names):
            continue
        name, tape = next(((n, tape) for n in sorted(own - settled) if (tape := _solved(t, n)) is not None), ("", None))
        if tape is not None:
            ties.append((name, tape))
            settled |= own
    return ties


def _found(equations: Sequence[Term], known: set[str]) -> list[Tie]:
    """What follows from known names, one equation after another."""
    found: list[Tie] = []
    reached, left = set(known), list(equations)
    while True:
        for t in left:
            new = tuple(_names(t) - reached)
            tape = _solved(t, new[0]) if len(new) == 1 else None
            if tape is not None:
                found.append((new[0], tape))
                reached.update(new)
                left.remove(t)
                break
        else:
            return found


def _solved(t: Term, name: str) -> Tape | None:
    """Slope and rest of an equation that is linear in a name."""
    split = linear(t, Var(name))
    return None if split is None else taped(*split)


def _root(tape: Tape, values: Mapping[str, Array], count: int) -> Array:
    slope, rest = _run(tape, values, count)
    with np.errstate(all="ignore"):
        return -rest / slope


def _run(tape: Tape, values: Mapping[str, Array], count: int) -> list[Array]:
    with np.errstate(all="ignore"):
        found = tape.run({Var(n): a for n, a in values.items()})
        return [np.real(np.broadcast_to(np.asarray(a), count)) for a in found]
