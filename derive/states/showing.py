"""A state made presentable: round everyday values, with the units a reader knows them in."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from derive.records import Quantity, State
from derive.states.context import Context
from derive.states.dependence import HELD, solved_in_turn, weights
from derive.states.everyday import (
    TRIES,
    Measure,
    awkwardness,
    is_of_nature,
    measure_of,
    measure_of_sides,
    proposals,
    rounded,
    turned,
    usual_value,
)
from derive.states.evidence import weigh
from derive.states.points import apart
from derive.states.projection import MET, Cloud, Projector, System
from derive.states.setting import Setting
from derive.states.sizes import CONSTANT_SIZES, sized
from derive.terms.calculus import partial
from derive.terms.functions import Array
from derive.terms.numbers import spread
from derive.terms.tape import taped
from derive.terms.term import Term, Var, neg, var, variables
from derive.terms.world import World
from derive.terms.writing import written_var

# A state this easy to take in is shown without looking for an easier one: over slips written by hand the further ways
# to find one never came to an easier one then.
_EASY = 6.5
# A difference in the second figure is plain; for each figure later one would rather have two longer numbers.
_PLAIN_GAP = 0.1
_PLAIN_SIZE = 3.0  # figures before or after the point
_MOST_SHOWN = 12
# A state that takes longer to reach from everyday values is no everyday state.
_STEPS = 20
_SETTLED = 1e-9
_TRACE = 1e-9
_NOTHING = 1e-14


@dataclass(frozen=True, slots=True)
class _Claim:
    """What is to be shown wrong, and where."""

    setting: Setting
    left: Term
    right: Term
    sign: str
    small: frozenset[str] = frozenset()
    others: tuple[tuple[Term, Term], ...] = ()  # sides that differ there too
    about: tuple[Term, ...] = ()  # what is to be seen in the state besides

    @property
    def world(self) -> World:
        return self.setting.context.world

    @property
    def own(self) -> tuple[Var, ...]:
        return variables(*self.sides, *self.about)

    @property
    def sides(self) -> tuple[Term, ...]:
        return (self.left, self.right, *(t for pair in self.others for t in pair))


def shown_state(
    setting: Setting, left: Term, right: Term, sign: str, small: Sequence[str] = (),
    others: Sequence[tuple[Term, Term]] = (), about: Sequence[Term] = (),
) -> State | None:
    """A state of the context at which `left sign right` fails, and with it the equations of all the `others`; with
    round values where that is possible; one in which no mass is negative, if there is such a state. The names that are
    said to be small have small ones. What it is `about` is shown besides what stands in the sides."""
    context = None if setting.strict else sized(setting.context, _spoken_of(setting.context, left, right))
    contexts = [context, setting.context] if context is not None else [setting.context]
    within = (setting.within(c) for c in contexts)
    return next((found for s in within if (found := _shown(_claim(s, left, right, sign, small, others, about)))), None)


def _claim(
    setting: Setting, left: Term, right: Term, sign: str, small: Sequence[str], others: Sequence[tuple[Term, Term]],
    about: Sequence[Term],
) -> _Claim:
    to = setting.context.resolved
    pairs = tuple((to(a), to(b)) for a, b in others)
    return _Claim(setting, to(left), to(right), sign, frozenset(small), pairs, tuple(map(to, about)))


def _spoken_of(context: Context, left: Term, right: Term) -> tuple[Var, ...]:
    return variables(left, right, *(context.resolved(t) for t in (left, right, *(p.term for p in context.premises))))


def _shown(claim: _Claim) -> State | None:
    system = claim.setting.context.system(claim.sides)
    met = variables(*system.equations, *system.positive, *system.nonzero)
    unknowns = tuple(dict.fromkeys((*met, *claim.own)))
    if not unknowns:
        return _as_state({}, 0, claim, settled=True, hidden=frozenset())
    best: tuple[float, Mapping[Var, Array], int] | None = None
    for env, ok in _proposed(system, unknowns, claim):
        found = _easiest(env, ok & apart(system, Cloud(dict(env), len(ok))), claim)
        if found is not None and (best is None or found[0] < best[0]):
            best = (found[0], env, found[1])
        if best is not None and best[0] <= _EASY:
            break
    if best is None:
        return None
    hidden, settled = _settled(claim)
    return _as_state(best[1], best[2], claim, settled, hidden)


def _proposed(
    system: System, unknowns: tuple[Var, ...], claim: _Claim
) -> Iterator[tuple[dict[Var, Array], NDArray[np.bool_]]]:
    """States side by side, and which of them satisfy the context; the most presentable ways to find them first:
    everyday values with the rest solved for, the same brought near first, the states the line was judged in."""
    context = claim.setting.context
    angles = turned(*claim.sides, *system.equations)
    start = {
        v: proposals(v, k, context.prior(v), claim.world, small=v.name in claim.small, angle=v in angles)
        for k, v in enumerate(unknowns)}
    start |= {v: -np.abs(start[v]) for v in _said_negative(system)}
    if not system.equations and not system.positive:
        yield start, np.ones(TRIES, dtype=bool)
        return
    projector = Projector(system, context.prior)
    order = _solved_for(system.equations, claim.world)
    cloud = claim.setting.states.of(context, claim.sides)
    # What depends on what is seen where the equations hold: elsewhere it may look otherwise.
    on_them = cloud.size and all(v in cloud.columns for v in projector.free)
    held = weights(projector, cloud.columns if on_them else start, order)
    env, bad = projector.project(solved_in_turn(system, start, held, context.prior), held, _STEPS)
    yield env, bad < MET
    env, bad = projector.project(start, {v: _give(v, weight) for v, weight in held.items()}, _STEPS)
    yield from _with_round_values(env, bad < MET, projector, order, claim)
    every = np.ones(cloud.size, dtype=bool)
    yield from _with_round_values(cloud.columns, every, projector, order, claim)
    yield cloud.columns, every


def _said_negative(system: System) -> list[Var]:
    """`x < 0`, as in the case that a root loses."""
    return [v for t in system.positive for v in variables(t) if t is neg(var(v))]


def _give(v: Var, weight: float) -> float:
    """How far a value may be moved from where it is usual: one that can be chosen little, one of nature hardly."""
    if weight != HELD:
        return weight
    return 1e-6 if is_of_nature(v) else 1e-2


def _with_round_values(
    env: Mapping[Var, Array], ok: NDArray[np.bool_], projector: Projector, order: list[Var], claim: _Claim
) -> Iterator[tuple[dict[Var, Array], NDArray[np.bool_]]]:
    """States that are known to be near, with what can be chosen rounded and the rest solved for again."""
    kept: dict[Var, Array] = {v: a[ok][:TRIES] for v, a in env.items()}
    if not ok.any() or any(v not in kept for v in projector.free):
        return
    held = weights(projector, kept, order)
    chosen = {v: rounded(a, v, claim.world) if held.get(v, HELD) == HELD and not v.at else a for v, a in kept.items()}
    prior = claim.setting.context.prior
    again, bad = projector.project(solved_in_turn(projector.system, chosen, held, prior), held, _STEPS)
    yield again, bad < MET


def _easiest(env: Mapping[Var, Array], ok: NDArray[np.bool_], claim: _Claim) -> tuple[float, int] | None:
    """The failing state that is the easiest to take in, with how hard it is all the same."""
    count = len(ok)
    cloud = Cloud(dict(env), count)
    found = weigh(claim.left, claim.right, claim.sign, cloud)
    others = [weigh(a, b, "=", cloud).fails for a, b in claim.others]
    failing = np.flatnonzero(np.logical_and.reduce([found.fails, ok, _plain(found.left, found.right), *others]))
    if not failing.size:
        return None
    shown = {v: a for v, a in cloud.columns.items() if _worth_showing(v, claim)}
    score = awkwardness(shown, claim.own, claim.world, count) + _hidden_gap(found.left, found.right)
    best = failing[np.argmin(score[failing])]
    return float(score[best]), int(best)


def _plain(left: Array, right: Array) -> NDArray[np.bool_]:
    """Where the sides are no trace of what an iteration drove to nothing: `v (m a - k x) = 0` as v vanishes."""
    with np.errstate(all="ignore"):
        plain: NDArray[np.bool_] = ~(np.maximum(np.abs(left), np.abs(right)) < _NOTHING)
    return plain


def _hidden_gap(left: Array, right: Array) -> Array:
    """How far down in the figures the difference of the sides hides, in each state, and how far-fetched they are."""
    with np.errstate(all="ignore"):
        size = np.maximum(np.abs(left), np.abs(right))
        gap = np.where(size > 0, np.abs(left - right) / size, 1.0)
        hidden = np.where(gap > 0, 2.0 * np.maximum(0.0, np.log10(_PLAIN_GAP) - np.log10(gap)), 20.0)
        return hidden + 0.5 * np.maximum(0.0, np.abs(np.log10(np.where(size > 0, size, 1.0))) - _PLAIN_SIZE)


def _settled(claim: _Claim) -> tuple[frozenset[Var], bool]:
    """The quantities that the context leaves only one value; whether both sides are such, or a quantity in them whose
    value nobody has written down."""
    cloud = claim.setting.states.of(claim.setting.context, (claim.left, claim.right))
    if cloud.size < 2:
        return frozenset(), False
    fixed = frozenset(v for v, a in cloud.columns.items() if spread(np.abs(a)) <= _SETTLED)
    with np.errstate(all="ignore"):
        sides = [np.abs(np.broadcast_to(a, cloud.size)) for a in taped(claim.left, claim.right).run(cloud.columns)]
    found_out = [v for v in claim.own if v in fixed and not _is_given(v, claim.setting.context)]
    return fixed, bool(found_out) or all(spread(a) <= _SETTLED for a in sides)


def _is_given(v: Var, context: Context) -> bool:
    """Does a line say of a quantity alone what it is?"""
    return any(p.sign == "=" and variables(p.term) == (v,) for p in context.premises)


def _solved_for(equations: tuple[Term, ...], world: World) -> list[Var]:
    """Unknowns better solved for than chosen: derivatives, what is not declared, what is no size by its letter, what an
    equation gives at sight, and last of all what has a usual value and what cancels."""
    at_sight = {v for e in equations for v in variables(e) if partial(e, v).op == "num"}
    telling = {v for e in equations for v in variables(e) if not _cancels(v, e)}

    def reluctance(v: Var) -> tuple[bool, ...]:
        symbol = world.symbols.get(v.name)
        known = symbol is not None and symbol.declared
        usual = usual_value(v, world) is not None
        rate = v.order > 0 or v.role != "value"
        size = not known and v.name.partition("_")[0] in CONSTANT_SIZES
        return is_of_nature(v), v not in telling, usual, known and not rate, not rate, size, v not in at_sight

    return sorted(variables(*equations), key=reluctance)


def _cancels(v: Var, equation: Term) -> bool:
    """Is an unknown a factor of every term, so that the equation says nothing of it: m in `½ m v² = m g h`?"""
    parts = equation.args if equation.op == "add" else (equation,)
    return all(any(f.op == "var" and f.value == v for f in (t.args if t.op == "mul" else (t,))) for t in parts)


# --- the record ---------------------------------------------------------------------------------------------


def _as_state(
    env: Mapping[Var, Array], k: int, claim: _Claim, settled: bool, hidden: frozenset[Var]
) -> State:
    at: dict[Var, Array] = {v: a.reshape(-1)[k : k + 1] for v, a in env.items()}
    lv, rv = taped(claim.left, claim.right).run(at)
    others = [v for v in env if v not in claim.own and v not in hidden]
    told = [v for v in (*claim.own, *others) if v in at and _worth_showing(v, claim)]
    priors = (claim.setting.context.prior(v) for v in told)
    values = _without_traces(
        tuple(
            Quantity(written_var(v), _told(at[v][0], measure_of(v, claim.world)), measure_of(v, claim.world).unit)
            for v in told),
        len(claim.own), [p.lower >= 0 or p.upper <= 0 for p in priors])
    both = measure_of_sides(claim.left, claim.right, claim.world)
    left, right = _without_traces(tuple(
        Quantity(name, _told(np.ravel(value)[0], both), both.unit)
        for name, value in (("left side", lv), ("right side", rv))
    ))
    return State(values[:_MOST_SHOWN], left, right, claim.sign, settled)


def _without_traces(
    values: tuple[Quantity, ...], own: int = _MOST_SHOWN, signed: Sequence[bool] = ()
) -> tuple[Quantity, ...]:
    """What is nothing beside another value in the same unit is what an iteration left of a zero; of the root of a zero
    it leaves more, which is told only of the first ones, that the line speaks of. What has a sign is no zero: a ship's
    mass is small beside a planet's."""
    largest: dict[str, float] = {}
    for q in values:
        largest[q.unit] = max(abs(q.value), largest.get(q.unit, 0.0))
    limits = [_TRACE if k < own else math.sqrt(_TRACE) for k in range(len(values))]
    for k, has_sign in enumerate(signed):
        limits[k] = 0.0 if has_sign else limits[k]
    return tuple(
        replace(q, value=0.0) if abs(q.value) < limit * largest[q.unit] else q
        for q, limit in zip(values, limits, strict=True))


def _worth_showing(v: Var, claim: _Claim) -> bool:
    """Everything that the line speaks of; of the rest what a reader has a name for, which is every name where nobody
    has declared any."""
    if v.role not in ("value", "differential") or v.at.startswith("#"):
        return False
    if v.role == "differential":
        return v in claim.own
    if v not in claim.own and v.name in claim.world.fields.values():
        return False  # the place at which F(x) is taken, in a line that speaks of no place
    symbols = claim.world.symbols
    symbol = symbols.get(v.name)
    named = (symbol is not None and symbol.declared) or not any(s.declared for s in symbols.values())
    return v in claim.own or (named and not v.at and not v.order)


def _told(x: complex, measure: Measure) -> complex | float:
    """A value in its unit, without the last figures of an iteration: what is left of a zero is one."""
    if np.iscomplexobj(x) and abs(np.imag(x)) > 1e-12 * abs(x):
        return complex(x) / measure.scale
    value = float(np.real(x)) / measure.scale
    return 0.0 if abs(value) < 1e-15 else float(f"{value:.12g}")
