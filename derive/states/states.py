"""The states of contexts, found once and kept: lines that follow do not change them.

A cloud is looked up by what determines it (premises, instants, adopted solutions, highest derivative), begun
from the last one found, and given random values for unknowns that no premise mentions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from statistics import median_high
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from derive.states.context import Context, Ground, Premise
from derive.states.points import Search, without_identities
from derive.states.projection import Cloud, Projector, System
from derive.states.pruning import pruned
from derive.terms.prior import draw
from derive.terms.term import Term, Var, postorder, var, variables

_KEPT = 160
_LAYOUTS = 40
_TELLS = 1e-8
_ROUNDING = 1e-12
Key = TypeVar("Key")
Found = TypeVar("Found")


@dataclass(slots=True)
class _Layout:
    """A context's equations by the derivative they are wanted to."""

    context: Context
    ground: Ground
    systems: dict[int, System] = field(default_factory=dict)
    asked: dict[tuple[int, tuple[Var, ...]], tuple[System, tuple[object, ...]]] = field(default_factory=dict)

    def asked_for(self, wanted: Sequence[Term]) -> tuple[System, tuple[object, ...]]:
        """What is left of the equations where some terms are wanted, and what values its unknowns may have."""
        key = self.context.order_of(wanted, self.ground), variables(*wanted)
        if key not in self.asked:
            system = pruned(self.system(key[0]), wanted, self.context.prior)
            _put(self.asked, key, (system, _priors(self.context, system)), _LAYOUTS)
        return self.asked[key]

    def system(self, order: int) -> System:
        if order not in self.systems:
            self.systems[order] = self.context.laid_out(self.ground, order)
        return self.systems[order]


@dataclass(slots=True)
class States:
    """A bounded memory of clouds, one for each distinct system of equations.

    views: the writer's contexts after a break (see carrying), by what they were made from.
    layouts: the equations of the contexts last asked for.
    links: what ties the values of evenly changing quantities (see kinematics), by the context it was found in.
    searches: the last ones made ready: where a few states are found, more are often asked for next.
    bound: what the last unknowns asked for were bound by.
    """

    kept: dict[tuple[System, tuple[int, int], str, tuple[object, ...]], Cloud] = field(default_factory=dict)
    views: dict[object, Context] = field(default_factory=dict)
    layouts: dict[object, _Layout] = field(default_factory=dict)
    links: dict[object, tuple[Premise, ...]] = field(default_factory=dict)
    searches: dict[tuple[System, str, tuple[object, ...]], Search] = field(default_factory=dict)
    bound: dict[tuple[System, str, tuple[object, ...]], Projector] = field(default_factory=dict)

    def of(
        self, context: Context, terms: Sequence[Term] = (), extra: Sequence[Premise] = (), count: int = 40,
        rounds: int = 4,
    ) -> Cloud:
        """States of a context (with `extra` premises) on which every one of `terms` can be evaluated."""
        wanted = [context.resolved(t) for t in terms]
        system, priors = self._layout(context, extra).asked_for(wanted)
        key = (system, (count, rounds), context.seed, priors)
        cloud = self.kept.get(key)
        if cloud is None:
            begin, search = self._nearest(system, context), self._search(system, priors, context)
            cloud = search.states(count, begin, rounds=rounds)
            _put(self.kept, key, cloud, _KEPT)
        return _with_unmentioned(cloud, wanted, context)

    def _search(self, system: System, priors: tuple[object, ...], context: Context) -> Search:
        key = (system, context.seed, priors)
        found = self.searches.get(key)
        if found is None:
            found = Search.of(system, context.prior, context.generator())
            _put(self.searches, key, found, _LAYOUTS)
        return found

    def _layout(self, context: Context, extra: Sequence[Premise]) -> _Layout:
        """What `Context.system` begins with, laid out once for the many terms that are asked of one context."""
        key = (context.premises, tuple(extra), context.instants, context.world)
        laid = self.layouts.get(key)
        if laid is None:
            laid = _Layout(context, context.ground(extra))
            _put(self.layouts, key, laid, _LAYOUTS)
        return laid

    def relations(self, context: Context, wanted: Sequence[Term], extra: Sequence[Premise]) -> Projector:
        """The equations that some terms are bound by, but for those that hold by themselves, in numbers."""
        system, priors = self._layout(context, extra).asked_for(wanted)
        key = (system, context.seed, priors)
        found = self.bound.get(key)
        if found is None:
            telling = without_identities(system, context.prior, context.generator())
            found = Projector(telling, context.prior)
            _put(self.bound, key, found, _LAYOUTS)
        return found

    def any(self, context: Context, extra: Sequence[Premise] = ()) -> Cloud:
        """A few states, to see whether there are any: cheaper than `of` where there are none."""
        return self.of(context, (), extra, count=12, rounds=2)

    def _nearest(self, system: System, context: Context) -> dict[Var, NDArray[np.float64]] | None:
        """Values to begin from: the last well-filled cloud of a part of the system.

        Only of a part: states of other equations may all lie where the system is degenerate, and those of a system
        with more inequalities, or of names that had a sign then, all on one side. Values that are not admissible any
        more are drawn anew.
        """
        mentioned, equations = set(variables(*system.equations)), set(system.equations)
        positive = set(system.positive)
        for key, cloud in reversed(self.kept.items()):
            part = set(key[0].equations) <= equations and set(key[0].positive) <= positive
            if cloud.size >= 10 and part and not _narrower(key[0], key[3], context):
                return {
                    v: a for v, a in cloud.columns.items()
                    if v in mentioned and np.isrealobj(a) and context.prior(v).admits(a).all()}
        return None


def _put(kept: dict[Key, Found], key: Key, found: Found, most: int) -> None:
    """Keep what was found, in place of what was put in first where there is too much."""
    if len(kept) >= most and key not in kept:
        kept.pop(next(iter(kept)))
    kept[key] = found


def _narrower(system: System, priors: tuple[object, ...], context: Context) -> bool:
    """Was some unknown of a system held to a sign or a range that it has no longer?"""
    then = zip(variables(*system.equations, *system.positive), priors, strict=True)
    return any(prior != context.prior(v) and not context.prior(v).bounded for v, prior in then)


def _priors(context: Context, system: System) -> tuple[object, ...]:
    return tuple(context.prior(v) for v in variables(*system.equations, *system.positive))


def _with_unmentioned(cloud: Cloud, wanted: Sequence[Term], context: Context) -> Cloud:
    missing = [v for v in variables(*wanted) if v not in cloud.columns]
    if not missing:
        return cloud
    columns = dict(cloud.columns)
    for v in missing:
        # Drawn apart for each name: from the generator of the states themselves an unmentioned name would get
        # the very values of a mentioned one.
        rng = context.generator(f"{v.name}{v.order}{v.at}{v.role}")
        columns[v] = draw(context.prior(v), cloud.size, rng)
    return Cloud(columns, cloud.size, cloud.residual)


def freedom(context: Context, unknowns: Sequence[Var], extra: Sequence[Premise], states: States) -> int:
    """How many of some unknowns can be varied independently on the solution set, at a typical state.

    All of them, less what the equations say of them beyond what they say of the others: the rank of the equations'
    Jacobian over that of its other columns. -1 where no state is known. Equal to len(unknowns) where the premises put
    no relation among them.
    """
    wanted = [var(v) for v in unknowns]
    cloud = states.of(context, wanted, extra)
    if not cloud.size:
        return -1
    projector = states.relations(context, wanted, extra)
    system = projector.system
    bound = [projector.free.index(v) for v in unknowns if v in projector.free]
    if not bound or not system.equations:
        return len(unknowns)
    if not cloud.columns.keys() >= set(projector.free):
        return -1  # found without some rate that an equation speaks of
    jacobians = _scaled_jacobians(projector, cloud, typical(cloud, projector.free))
    if not len(jacobians):
        return len(unknowns) - len(bound)
    ranks = _ranks(jacobians)
    telling = ranks == ranks.max()  # elsewhere some term is lost beside another, and less is said than is meant
    tied = ranks - _ranks(np.delete(jacobians, bound, axis=2))
    # On different branches of the set different unknowns may be free: what most of the states say.
    return len(unknowns) - median_high(map(int, tied[telling]))


def without_repeats(system: System, cloud: Cloud, context: Context) -> System:
    """A system without equations that say nothing beyond the shorter ones beside them."""
    shortest = sorted(system.equations, key=lambda t: sum(1 for _ in postorder(t)))
    projector = Projector(System(tuple(shortest), ()), context.prior)
    if len(shortest) < 2 or not cloud.columns.keys() >= set(projector.free):
        return system
    jacobians = _scaled_jacobians(projector, cloud, typical(cloud, projector.free))
    kept: list[int] = []
    for k in range(len(shortest) if len(jacobians) else 0):
        if 2 * (_ranks(jacobians[:, [*kept, k], :]) > len(kept)).sum() > len(jacobians):
            kept.append(k)
    told = {shortest[k] for k in kept}
    return System(tuple(t for t in system.equations if t in told), system.positive) if told else system


def typical(cloud: Cloud, unknowns: Sequence[Var], most: int = 11) -> NDArray[np.intp]:
    """The states farthest from any unknown's vanishing: where a mass is nothing, equations say less than they do."""
    sizes = [np.abs(cloud.columns[v]) for v in unknowns if v in cloud.columns]
    alive = [a / (1 + a) for a in sizes if a.any()]
    if not alive:
        return np.arange(min(most, cloud.size))
    return np.argsort(-np.min(alive, axis=0), kind="stable")[:most]


def _scaled_jacobians(projector: Projector, cloud: Cloud, pick: NDArray[np.intp]) -> NDArray[np.float64]:
    """The equations' slopes at some states, by shares of each unknown, every equation brought to the size of one."""
    env = {v: a[pick] for v, a in cloud.columns.items()}
    _, slopes = projector.tape.jacobian(env, projector.free)
    shape = (len(projector.free), len(pick))
    jac = np.real_if_close(np.array([np.broadcast_to(s, shape) for s in slopes[: projector.count]])).transpose(2, 0, 1)
    parts = [np.broadcast_to(a, len(pick)) for a in projector.tape.magnitudes(env)[: projector.count]]
    with np.errstate(all="ignore"):  # what has no finite slope is left out
        jac = jac * np.array([np.maximum(np.abs(env[v]), 1e-3) for v in projector.free]).T[:, None, :]
        jac[np.abs(jac) < _ROUNDING * np.array(parts).T[:, :, None]] = 0  # a slope of what cancels is rounding
        sizes = np.linalg.norm(jac, axis=2, keepdims=True)
        jac = jac / np.where(sizes > 0, sizes, 1)
    return jac[np.isfinite(jac).all(axis=(1, 2))]


def _ranks(jacobians: NDArray[np.float64]) -> NDArray[np.int_]:
    if not jacobians.shape[2]:
        return np.zeros(len(jacobians), dtype=int)
    return np.asarray((np.linalg.svd(jacobians, compute_uv=False) > _TELLS).sum(axis=1))
