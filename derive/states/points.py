"""States: random values that satisfy every premise, sought from random admissible starts.

The draws and limits were chosen by trial on textbook contexts; how states are moved is `projection`'s.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from derive.states.elimination import reduced
from derive.states.magnitudes import brought_to_size
from derive.states.projection import MET, Cloud, Projector, System
from derive.states.roots import begin_at_roots
from derive.terms.functions import Array
from derive.terms.isolation import Power, from_logarithms, isolated, powers
from derive.terms.prior import PriorOf, draw
from derive.terms.tape import Tape, taped
from derive.terms.term import Term, Var, is_run_over, postorder, variables

POINTS = 40
_WELL_MET = 1e-12
_ROUNDS = 4
_SPREADS = (0.7, 1.2, 0.4, 2.0)
_ENOUGH = 24
_TURNING = ("sin", "cos", "tan")
_MOST_TURNED = 1e7
# Where a factor is squared its vanishing is only found to the root of the rounding.
_VANISHED, _WELL_AWAY = 1e-7, 1e-3


def sample(
    system: System, prior_of: PriorOf, rng: np.random.Generator, wanted: int = POINTS, also: Sequence[Var] = ()
) -> Cloud:
    """States of a system: `wanted` of them if they can be found, fewer or none if not; `also` names unknowns that no
    equation mentions but that are wanted all the same."""
    return Search.of(system, prior_of, rng).states(wanted, also=also)


@dataclass(frozen=True, slots=True)
class Search:
    """States of a core sought, and completed by what the core's unknowns give. Made ready once: a few states are
    asked for, and then more; each time from the same place of `rng`, so that what was asked before makes no
    difference."""

    system: System
    core: System
    projector: Projector
    given: tuple[tuple[Var, Term], ...]
    completing: Tape  # what is given, in numbers
    turning: Tape | None  # what sines and cosines are taken of
    prior_of: PriorOf
    impossible: bool
    rng: np.random.Generator
    begin: Mapping[str, Any]

    @staticmethod
    def of(system: System, prior_of: PriorOf, rng: np.random.Generator) -> Search:
        """The search for the states of a system, with what its equations give outright taken out."""
        simpler = reduced(system.equations, system.positive, prior_of)
        core = System(simpler.equations, simpler.positive)
        if not simpler.impossible:
            core = without_identities(core, prior_of, rng)
        completing = taped(*(t for _, t in simpler.given))
        angles = dict.fromkeys(
            t.args[0] for t in postorder(*core.equations)
            if t.op == "fun" and t.value in _TURNING and variables(t) and not is_run_over(t))
        turning = taped(*angles) if angles else None
        return Search(
            system, core, Projector(core, prior_of), simpler.given, completing, turning, prior_of, simpler.impossible,
            rng, rng.bit_generator.state)

    def states(
        self, wanted: int = POINTS, start: Mapping[Var, Array] | None = None, also: Sequence[Var] = (),
        rounds: int = _ROUNDS,
    ) -> Cloud:
        """`start` gives values to begin from, kept where the equations allow."""
        mentioned = variables(*self.system.equations, *self.system.positive, *self.system.nonzero)
        unknowns = tuple(dict.fromkeys((*mentioned, *also, *(start or {}))))
        if self.impossible:
            return Cloud({v: np.zeros(0) for v in unknowns}, 0, np.inf)
        rng = self.rng
        rng.bit_generator.state = self.begin
        found: list[Cloud] = []
        have, closest = 0, np.inf
        for turn in range(rounds):
            n = wanted * (1 if turn == 0 else 2)
            env = self._begun(unknowns, turn, n, rng, start if turn == 0 and start else {})
            if not env:
                return Cloud({}, wanted if _holds_bare(self.projector) else 0, 0.0)
            good, nearest = self._turn(env, n, min(wanted, _ENOUGH) // 2)
            closest = min(closest, nearest)
            found.append(good)
            have += good.size
            if have >= min(wanted, _ENOUGH) or (turn == 1 and closest > 1e-3):
                break
        if not have and self.projector.far:
            env = brought_to_size(self.core, self._begun(unknowns, 0, 2 * wanted, rng, {}), self.prior_of)
            good, closest = self._turn(env, 2 * wanted, min(wanted, _ENOUGH) // 2)
            found, have = [good], good.size
        columns = {v: np.concatenate([c.columns[v] for c in found])[:wanted] for v in unknowns}
        return Cloud(columns, min(have, wanted), closest)

    def _turn(self, env: dict[Var, Array], n: int, enough: int) -> tuple[Cloud, float]:
        """Good states from one set of starts, and how near the nearest came."""
        env, bad = self.projector.project(env)
        env = self._completed(env, n)
        # Where a factor is nearly nothing, an equation can be met within rounding far from its solutions.
        well = bad < _WELL_MET
        met = well if well.sum() >= enough else bad < MET
        good = Cloud({v: np.asarray(np.broadcast_to(a, n)) for v, a in env.items()}, n).keep(met)
        whole = System((*self.core.equations, *(t for _, t in self.given)), nonzero=self.system.nonzero)
        good = _snapped(good.keep(_tame(good, whole) & self._turned(good)), whole, self.prior_of)
        good = good.keep(apart(whole, good))
        ordinary = _ordinary(good, self.prior_of)
        good = good.keep(ordinary) if ordinary.sum() >= enough else good
        return good, float(np.min(bad, initial=np.inf))

    def _turned(self, cloud: Cloud) -> NDArray[np.bool_]:
        """States in which no angle is so large that its sine could be any number."""
        ok = np.ones(cloud.size, dtype=bool)
        for angle in self.turning.run(cloud.columns) if self.turning is not None and cloud.size else ():
            ok &= np.abs(np.broadcast_to(angle, cloud.size)) < _MOST_TURNED
        return ok

    def _begun(
        self, unknowns: Sequence[Var], turn: int, n: int, rng: np.random.Generator, start: Mapping[Var, Array]
    ) -> dict[Var, Array]:
        """Where states are sought from: those at `start`, each once (a state met many times over would count as
        many), and random ones."""
        roots = turn % 2 == 1
        env = {v: draw(self.prior_of(v), n, rng, _SPREADS[turn]) for v in {**dict.fromkeys(unknowns), **start}}
        _assign(self.core, env, self.prior_of, set(), roots)
        known = min(n, max(map(len, start.values()), default=0))
        if not known:
            return env
        head = {**{v: a[:known] for v, a in env.items()}, **{v: a[:known] for v, a in start.items()}}
        _assign(self.core, head, self.prior_of, set(start), roots)
        return {v: np.concatenate([np.broadcast_to(head[v], known), a[known:]]) for v, a in env.items()}

    def _completed(self, env: dict[Var, Array], n: int) -> dict[Var, Array]:
        if not self.given:
            return env
        values = self.completing.run(env)
        return {**env, **{v: np.broadcast_to(x, n) for (v, _), x in zip(self.given, values, strict=True)}}


def without_identities(system: System, prior_of: PriorOf, rng: np.random.Generator) -> System:
    """A system without equations that hold at random values (a solution put into its own equation): their
    slopes are rounding only, and would send the projection anywhere. Those for which some quantity has to be positive
    are asked at values that make it so."""
    if not system.equations:
        return system
    unknowns = variables(*system.equations, *system.positive)
    env = {v: draw(prior_of(v), 6 if not system.positive else 24, rng) for v in unknowns}
    env = _positive_ones(env, system) or {Var("", role="dummy"): np.zeros(6)}
    tape = taped(*system.equations)
    values, sizes = tape.run(env), tape.magnitudes(env)
    kept = []
    for e, value, size in zip(system.equations, values, sizes, strict=True):
        with np.errstate(all="ignore"):
            close = np.abs(value) <= 1e-12 * np.abs(size)
        has_value = np.isfinite(value)  # √t has none before the start
        if not bool(np.all(close | ~has_value)) or np.sum(has_value) < min(3, np.size(value)):
            kept.append(e)
    return System(tuple(kept), system.positive)


def _positive_ones(env: dict[Var, NDArray[np.float64]], system: System) -> dict[Var, NDArray[np.float64]]:
    """Values at which all that has to be positive is, or all of them where that is so at hardly any."""
    if not env or not system.positive:
        return env
    with np.errstate(all="ignore"):
        found = [np.broadcast_to(np.real(a), 24) > 0 for a in taped(*system.positive).run(env)]
    fine = np.logical_and.reduce(found)
    return {v: a[fine][:6] for v, a in env.items()} if fine.sum() >= 3 else env


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
        sizes = [np.broadcast_to(np.abs(value), cloud.size) for value in taped(*system.nonzero).run(cloud.env())]
    least = np.min(sizes, axis=0)
    well = least > _WELL_AWAY
    return well if well.any() else least > (0.0 if _holds_tiny_numbers(system) else _VANISHED)


def _holds_tiny_numbers(system: System) -> bool:
    return any(t.op == "num" and 0 < abs(t.value) < 1e-8 for t in postorder(*system.equations))


_RUNAWAY = 1e30
_BEYOND_ALL = 1e8  # times the largest number that an equation holds: the mass of a galaxy, from that of a sun


def _tame(cloud: Cloud, system: System) -> NDArray[np.bool_]:
    """States without runaway values, which satisfy equations only by swamping them."""
    ok = np.ones(cloud.size, dtype=bool)
    largest = max((abs(t.value) for t in postorder(*system.equations) if t.op == "num"), default=0)
    most = max(_RUNAWAY, _BEYOND_ALL * float(largest)) if largest < 10**200 else np.inf
    for a in cloud.columns.values():
        ok &= np.isfinite(a) & (np.abs(a) < most)
    return ok


def _assign(system: System, env: dict[Var, Array], prior_of: PriorOf, skip: set[Var], roots: bool) -> None:
    """Start from what is isolated: give `x` its value where an equation reads `x = …`, if admissible, and in some of
    the turns where it reads `a x³ = …`; what only one equation speaks of comes last, for it binds nothing."""
    given: set[Var] = set(skip)
    given |= _determined(system, env, prior_of, given)
    begin_at_roots(system.equations, env, prior_of, given)
    uses = Counter(v for e in system.equations for v in variables(e))
    last = [e for e in system.equations if any(uses[v] == 1 and v not in given for v, _ in isolated(e))]
    for equation in system.equations:
        if equation not in last:
            _assign_isolated(equation, env, prior_of, given)
    for equation in sorted(system.equations, key=lambda e: len(variables(e))) if roots else ():
        if equation not in last:
            _assign_power(equation, env, prior_of, given)
    for equation in last:
        _assign_isolated(equation, env, prior_of, given, uses)


def _assign_isolated(
    equation: Term, env: dict[Var, Array], prior_of: PriorOf, given: set[Var], uses: Mapping[Var, int] | None = None
) -> None:
    for unknown, rest in (*isolated(equation), *from_logarithms(equation)):
        if unknown in given or unknown not in env or (uses and uses[unknown] > 1):
            continue
        value = taped(rest).run(env)[0]
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
        return


def _assign_power(equation: Term, env: dict[Var, Array], prior_of: PriorOf, given: set[Var]) -> None:
    """`G M = 4·10¹⁴`, `r³ = G M T²/(4 π²)`: a root that no step along the slope would reach in time."""
    for power in powers(equation):
        unknown = power.unknown
        if unknown in given or unknown not in env or prior_of(unknown).complex:
            continue
        root = root_of(power, env)
        if root is None:
            continue
        prior = prior_of(unknown)
        with np.errstate(all="ignore"):
            ok = np.isfinite(root) & (root > prior.lower) & (root < prior.upper)
        env[unknown] = np.where(ok, root, env[unknown])
        given.update(variables(equation))
        return


def root_of(power: Power, env: Mapping[Var, Array]) -> Array | None:
    """The value of an unknown in one term as a whole power, of an even one the root on its own side of 0; nan where
    there is none, None where values are complex."""
    own, e = env[power.unknown], power.exponent
    by, *others = taped(power.term, *power.rest).run({**env, power.unknown: np.ones_like(own)})
    with np.errstate(all="ignore"):
        value = -sum(others, np.zeros_like(own)) / by
        if np.iscomplexobj(value):
            return None
        root = np.abs(value) ** (1 / e) * np.where(e % 2, np.sign(value), np.sign(own))
        return np.where((value > 0) | (e % 2 == 1), root, np.nan)


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
    tape = taped(equation)
    with np.errstate(all="ignore"):
        values, slopes = tape.jacobian(env, [unknown])
        value = env[unknown] - values[0] / slopes[0][0]
        if np.iscomplexobj(value) or not np.isfinite(value).all():
            return None
        there = {**env, unknown: value}
        off = np.abs(tape.run(there)[0]) / np.maximum(tape.magnitudes(there)[0], 1e-300)
    return value if np.all(off < MET) else None
