"""States: random values that satisfy every premise, found by projection.

From random admissible starts, damped least-norm Gauss–Newton steps are taken on all states at once until
every equation holds. Positive unknowns move through their logarithm and bounded ones through the logistic,
so that no step leaves the admissible region. The solver is the classical one for underdetermined systems
(Ben-Israel 1966); the parametrisation, draws and limits were chosen by trial on textbook contexts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from derive.states.elimination import reduced
from derive.terms.functions import Array
from derive.terms.prior import PriorOf, draw, moved
from derive.terms.prior import slope as slope_of
from derive.terms.tape import Tape
from derive.terms.term import Term, Var, postorder, variables

POINTS = 40
# Relative to the size of the parts before they cancel: an equation counts as met below this. Converged
# Gauss-Newton states sit near 1e-14; wrong lines differ by 1e-3 and more.
MET, _WELL_MET = 1e-10, 1e-12
_STEPS = 40
_ROUNDS = 4
_PATIENCE = 7
# Newton steps arrive in two or three once they are this near.
_NEAR, _MOST, _WAIT = 1e-2, 0.6, 3
_SPREADS = (0.7, 1.2, 0.4, 2.0)
_FAR = 30.0
_ENOUGH = 24
# Where a factor is squared its vanishing is only found to the root of the rounding.
_VANISHED, _WELL_AWAY = 1e-7, 1e-3


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
        env = dict(env)
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
                step = _least_norm(r, jac, weight)
                self._advance(env, step, n, self._far(env, r, step, n))
                if headway.is_over(size):
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

    def _advance(self, env: dict[Var, Array], step: Array, n: int, whole: NDArray[np.bool_]) -> None:
        """Take a step, cut short except in the states that are to take it whole."""
        longest = np.max(np.abs(step), axis=1, initial=0)
        step = step * np.where(whole, 1.0, 1 / np.maximum(1.0, longest / 1.5))[:, None]
        for k, v in enumerate(self.free):
            env[v] = moved(self.priors[k], env[v], step[:, k])

    def _far(self, env: dict[Var, Array], r: Array, step: Array, n: int) -> NDArray[np.bool_]:
        """The states whose step is so long that cutting it short would never arrive, and whose whole step brings
        them much nearer: values in units (6000 N) lie far from where states are drawn."""
        far = np.max(np.abs(step), axis=1, initial=0) > _FAR
        if not far.any():
            return far
        there = dict(env)
        self._advance(there, step, n, far)
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


def _worst(values: Sequence[Array], sizes: Sequence[Array], env: Mapping[Var, Array]) -> NDArray[np.float64]:
    n = len(next(iter(env.values())))
    worst = np.zeros(n)
    with np.errstate(all="ignore"):
        for value, size in zip(values, sizes, strict=True):
            part = np.broadcast_to(np.abs(value) / np.maximum(size, 1e-300), n)
            part = np.where(np.abs(value) == 0, 0.0, part)
            worst = np.maximum(worst, np.where(np.isfinite(part), part, np.inf))
    return worst


@dataclass(slots=True)
class _Headway:
    """Whether it is worth going on: not when all have arrived, not when most have and no other is about to (what is
    left wanders far off), not when even the closest come no closer."""

    best: float = np.inf
    since: int = 0
    arrived: int = 0
    waiting: int = 0

    def is_over(self, size: NDArray[np.float64]) -> bool:
        """After another step, from the residuals of the states before it (the worst row of each)."""
        size = np.where(np.isfinite(size), size, np.inf)
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


def _least_norm(r: Array, jac: Array, weight: NDArray[np.float64]) -> Array:
    """The least-norm Newton step of every state, in the metric of the weights; nan rows stay put."""
    bad: Any = ~(np.isfinite(r).all(axis=1) & np.isfinite(jac).all(axis=(1, 2)))
    r, jac = np.where(bad[:, None], 0, r), np.where(bad[:, None, None], 0, jac)
    if np.iscomplexobj(r) or np.iscomplexobj(jac):
        return _least_norm_complex(r, jac, weight)
    jac = np.clip(jac, -1e100, 1e100)
    weighted = jac * weight
    gram = weighted @ jac.transpose(0, 2, 1)
    gram += 1e-13 * np.eye(gram.shape[1]) * np.maximum(np.trace(gram, axis1=1, axis2=2), 1e-30)[:, None, None]
    solved = np.linalg.solve(gram, -r[:, :, None])
    return (weighted.transpose(0, 2, 1) @ solved)[:, :, 0]


def _least_norm_complex(r: Array, jac: Array, weight: NDArray[np.float64]) -> Array:
    gram = (jac * weight) @ jac.conj().transpose(0, 2, 1)
    gram = gram + 1e-13 * np.eye(gram.shape[1]) * np.maximum(
        np.abs(np.trace(gram, axis1=1, axis2=2)), 1e-30)[:, None, None]
    solved = np.linalg.solve(gram, -r[:, :, None])
    return ((jac * weight).conj().transpose(0, 2, 1) @ solved)[:, :, 0]


def isolated(equation: Term) -> list[tuple[Var, Term]]:
    """The ways `equation = 0` reads as `unknown = rest` at sight: a term ±unknown of the sum."""
    return list(_isolated(equation))


@lru_cache(maxsize=4096)  # asked again of every premise at every line
def _isolated(equation: Term) -> tuple[tuple[Var, Term], ...]:
    from derive.terms.term import add, mul, neg, num

    out = []
    parts = equation.args if equation.op == "add" else (equation,)
    for k, part in enumerate(parts):
        factor, core = 1, part
        if part.op == "mul" and len(part.args) == 2 and part.args[0].op == "num":
            factor, core = part.args[0].value, part.args[1]
        if core.op != "var":
            continue
        rest = add(*(p for j, p in enumerate(parts) if j != k)) if len(parts) > 1 else num(0)
        unknown = core.value
        assert isinstance(unknown, Var)
        if unknown not in variables(rest):
            out.append((unknown, neg(rest) if factor == 1 else mul(num(Fraction(-1) / factor), rest)))
    return tuple(out)


def sample(
    system: System, prior_of: PriorOf, rng: np.random.Generator, wanted: int = POINTS,
    start: Mapping[Var, Array] | None = None, also: Sequence[Var] = (), rounds: int = _ROUNDS,
) -> Cloud:
    """States of a system: `wanted` of them if they can be found, fewer or none if not.

    `start` gives values to begin from (kept where the equations allow); `also` names unknowns that no
    equation mentions but that are wanted all the same.
    """
    mentioned = variables(*system.equations, *system.positive, *system.nonzero)
    unknowns = tuple(dict.fromkeys((*mentioned, *also, *(start or {}))))
    simpler = reduced(system.equations, system.positive, prior_of)
    if simpler.impossible:
        return Cloud({v: np.zeros(0) for v in unknowns}, 0, np.inf)
    core = without_identities(System(simpler.equations, simpler.positive), prior_of, rng)
    search = Search(core, Projector(core, prior_of), simpler.given, system.nonzero, prior_of, unknowns)
    found: list[Cloud] = []
    have, closest = 0, np.inf
    for turn in range(rounds):
        good, nearest = search.turn(turn, wanted * (1 if turn == 0 else 2), rng, start if turn == 0 else None, wanted)
        if not unknowns:
            return Cloud({}, wanted if nearest < MET else 0, 0.0)
        closest = min(closest, nearest)
        found.append(good)
        have += good.size
        if have >= min(wanted, _ENOUGH) or (turn == 1 and closest > 1e-3):
            break
    columns = {v: np.concatenate([c.columns[v] for c in found])[:wanted] for v in unknowns}
    return Cloud(columns, min(have, wanted), closest)


@dataclass(frozen=True, slots=True)
class Search:
    """States of a core sought, and completed by what the core's unknowns give."""

    core: System
    projector: Projector
    given: tuple[tuple[Var, Term], ...]
    nonzero: tuple[Term, ...]
    prior_of: PriorOf
    unknowns: tuple[Var, ...]

    def turn(
        self, turn: int, n: int, rng: np.random.Generator, start: Mapping[Var, Array] | None, wanted: int
    ) -> tuple[Cloud, float]:
        """Good states from one set of starts, and how near the nearest came."""
        env = {v: draw(self.prior_of(v), n, rng, _SPREADS[turn]) for v in self.unknowns}
        for v, a in (start or {}).items():
            if len(a):
                env[v] = np.resize(a, n)
        if not env:
            return Cloud(), 0.0 if _holds_bare(self.projector) else np.inf
        _assign(self.core, env, self.prior_of, skip=set(start or ()))
        env, bad = self.projector.project(env)
        env = self._completed(env, n)
        # Where a factor is nearly nothing, an equation can be met within rounding far from its solutions.
        well = bad < _WELL_MET
        met = well if well.sum() >= min(wanted, _ENOUGH) // 2 else bad < MET
        good = Cloud({v: np.asarray(np.broadcast_to(a, n)) for v, a in env.items()}, n).keep(met)
        good = _snapped(good.keep(_tame(good)), self.core, self.prior_of)
        good = good.keep(apart(System(self.core.equations, nonzero=self.nonzero), good))
        ordinary = _ordinary(good, self.prior_of)
        good = good.keep(ordinary) if ordinary.sum() >= min(wanted, _ENOUGH) // 2 else good
        return good, float(np.min(bad, initial=np.inf))

    def _completed(self, env: dict[Var, Array], n: int) -> dict[Var, Array]:
        if not self.given:
            return env
        values = Tape([t for _, t in self.given]).run(env)
        return {**env, **{v: np.broadcast_to(x, n) for (v, _), x in zip(self.given, values, strict=True)}}


def without_identities(system: System, prior_of: PriorOf, rng: np.random.Generator) -> System:
    """A system without equations that hold at random values (a solution put into its own equation): their
    slopes are rounding only, and would send the projection anywhere."""
    if not system.equations:
        return system
    unknowns = variables(*system.equations)
    env = {v: draw(prior_of(v), 6, rng) for v in unknowns} or {Var("", role="dummy"): np.zeros(6)}
    tape = Tape(system.equations)
    values, sizes = tape.run(env), tape.magnitudes(env)
    kept = []
    for e, value, size in zip(system.equations, values, sizes, strict=True):
        with np.errstate(all="ignore"):
            close = np.abs(value) <= 1e-12 * np.abs(size)
        if not bool(np.all(close)):
            kept.append(e)
    return System(tuple(kept), system.positive)


def _holds_bare(projector: Projector) -> bool:
    """For a system without unknowns: are its equations plain truths?"""
    one = {Var("", role="dummy"): np.zeros(1)}
    return bool(projector.residuals(one)[0] < MET) if projector.count else True


def _ordinary(cloud: Cloud, prior_of: PriorOf) -> NDArray[np.bool_]:
    """States whose magnitudes are not lost in rounding beside each other."""
    ok = np.ones(cloud.size, dtype=bool)
    for v, a in cloud.columns.items():
        if prior_of(v).lower == 0 or prior_of(v).upper == 0:
            ok &= (np.abs(a) > 1e-6) & (np.abs(a) < 1e6)
    return ok


def _snapped(cloud: Cloud, system: System, prior_of: PriorOf) -> Cloud:
    """Unknowns that the equations make zero, made exactly so: what is left of them is rounding.

    Not where the equations hold very small numbers of their own (a gravitational constant in SI units).
    """
    if _holds_tiny_numbers(system):
        return cloud
    columns = {
        v: np.where(np.abs(a) < 1e-12, 0.0, a) if prior_of(v).lower < 0 < prior_of(v).upper else a
        for v, a in cloud.columns.items()
    }
    return Cloud(columns, cloud.size, cloud.residual)


def apart(system: System, cloud: Cloud) -> NDArray[np.bool_]:
    """The states in which nothing vanishes that must not: a whole branch of the equations may have it vanish.

    Beside such a branch equations are met within rounding too, so that states well away from it come first.
    """
    if not system.nonzero or not cloud.size:
        return np.ones(cloud.size, dtype=bool)
    with np.errstate(all="ignore"):
        sizes = [np.broadcast_to(np.abs(value), cloud.size) for value in Tape(system.nonzero).run(cloud.env())]
    least = np.min(sizes, axis=0)
    well = least > _WELL_AWAY
    return well if well.any() else least > (0.0 if _holds_tiny_numbers(system) else _VANISHED)


def _holds_tiny_numbers(system: System) -> bool:
    return any(t.op == "num" and 0 < abs(t.value) < 1e-8 for t in postorder(*system.equations))


def _tame(cloud: Cloud) -> NDArray[np.bool_]:
    """States without runaway values, which satisfy equations only by swamping them."""
    ok = np.ones(cloud.size, dtype=bool)
    for a in cloud.columns.values():
        ok &= np.isfinite(a) & (np.abs(a) < 1e30)
    return ok


def _assign(system: System, env: dict[Var, Array], prior_of: PriorOf, skip: set[Var]) -> None:
    """Start from what is isolated: give `x` its value where an equation reads `x = …`, if admissible."""
    given: set[Var] = set(skip)
    given |= _determined(system, env, prior_of, given)
    for equation in system.equations:
        for unknown, rest in isolated(equation):
            if unknown in given or unknown not in env:
                continue
            value = Tape([rest]).run(env)[0]
            prior = prior_of(unknown)
            with np.errstate(all="ignore"):
                ok = np.isfinite(value)
                if not prior.complex:
                    if np.iscomplexobj(value):
                        continue
                    ok = ok & (value > prior.lower) & (value < prior.upper)
            env[unknown] = np.where(ok, value, env[unknown])
            given.add(unknown)
            given.update(variables(rest))
            break


def _determined(system: System, env: dict[Var, Array], prior_of: PriorOf, given: set[Var]) -> set[Var]:
    """Give the unknowns that numbers alone determine one after another (`v = 5`, then `v² = 2 a s`) their
    values, where one Newton step finds them; the unknowns so found."""
    found: set[Var] = set()
    left = [(e, variables(e)) for e in system.equations]
    while True:
        ready = next(((e, vs) for e, vs in left if len([v for v in vs if v not in found]) == 1), None)
        if ready is None:
            return found
        left.remove(ready)
        (unknown,) = (v for v in ready[1] if v not in found)
        value = None if unknown in given or prior_of(unknown).complex else _newton_value(ready[0], unknown, env)
        prior = prior_of(unknown)
        if value is not None and np.all((value > prior.lower) & (value < prior.upper)):
            env[unknown] = value
            found.add(unknown)


def _newton_value(equation: Term, unknown: Var, env: dict[Var, Array]) -> Array | None:
    """Where an equation is linear in an unknown, the value that satisfies it in every state."""
    tape = Tape([equation])
    with np.errstate(all="ignore"):
        values, slopes = tape.jacobian(env, [unknown])
        value = env[unknown] - values[0] / slopes[0][0]
        if np.iscomplexobj(value) or not np.isfinite(value).all():
            return None
        there = {**env, unknown: value}
        off = np.abs(tape.run(there)[0]) / np.maximum(tape.magnitudes(there)[0], 1e-300)
    return value if np.all(off < MET) else None
