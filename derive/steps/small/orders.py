"""How fast the two sides of an approximation come together as what is small shrinks.

Exact states are followed while the small quantities are halved, everything independent of them held. The gap
between the sides, relative to their size, then shrinks like a power; a line is right to its order when that
power exceeds what it has written down beyond its leading term.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from derive.notation.tree import Constant, Derivative, Expr, Name, Neg, Num, Power, Product, Quotient, Sum
from derive.states.context import Context
from derive.states.dependence import HELD, weights
from derive.states.projection import Cloud, Projector
from derive.states.states import States
from derive.terms.tape import taped
from derive.terms.term import Term, Var, variables

# Halvings from a tenth: far enough to see the power, not so far that rounding hides a fourth-order gap.
_SHRINK = (0.1, 0.05, 0.025, 0.0125)
_ROUNDING = 1e-12


@dataclass(frozen=True, slots=True)
class Shrinking:
    """power: of the relative gap; leading: of the sides themselves; exact: the gap is rounding only; spread: how far
    apart the powers of the terms of a sum are that one side writes out."""

    power: float
    leading: float
    exact: bool
    spread: int = 0


def shrinking(
    left: Term, right: Term, small: Sequence[str], context: Context, states: States, terms: Sequence[Term] = ()
) -> Shrinking | None:
    """The powers at which gap and sides shrink with the small names; None where states are lost on the way."""
    gaps, sizes, apart = [], [], []
    for cloud in shrunk(left, right, small, context, states, terms):
        if cloud is None:
            return None
        lv, rv, *each = (
            np.broadcast_to(np.real(a), cloud.size) for a in taped(left, right, *terms).run(cloud.columns))
        apart.append(np.abs(each))
        with np.errstate(all="ignore"):
            size = np.maximum(np.abs(lv), np.abs(rv))
            gaps.append(np.abs(lv - rv) / size)
            sizes.append(size)
    relative = np.array(gaps)
    fine = np.isfinite(relative).all(axis=0) & np.isfinite(sizes).all(axis=0)
    if fine.sum() < 4:
        return None
    relative, size = relative[:, fine], np.array(sizes)[:, fine]
    if float(np.median(relative[0])) < _ROUNDING:
        return Shrinking(np.inf, 0.0, True)
    return Shrinking(_slope(relative), _slope(size), False, _spread([row[:, fine] for row in apart]) if terms else 0)


def _spread(sizes: Sequence[NDArray[np.float64]]) -> int:
    falls = [_slope(np.array(one)) for one in zip(*sizes, strict=True)]
    seen = [f for f in falls if np.isfinite(f)]
    return round(max(seen) - min(seen)) if seen else 0


def power_of_gap(left: Term, right: Term, clouds: Sequence[Cloud]) -> float:
    """The power at which the gap between two sides shrinks over states that are known (see `shrunk`)."""
    gaps = []
    for cloud in clouds:
        lv, rv = (np.broadcast_to(np.real(a), cloud.size) for a in taped(left, right).run(cloud.columns))
        with np.errstate(all="ignore"):
            gaps.append(np.abs(lv - rv) / np.maximum(np.abs(lv), np.abs(rv)))
    relative = np.array(gaps)
    fine = np.isfinite(relative).all(axis=0)
    if fine.sum() < 4 or float(np.median(relative[0][fine])) < _ROUNDING:
        return np.inf
    return _slope(relative[:, fine])


def _slope(values: NDArray[np.float64]) -> float:
    """The typical power of two by which values fall at each halving, over the steps above rounding."""
    with np.errstate(all="ignore"):
        falls = np.log2(values[:-1] / values[1:])
        falls[(values[1:] < _ROUNDING) | ~np.isfinite(falls)] = np.nan
    if np.isnan(falls).all():
        return np.inf
    return float(np.nanmedian(falls[-1] if not np.isnan(falls[-1]).all() else falls))


def shrunk(
    left: Term, right: Term, small: Sequence[str], context: Context, states: States, also: Sequence[Term] = ()
) -> Iterator[Cloud | None]:
    """States followed while the small names are halved; None once they are lost on the way."""
    cloud = states.of(context, (left, right, *also), count=24)
    if cloud.size < 6:
        yield None
        return
    system = context.system((left, right, *also))
    projector = Projector(system, context.prior)
    shrinks = [v for v in cloud.columns if v.name in small and v.role == "value" and not v.at.startswith("#")]
    env = dict(cloud.columns)
    before = 1.0
    kept = np.ones(cloud.size, dtype=bool)
    bound = bool(projector.free and system.equations)
    preferred = _solved_for(projector.free, small, context, left, variables(left, right)) if bound else []
    for share in _SHRINK:
        here = {v: np.broadcast_to(a, cloud.size)[kept] for v, a in env.items()}
        for v in shrinks:
            env[v] = env[v] * (share / before)
        before = share
        if bound:
            # Where equations say the same twice, more unknowns look dependent beside their solutions than on them;
            # where something has vanished, fewer do.
            alive = all(np.abs(here[v][:1]).all() for v in projector.free)
            ways = [weights(projector, at, preferred) for at in ((env, here) if alive else (env,))]
            env, bad = projector.project(env, min(ways, key=lambda held: sum(w > HELD for w in held.values())))
            kept &= bad < 1e-9
            if kept.sum() < 6:
                yield None
                return
        # A state that was lost on the way is left out by having no value.
        yield Cloud({v: np.where(kept, np.broadcast_to(a, cloud.size), np.nan) for v, a in env.items()}, cloud.size)


def _solved_for(
    free: Sequence[Var], small: Sequence[str], context: Context, left: Term, own: Sequence[Var]
) -> list[Var]:
    """The quantity that the line is about first (v in `v² ≈ …`), then names defined by others and derivatives from the
    highest down, what the line speaks of after what it does not (L in `√(L² - x²)` is held, θ in x = L sin θ is not);
    a small name's own value last."""
    defined = {*context.world.definitions, *_given_outright(context)}
    about = variables(left)
    def reluctance(v: Var) -> tuple[bool, bool, bool, int, bool, bool]:
        size = context.prior(v).lower >= 0  # a mass is held rather than a speed
        return (v.name in small and not v.order, (v,) != about, v.name not in defined, -v.order, size, v in own)

    return sorted(free, key=reluctance)


def _given_outright(context: Context) -> Iterator[str]:
    """The I of `I = ½ M R²`: it shrinks along with M, and m does not."""
    for p in context.premises:
        name = p.sides[0].value if p.sides is not None and p.sign == "=" and not p.implied else None
        if isinstance(name, Var) and not name.order and not name.at:
            yield name.name


# --- what a side has written down -----------------------------------------------------------------------------


def terms_written(e: Expr) -> tuple[Expr, ...]:
    """The terms of the sum that a side writes out: `1` and `g t²/L` of `a (1 + g t²/L)`."""
    if isinstance(e, Sum):
        return e.terms
    parts = e.factors if isinstance(e, Product) else (e.num,) if isinstance(e, Quotient) else ()
    return next((found for f in parts if (found := terms_written(f))), ())


def degree(e: Expr, small: Sequence[str]) -> int:
    """The highest power of small names that a side writes out term by term.

    Functions, roots and powers of brackets are closed forms, not expansions, and count for nothing; a bracket below the
    line, as in `k/(R (1 + h/R))`, is no less written out than one beside it.
    """
    if isinstance(e, Name):
        return int(e.ident in small)
    if isinstance(e, Derivative) and isinstance(e.body, Name):
        return int(e.body.ident in small)
    if isinstance(e, Neg):
        return degree(e.arg, small)
    if isinstance(e, Sum):
        return max(degree(t, small) for t in e.terms)
    if isinstance(e, Quotient):
        below = e.den.factors if isinstance(e.den, Product) else (e.den,)
        return max(degree(e.num, small), *(degree(f, small) for f in below if isinstance(f, Sum)), 0)
    if isinstance(e, Product):
        plain = [degree(f, small) for f in e.factors if not isinstance(f, Sum | Neg)]
        brackets = [degree(f, small) for f in e.factors if isinstance(f, Sum | Neg)]
        return sum(plain) + max(brackets, default=0)
    if isinstance(e, Power) and isinstance(e.exponent, Num) and not isinstance(e.base, Constant):
        whole = e.exponent.value
        if whole.denominator == 1 and 0 < whole <= 8 and not isinstance(e.base, Sum):
            return int(whole) * degree(e.base, small)
    return 0


def small_with(names: Sequence[str], context: Context) -> tuple[str, ...]:
    """Small names together with what they are shorthand for: with ε = h/R also h."""
    out = list(names)
    for name in names:
        rest = context.world.definitions.get(name)
        if rest is not None:
            out.extend(v.name for v in _above_the_line(rest))
    return tuple(dict.fromkeys(out))


def _above_the_line(t: Term) -> tuple[Var, ...]:
    if t.op == "mul" and any(a.op == "fun" and variables(a) for a in t.args):
        return ()  # x = L sin θ is small by its angle
    if t.op == "mul":
        return tuple(v for a in t.args for v in _above_the_line(a))
    if t.op == "pow" and t.args[1].op == "num" and t.args[1].value < 0:
        return ()
    return variables(t) if t.op in ("var", "pow") else ()
