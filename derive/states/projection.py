"""Projection: states moved onto the solution set of a system, all at once.

Damped least-norm Gauss–Newton steps are taken on all states until every equation holds, in coordinates in which no
step leaves the admissible region. The solver is the classical one for underdetermined systems (Ben-Israel 1966); the
parametrisation and limits were chosen by trial on textbook contexts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from derive.states.coordinates import Coordinates
from derive.terms.functions import Array
from derive.terms.prior import PriorOf
from derive.terms.tape import Inside, taped
from derive.terms.term import IMAGINARY, Term, Var, postorder, variables

# Relative to the size of the parts before they cancel: an equation counts as met below this. Converged
# Gauss-Newton states sit near 1e-14; wrong lines differ by 1e-3 and more.
MET = 1e-10
_STEPS = 40
_PATIENCE = 7
# Newton steps arrive in two or three once they are this near.
_NEAR, _MOST, _WAIT = 1e-2, 0.6, 3
_FAR = 30.0
_FEW = 1
_LARGEST = 1e100
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


@dataclass(frozen=True, slots=True)
class _Seen:
    """What some states look like: the value of every step of the tape, those of equations and inequalities (rows,
    states), and both with their slopes, each row scaled to unit slope: (states, rows) and (states, rows, unknowns)."""

    steps: list[Array]
    values: Array
    r: Array
    jac: Array

    @property
    def worst(self) -> NDArray[np.float64]:
        return np.asarray(np.abs(self.r).max(axis=1, initial=0))


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
        priors = [prior_of(v) for v in self.free]
        self.coordinates = Coordinates(priors)
        # What no step makes negative need not be pushed away from nothing: ω = 7·10⁻⁵ is far enough.
        self.tape = taped(*system.equations, *(
            t for t in system.positive if not (isinstance(t.value, Var) and t.value in self.place
                                               and prior_of(t.value).lower >= 0)))
        self.count = len(system.equations)
        self.complex = np.array([p.complex for p in priors], dtype=bool)
        self.unreal = bool(self.complex.any()) or any(t is IMAGINARY for t in self.tape.steps)
        self._by = frozenset(self.free)
        # Where little is left, what comes of a few small numbers may lie far off all the same: 2π √(2/k) = 1.2.
        self.far = len(self.free) <= _FEW or any(
            t.op == "num" and t.value and not 1 / _FAR <= abs(t.value) <= _FAR for t in postorder(*system.equations))

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
        found = self._project(env, weights, steps)
        if self.far and not (found[1] < MET).any():
            boldly = self._project(env, weights, steps, bold=True)
            return boldly if (boldly[1] < MET).any() else found
        return found

    def _project(
        self, env: dict[Var, Array], weights: Mapping[Var, float] | None, steps: int, bold: bool = False
    ) -> tuple[dict[Var, Array], NDArray[np.float64]]:
        # Beside complex unknowns the roots of negative numbers exist; what is real stays so all the same.
        env = {v: a.astype(complex) if self.unreal else a for v, a in env.items()}
        n = len(next(iter(env.values())))
        with np.errstate(all="ignore"):
            if not self.free:
                return env, _unless_positive(self.residuals(env), self.tape.run(env)[self.count :])
            weight = None if weights is None else np.array([weights.get(v, 1.0) for v in self.free])
            x: Array = np.array([np.broadcast_to(env[v], n) for v in self.free], complex if self.unreal else float)
            seen: _Seen | None = self._seen(env, x)
            headway = _Headway()
            for _ in range(steps):
                seen = seen or self._seen(env, x)
                size = seen.worst
                if float(np.fmax.reduce(size, initial=0.0)) < 1e-13:
                    break
                step = _least_norm(seen.r, seen.jac, weight, self.complex).T
                length = np.max(np.abs(step) / self.coordinates.reach(x), axis=0)
                env, x, seen = self._moved(env, x, seen, step, self.coordinates.reach(x) if bold else None)
                if headway.is_over(size, length):
                    break
            return env, self._violations(seen or self._seen(env, x))

    def _seen(self, env: dict[Var, Array], x: Array) -> _Seen:
        """The states at `x`, which are those of `env`."""
        n, inside = x.shape[1], dict[int, Inside]()
        steps = self.tape.values(env, inside)
        slopes = self.tape.slopes_of(steps, self._by, env, inside)
        values = np.empty((len(slopes), n), x.dtype)
        jac = np.zeros((len(slopes), len(self.free), n), x.dtype)
        for k, (place, slope) in enumerate(zip(self.tape.out, slopes, strict=True)):
            values[k] = steps[place]
            for v, a in slope.items():
                jac[k, self.place[v]] = a
        if not self.coordinates.none_bounded:
            jac *= self.coordinates.slopes(x)
        r = values
        if self.count < len(values):  # an inequality pushes only where it is violated
            r = values.copy()
            active = ~(r[self.count :] > 1e-3)
            r[self.count :] = np.where(active, r[self.count :] - 0.3, 0.0)
            jac[self.count :] = np.where(active[:, None], jac[self.count :], 0.0)
        size = np.sqrt((jac.real**2 + jac.imag**2 if self.unreal else jac * jac).sum(axis=1))
        size = np.where((size > 0) & np.isfinite(size), size, 1.0)
        return _Seen(steps, values, (r / size).T, (jac / size[:, None]).transpose(2, 0, 1))

    def _moved(
        self, env: dict[Var, Array], x: Array, seen: _Seen, step: Array, reach: Array | None
    ) -> tuple[dict[Var, Array], Array, _Seen | None]:
        """The states after a step, cut short; and what they look like, where that was worked out.

        A step so long that cutting it short would never arrive is taken whole in the states that it brings much
        nearer: values in units (6000 N) lie far from where states are drawn.

        reach: what a step is cut short by: the sizes of the values, where no cautious step has led to a state.
        """
        if self.unreal:
            step = np.where(self.complex[:, None], step, step.real)
        longest = np.max(np.abs(step), axis=0)
        cut = longest if reach is None else np.max(np.abs(step) / reach, axis=0)
        short = step * (1 / np.maximum(1.0, cut / 1.5))
        far = longest > _FAR
        if far.any():
            there = self.coordinates.moved(x, np.where(far, step, short))
            whole = self._at(env, there)
            after = self._seen(whole, there)
            nearer = after.worst < 0.5 * seen.worst
            if nearer[far].all():
                return whole, there, after
            short = np.where(far & nearer, step, short)
        x = self.coordinates.moved(x, short)
        return self._at(env, x), x, None

    def _at(self, env: dict[Var, Array], x: Array) -> dict[Var, Array]:
        return {**env, **dict(zip(self.free, x, strict=True))}

    def _violations(self, seen: _Seen) -> NDArray[np.float64]:
        """Per state the worst equation: its relative residual, or (for `x = 0`, whose parts vanish with it)
        a thousand times its distance in the moving coordinates, whichever is less."""
        gaps = np.abs(seen.values[: self.count])
        sizes = np.empty(gaps.shape)
        for k, size in enumerate(self.tape.sizes_of(seen.steps)[: self.count]):
            sizes[k] = size
        parts = np.minimum(gaps / np.maximum(sizes, 1e-300), np.abs(seen.r.T[: self.count]) * 1e3)
        parts = np.where(np.isfinite(parts), parts, np.where(gaps == 0, 0.0, np.inf))
        return _unless_positive(parts.max(axis=0, initial=0.0), seen.values[self.count :])


def _unless_positive(bad: NDArray[np.float64], values: Sequence[Array] | Array) -> NDArray[np.float64]:
    """How bad each state is: past all use where something is not positive that must be."""
    for value in values:
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


def _least_norm(
    r: Array, jac: Array, weight: NDArray[np.float64] | None, unreal: NDArray[np.bool_]
) -> Array:
    """The least-norm Newton step of every state, in the metric of the weights; nan rows stay put."""
    if not (np.isfinite(r).all() and np.abs(jac).max(initial=0.0) <= _LARGEST):
        bad: Any = ~(np.isfinite(r).all(axis=1) & np.isfinite(jac).all(axis=(1, 2)))
        r, jac = np.where(bad[:, None], 0, r), np.where(bad[:, None, None], 0, jac)
    if np.iscomplexobj(r) or np.iscomplexobj(jac):
        return _least_norm_complex(r, jac, weight, unreal)
    jac = np.clip(jac, -_LARGEST, _LARGEST)
    weighted = jac if weight is None else jac * weight
    gram = weighted @ jac.transpose(0, 2, 1)
    diagonal = np.einsum("kii->ki", gram)
    diagonal += 1e-13 * np.maximum(diagonal.sum(axis=1, keepdims=True), 1e-30)
    solved = -r[:, :, None] / gram if gram.shape[1] == 1 else np.linalg.solve(gram, -r[:, :, None])
    return (weighted.transpose(0, 2, 1) @ solved)[:, :, 0]


def _least_norm_complex(
    r: Array, jac: Array, weight: NDArray[np.float64] | None, unreal: NDArray[np.bool_]
) -> Array:
    """The same for complex equations, taken as two real ones each; `unreal` marks the unknowns that have two parts."""
    across = 1j * jac[:, :, unreal]
    whole = np.concatenate([jac, across], axis=2)
    parts = np.concatenate([whole.real, whole.imag], axis=1)
    step = _least_norm(
        np.concatenate([r.real, r.imag], axis=1), parts,
        None if weight is None else np.concatenate([weight, weight[unreal]]), unreal[:0])
    out = step[:, : jac.shape[2]]
    if not unreal.any():
        return out
    turned = np.zeros(out.shape)
    turned[:, unreal] = step[:, jac.shape[2]:]
    return out + 1j * turned
