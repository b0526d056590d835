"""Projection: states moved onto the solution set of a system, all at once.

Damped least-norm Gauss–Newton steps are taken on all states until every equation holds. Positive unknowns move
through their logarithm and bounded ones through the logistic, so that no step leaves the admissible region. The
solver is the classical one for underdetermined systems (Ben-Israel 1966); the parametrisation and limits were
chosen by trial on textbook contexts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from derive.terms.functions import Array
from derive.terms.prior import PriorOf, moved
from derive.terms.prior import slope as slope_of
from derive.terms.tape import Tape
from derive.terms.term import IMAGINARY, Term, Var, variables

# Relative to the size of the parts before they cancel: an equation counts as met below this. Converged
# Gauss-Newton states sit near 1e-14; wrong lines differ by 1e-3 and more.
MET = 1e-10
_STEPS = 40
_PATIENCE = 7
# Newton steps arrive in two or three once they are this near.
_NEAR, _MOST, _WAIT = 1e-2, 0.6, 3
_FAR = 30.0
_STILL, _STILLEST = 1e-8, 1e-13


@dataclass(frozen=True, slots=True)
class System:
    """Equations `term = 0`, and terms that must be positive (`strict`) or must not vanish in every state."""

    equations: tuple[Term, ...] = ()
    positive: tuple[Term, ...] = ()
    nonzero: tuple[Term, ...] = ()


@dataclass(slots=True)
class Cloud:
    """States side by side: one array of equal length for every unknown. `met` is False where none was found."""

    columns: dict[Var, Array] = field(default_factory=dict)
    size: int = 0
    residual: float = 0.0

    def env(self) -> dict[Var, Array]:
        return self.columns

    def keep(self, mask: NDArray[np.bool_]) -> Cloud:
        return Cloud({v: a[mask] for v, a in self.columns.items()}, int(mask.sum()), self.residual)


class Projector:
    """The equations of a system made numeric once, and projected onto as often as wanted."""

    def __init__(self, system: System, prior_of: PriorOf, fixed: Sequence[Var] = ()) -> None:
        self.system = system
        # The instants at which "for all t" is imposed stay where they were drawn: moved, they would settle
        # where the equation happens to hold.
        self.free = [
            v for v in variables(*system.equations, *system.positive)
            if v not in set(fixed) and not v.at.startswith("#")
        ]
        self.place = {v: k for k, v in enumerate(self.free)}
        self.priors = [prior_of(v) for v in self.free]
        self.tape = Tape([*system.equations, *system.positive])
        self.count = len(system.equations)
        self.complex = np.array([p.complex for p in self.priors], dtype=bool)
        self.unreal = bool(self.complex.any()) or any(t is IMAGINARY for t in self.tape.steps)

    def residuals(self, env: Mapping[Var, Array]) -> NDArray[np.float64]:
        """Per state the worst relative residual of the equations (inf where one is undefined)."""
        if not self.system.equations:
            n = len(next(iter(env.values()))) if env else 0
            return np.zeros(n)
        values = self.tape.run(dict(env))[: self.count]
        sizes = self.tape.magnitudes(dict(env))[: self.count]
        return _worst(values, sizes, env)

    def project(
        self, env: dict[Var, Array], weights: Mapping[Var, float] | None = None, steps: int = _STEPS
    ) -> tuple[dict[Var, Array], NDArray[np.float64]]:
        """Move the states onto the solution set; also the worst relative residual left in each."""
        # Beside complex unknowns the roots of negative numbers exist; what is real stays so all the same.
        env = {v: a.astype(complex) if self.unreal else a for v, a in env.items()}
        n = len(next(iter(env.values())))
        weight = np.array([1.0 if weights is None else weights.get(v, 1.0) for v in self.free])
        if not self.free:
            return env, self._violations(env)
        headway = _Headway()
        with np.errstate(all="ignore"):
            for _ in range(steps):
                values, slopes = self.tape.gradients(env, self.free)
                r, jac = self._rows(values, slopes, env, n)
                size = np.max(np.abs(r), axis=1, initial=0)
                if float(np.nanmax(size, initial=0)) < 1e-13:
                    break
                step = _least_norm(r, jac, weight, self.complex)
                length = self._length(env, step)
                self._advance(env, step, self._far(env, r, step, n))
                if headway.is_over(size, length):
                    break
        return env, self._violations(env)

    def _rows(
        self, values: list[Array], slopes: list[dict[Var, Array]], env: dict[Var, Array], n: int
    ) -> tuple[Array, Array]:
        """Residuals (states, rows) and Jacobian (states, rows, unknowns), each row scaled to unit slope."""
        kind = np.result_type(float, *values, *(a for slope in slopes for a in slope.values()))
        r, jac = np.empty((len(values), n), kind), np.zeros((len(values), len(self.free), n), kind)
        for k, (value, slope) in enumerate(zip(values, slopes, strict=True)):
            r[k] = value
            for v, a in slope.items():
                jac[k, self.place[v]] = a
        with np.errstate(all="ignore"):
            for j, (prior, v) in enumerate(zip(self.priors, self.free, strict=True)):
                if prior.bounded:
                    jac[:, j] *= slope_of(prior, env[v])
        if self.count < len(values):  # an inequality pushes only where it is violated
            active = ~(r[self.count :] > 1e-3)
            r[self.count :] = np.where(active, r[self.count :] - 0.3, 0.0)
            jac[self.count :] = np.where(active[:, None], jac[self.count :], 0.0)
        with np.errstate(all="ignore"):
            size = np.linalg.norm(jac, axis=1)
        size = np.where((size > 0) & np.isfinite(size), size, 1.0)
        return (r / size).T, (jac / size[:, None]).transpose(2, 0, 1)

    def _advance(self, env: dict[Var, Array], step: Array, whole: NDArray[np.bool_]) -> None:
        """Take a step, cut short except in the states that are to take it whole."""
        longest = np.max(np.abs(step), axis=1, initial=0)
        step = step * np.where(whole, 1.0, 1 / np.maximum(1.0, longest / 1.5))[:, None]
        for k, v in enumerate(self.free):
            env[v] = moved(self.priors[k], env[v], step[:, k] if self.complex[k] else step[:, k].real)

    def _length(self, env: dict[Var, Array], step: Array) -> NDArray[np.float64]:
        """How far a step moves each state, beside what its values are."""
        reach = [1.0 if p.bounded else np.maximum(1.0, np.abs(env[v]))
                 for p, v in zip(self.priors, self.free, strict=True)]
        moves = [np.abs(step[:, k]) / one for k, one in enumerate(reach)]
        return np.asarray(np.maximum.reduce(moves))

    def _far(self, env: dict[Var, Array], r: Array, step: Array, n: int) -> NDArray[np.bool_]:
        """The states whose step is so long that cutting it short would never arrive, and whose whole step brings
        them much nearer: values in units (6000 N) lie far from where states are drawn."""
        far = np.max(np.abs(step), axis=1, initial=0) > _FAR
        if not far.any():
            return far
        there = dict(env)
        self._advance(there, step, far)
        values, slopes = self.tape.gradients(there, self.free)
        after, _ = self._rows(values, slopes, there, n)
        return far & (np.max(np.abs(after), axis=1) < 0.5 * np.max(np.abs(r), axis=1))

    def _off(self, env: dict[Var, Array]) -> NDArray[np.float64]:
        """Per state the worst equation: its relative residual, or (for `x = 0`, whose parts vanish with it)
        a thousand times its distance in the moving coordinates, whichever is less."""
        n = len(next(iter(env.values())))
        if not self.count or not self.free:
            return self.residuals(env)
        values, slopes = self.tape.gradients(env, self.free)
        sizes = self.tape.magnitudes(env)
        r, _ = self._rows(values, slopes, env, n)
        worst = np.zeros(n)
        with np.errstate(all="ignore"):
            for k in range(self.count):
                gap = np.abs(np.broadcast_to(values[k], n))
                part = np.minimum(gap / np.maximum(sizes[k], 1e-300), np.abs(r[:, k]) * 1e3)
                worst = np.maximum(worst, np.where(np.isfinite(part), part, np.where(gap == 0, 0.0, np.inf)))
        return worst

    def _violations(self, env: dict[Var, Array]) -> NDArray[np.float64]:
        bad = self._off(env)
        if self.system.positive:
            with np.errstate(all="ignore"):
                for value in self.tape.run(env)[self.count :]:
                    bad = np.where(value > 0, bad, np.inf)
        return bad


@dataclass(slots=True)
class _Headway:
    """Whether it is worth going on: not when all have arrived, not when most have and no other is about to (what is
    left wanders far off), not when even the closest come no closer."""

    best: float = np.inf
    since: int = 0
    arrived: int = 0
    waiting: int = 0
    before: NDArray[np.float64] | None = None

    def is_over(self, size: NDArray[np.float64], length: NDArray[np.float64]) -> bool:
        """After another step, from its lengths and the residuals of the states before it (the worst row of each).

        A short step after a much longer one leaves less to be moved by as much again (Newton); where steps shrink
        slowly, as towards a double root, they have to be shorter. Beside large numbers the residual itself may
        never be seen to vanish.
        """
        still = length < _STILLEST
        if self.before is not None:
            still |= (length < _STILL) & (length < 0.01 * self.before)
        self.before = length
        size = np.where(np.isfinite(size), np.where(still, 0.0, size), np.inf)
        arrived = int((size < 1e-12).sum())
        if arrived == size.size:
            return True
        self.waiting = 0 if arrived > self.arrived else self.waiting + 1
        self.arrived = arrived
        if arrived >= _MOST * size.size and self.waiting >= _WAIT and not (size < _NEAR)[size >= 1e-12].any():
            return True
        close = float(np.partition(size, size.size // 4)[size.size // 4])
        self.best, self.since = (close, 0) if close < 0.7 * self.best else (self.best, self.since + 1)
        return self.since >= _PATIENCE


def _worst(values: Sequence[Array], sizes: Sequence[Array], env: Mapping[Var, Array]) -> NDArray[np.float64]:
    n = len(next(iter(env.values())))
    worst = np.zeros(n)
    with np.errstate(all="ignore"):
        for value, size in zip(values, sizes, strict=True):
            part = np.broadcast_to(np.abs(value) / np.maximum(size, 1e-300), n)
            part = np.where(np.abs(value) == 0, 0.0, part)
            worst = np.maximum(worst, np.where(np.isfinite(part), part, np.inf))
    return worst


def _least_norm(r: Array, jac: Array, weight: NDArray[np.float64], unreal: NDArray[np.bool_]) -> Array:
    """The least-norm Newton step of every state, in the metric of the weights; nan rows stay put."""
    bad: Any = ~(np.isfinite(r).all(axis=1) & np.isfinite(jac).all(axis=(1, 2)))
    r, jac = np.where(bad[:, None], 0, r), np.where(bad[:, None, None], 0, jac)
    if np.iscomplexobj(r) or np.iscomplexobj(jac):
        return _least_norm_complex(r, jac, weight, unreal)
    jac = np.clip(jac, -1e100, 1e100)
    weighted = jac * weight
    gram = weighted @ jac.transpose(0, 2, 1)
    gram += 1e-13 * np.eye(gram.shape[1]) * np.maximum(np.trace(gram, axis1=1, axis2=2), 1e-30)[:, None, None]
    solved = np.linalg.solve(gram, -r[:, :, None])
    return (weighted.transpose(0, 2, 1) @ solved)[:, :, 0]


def _least_norm_complex(r: Array, jac: Array, weight: NDArray[np.float64], unreal: NDArray[np.bool_]) -> Array:
    """The same for complex equations, taken as two real ones each; `unreal` marks the unknowns that have two parts."""
    across = 1j * jac[:, :, unreal]
    whole = np.concatenate([jac, across], axis=2)
    parts = np.concatenate([whole.real, whole.imag], axis=1)
    step = _least_norm(
        np.concatenate([r.real, r.imag], axis=1), parts, np.concatenate([weight, weight[unreal]]), unreal[:0])
    out = step[:, : jac.shape[2]]
    if not unreal.any():
        return out
    turned = np.zeros(out.shape)
    turned[:, unreal] = step[:, jac.shape[2]:]
    return out + 1j * turned
