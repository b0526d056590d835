"""What declarations say of the values of an unknown: its range, its sign, the ends that belong to it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

import numpy as np

from derive.notation.tree import Expr, Name, Num, Relation, names_in
from derive.records import Signed, Symbol
from derive.terms.lowering import lower
from derive.terms.prior import Prior
from derive.terms.tape import taped
from derive.terms.term import Term, Var
from derive.terms.world import TIME, World

_ANY, _AHEAD, _COMPLEX = Prior(), Prior(0.0), Prior(complex=True)


def prior_of(v: Var, world: World) -> Prior:
    """What values an unknown may have, before any premise."""
    if v.role == "differential":
        # Only ratios of differentials matter: that of the running variable may as well be positive. (Where v is
        # varied and nothing moves, the t of `t = L/v` goes with it.)
        timely = v.name == TIME and bool(world.moving or not world.varying)
        running = timely or v.name in world.fields.values()
        return _AHEAD if running else _ANY
    if v.role == "constant":
        return _ANY
    if v.name in world.free_complex and v.order == 0:
        return _COMPLEX
    symbol = world.symbols.get(v.name)
    # A range is that of the general instant; at a named one its end may well be reached (`v(0) = 0`).
    if symbol is None or v.order or v.at or world.formal:
        return _ANY
    return _bounded_prior(symbol) if symbol.bounds else _prior_of_sign(symbol.sign, symbol.typical)


def sign_of(v: Var, world: World) -> str:
    """The declared sign of an unknown, as the prover's facts want it."""
    prior = prior_of(v, world)
    if prior.complex:
        return "complex"
    if v.role == "differential":
        return "positive" if prior.lower == 0 else "real"
    if prior.lower >= 0:
        symbol = world.symbols.get(v.name)
        return "nonnegative" if symbol and symbol.sign == "nonnegative" else "positive"
    if prior.upper <= 0:
        return "negative"
    symbol = world.symbols.get(v.name)
    return "nonzero" if symbol and symbol.sign == "nonzero" and v.order == 0 else "real"


@lru_cache(maxsize=256)  # asked for every unknown of every system
def _bounded_prior(symbol: Symbol) -> Prior:
    own = _prior_of_sign(symbol.sign, symbol.typical)
    lower, upper = own.lower, own.upper
    for relation in symbol.bounds:
        low, high = _limits(relation, symbol.name)
        lower, upper = max(lower, low), min(upper, high)
    return replace(own, lower=lower, upper=upper) if lower < upper else replace(own, lower=-np.inf, upper=np.inf)


@lru_cache(maxsize=256)
def _prior_of_sign(sign: Signed, typical: float | None) -> Prior:
    lower = 0.0 if sign in ("positive", "nonnegative") else -np.inf
    upper = 0.0 if sign in ("negative", "nonpositive") else np.inf
    return Prior(lower, upper, sign == "complex", typical)


def plain_value(e: Expr) -> float | None:
    """The number an expression without names stands for (`π/2`, `-1`, `30°`), or None."""
    if names_in(e):
        return None
    term = lower(e, World())
    if not isinstance(term, Term):
        return None
    value = taped(term).run({})[0]
    return float(value) if np.isrealobj(value) else None


def closed_ends(symbol: Symbol) -> tuple[Term, ...]:
    """The ends that belong to a declared range: 0 of `nonnegative` and of `0 ≤ θ < π/2`."""
    found: list[Expr] = [Num(Fraction(0))] if symbol.sign in ("nonnegative", "nonpositive") else []
    for relation in symbol.bounds:
        for left, sign, right in zip(relation.sides, relation.signs, relation.sides[1:], strict=False):
            if sign in "≤≥":
                found += [e for e in (left, right) if not names_in(e)]
    ends = (lower(e, World()) for e in found)
    return tuple(dict.fromkeys(t for t in ends if isinstance(t, Term)))


def _limits(relation: Relation, name: str) -> tuple[float, float]:
    lower, upper = -np.inf, np.inf
    for left, sign, right in zip(relation.sides, relation.signs, relation.sides[1:], strict=False):
        if isinstance(left, Name) and left.ident == name:
            value = plain_value(right)
            if value is not None and sign in "<≤":
                upper = min(upper, value)
            elif value is not None and sign in ">≥":
                lower = max(lower, value)
        elif isinstance(right, Name) and right.ident == name:
            value = plain_value(left)
            if value is not None and sign in "<≤":
                lower = max(lower, value)
            elif value is not None and sign in ">≥":
                upper = min(upper, value)
    return lower, upper
